import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import type { RequestInput } from "../../analysis/request/index.js";
import { planeSite } from "../support/sites.js";
import { schemesOf } from "./support.js";

interface Row {
  slopePct: number;
  padWidthAlongContourFt: number;
  padDepthFt: number;
  daylightFromDownhillEdgeFt: number;
  cutBatter: number;
  fillBatter: number;
  vertical: { cutFt3: number; fillFt3: number; maxCutFt: number; maxFillFt: number };
  battered: { cutFt3: number; fillFt3: number };
}
// Closed forms of a level pad on an inclined plane, derived in the file and checked there by fine summation.
const { rows } = JSON.parse(
  readFileSync(new URL("../reference/inclined-plane.json", import.meta.url), "utf8"),
) as { rows: Row[] };

const LOT_FT = 400;
const MIDDLE_FT = 500;

/** The row's pad in the middle of a large lot that falls southwards. */
function siteWith(row: Row, sides: "vertical" | "battered", more: RequestInput = {}) {
  const west = LOT_FT / 2 - row.padWidthAlongContourFt / 2;
  const south = LOT_FT / 2 - row.padDepthFt / 2;
  const daylightNorth = south + row.daylightFromDownhillEdgeFt;
  const elevationFt = MIDDLE_FT + (row.slopePct / 100) * (daylightNorth - LOT_FT / 2);
  const east = west + row.padWidthAlongContourFt;
  const north = south + row.padDepthFt;
  return planeSite({
    gradePct: row.slopePct,
    widthFt: LOT_FT,
    depthFt: LOT_FT,
    spacingFt: 25,
    middleElevFt: MIDDLE_FT,
    request: {
      ...more,
      brief: {
        pads: [
          {
            name: "A",
            ring: [
              [west, south],
              [east, south],
              [east, north],
              [west, north],
            ],
            elevationFt,
            sides,
          },
        ],
      },
      rules: {
        cutBatter: row.cutBatter,
        fillBatter: row.fillBatter,
        slopeLimitPct: 60,
        maxSiteWallFt: 20,
        ...more.rules,
      },
    },
  });
}

describe("a pad drawn by the caller on an inclined plane", () => {
  for (const row of rows) {
    const name = `${row.slopePct} %, ${row.padWidthAlongContourFt} × ${row.padDepthFt} ft, daylight at ${row.daylightFromDownhillEdgeFt} ft`;
    test(`${name}: vertical sides to the closed form`, () => {
      const [pad] = schemesOf(siteWith(row, "vertical"));
      expect(pad!.id).toBe("fixed-pad-A");
      expect(pad!.kind).toBe("fixed-pad");
      expect(pad!.earthwork.bankCutYd3 * 27).toBeCloseTo(row.vertical.cutFt3, 3);
      expect(pad!.earthwork.compactedFillYd3 * 27).toBeCloseTo(row.vertical.fillFt3, 3);
      expect(pad!.earthwork.maxCutFt).toBeCloseTo(row.vertical.maxCutFt, 6);
      expect(pad!.earthwork.maxFillFt).toBeCloseTo(row.vertical.maxFillFt, 6);
    });
    test(`${name}: graded sides with rounded corners within 0.1 %`, () => {
      const [pad] = schemesOf(siteWith(row, "battered"));
      expect(Math.abs((pad!.earthwork.bankCutYd3 * 27) / row.battered.cutFt3 - 1)).toBeLessThan(0.001);
      expect(Math.abs((pad!.earthwork.compactedFillYd3 * 27) / row.battered.fillFt3 - 1)).toBeLessThan(0.001);
    });
  }

  test("nothing is searched, and each pad of the brief becomes one scheme in its order", () => {
    const site = siteWith(rows[0]!, "vertical");
    const two = {
      ...site,
      request: {
        ...site.request,
        brief: {
          ...site.request.brief,
          pads: [
            { ...site.request.brief.pads![0]!, name: "B" },
            { ...site.request.brief.pads![0]!, name: "A" },
          ],
        },
      },
    };
    const schemes = schemesOf(two);
    expect(schemes.map((s) => [s.id, s.name, s.search])).toEqual([
      ["fixed-pad-B", "B", null],
      ["fixed-pad-A", "A", null],
    ]);
  });

  test("a clockwise ring gives the same volumes", () => {
    const site = siteWith(rows[1]!, "battered");
    const [pad] = site.request.brief.pads!;
    const turned = {
      ...site,
      request: {
        ...site.request,
        brief: { ...site.request.brief, pads: [{ ...pad!, ring: [...pad!.ring].reverse() }] },
      },
    };
    expect(schemesOf(turned)[0]!.earthwork.bankCutYd3).toBeCloseTo(
      schemesOf(site)[0]!.earthwork.bankCutYd3,
      9,
    );
  });

  test("raising it by d moves fill less cut by its area times d", () => {
    const site = siteWith(rows[0]!, "vertical");
    const [pad] = site.request.brief.pads!;
    const raised = {
      ...site,
      request: {
        ...site.request,
        brief: { ...site.request.brief, pads: [{ ...pad!, elevationFt: pad!.elevationFt + 1.5 }] },
      },
    };
    const net = (s: typeof site) => {
      const { compactedFillYd3, bankCutYd3 } = schemesOf(s)[0]!.earthwork;
      return 27 * (compactedFillYd3 - bankCutYd3);
    };
    expect(net(raised) - net(site)).toBeCloseTo(1.5 * 60 * 40, 3);
  });
});

describe("a pad that breaks a rule", () => {
  const row = rows[0]!;
  test("beyond the surveyed ground it says so and counts the surveyed part", () => {
    const site = siteWith(row, "vertical");
    // half of it lies beyond the easternmost shots, 60 ft outside the lot
    const [pad] = site.request.brief.pads!;
    const edge = LOT_FT + 60;
    const ring = pad!.ring.map(([x, y]): [number, number] => [x - LOT_FT / 2 + edge, y]);
    const moved = {
      ...site,
      request: { ...site.request, brief: { ...site.request.brief, pads: [{ ...pad!, ring }] } },
    };
    const [scheme] = schemesOf(moved);
    expect(scheme!.feasible).toBe(false);
    expect(scheme!.problems.map(({ code }) => code)).toContain("unsurveyed");
    expect(scheme!.earthwork.bankCutYd3 * 27).toBeCloseTo(row.vertical.cutFt3 / 2, 3);
  });
  test("in a setback it is computed all the same", () => {
    const [scheme] = schemesOf(siteWith(row, "vertical", { rules: { setbacksFt: { all: 190 } } }));
    expect(scheme!.problems.map(({ code }) => code)).toEqual(["setback"]);
    expect(scheme!.earthwork.bankCutYd3 * 27).toBeCloseTo(row.vertical.cutFt3, 3);
  });
  test("vertical sides higher than the limit for walls are a problem", () => {
    const [scheme] = schemesOf(siteWith(row, "vertical", { rules: { maxSiteWallFt: 3 } }));
    expect(scheme!.problems.map(({ code }) => code)).toEqual(["site-wall"]);
  });
});
