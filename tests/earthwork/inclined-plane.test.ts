/** Pads on an inclined plane against closed forms (tests/reference/inclined-plane.json and synthetic.json; derivation in their notes). */
import { describe, expect, test } from "vitest";
import { balanceEarth, catchMultiplier, gradeSurface, padCutFill } from "../../analysis/earthwork/index.js";
import type { Ring } from "../../analysis/geometry/plane.js";
import { understandRequest } from "../../analysis/request/index.js";
import { referenceValues } from "../support/reference-lots.js";
import { planeSite } from "../support/sites.js";

interface Row {
  slopePct: number;
  padWidthAlongContourFt: number;
  padDepthFt: number;
  daylightFromDownhillEdgeFt: number;
  cutBatter: number;
  fillBatter: number;
  vertical: { cutFt3: number; fillFt3: number; maxCutFt: number; maxFillFt: number };
  battered: {
    cutFt3: number;
    fillFt3: number;
    cutReachesBeyondPadFt: number;
    fillReachesBeyondPadFt: number;
  };
}
const { rows } = referenceValues<{ rows: Row[] }>("inclined-plane.json");

interface Side {
  total_cone_cuft: number;
  total_mitre_cuft: number;
  daylight_distance_ft: number;
}
interface PlanePad {
  slope_pct: number;
  L: number;
  W: number;
  balance_line_from_downhill_edge: number;
  cut_batter: number;
  fill_batter: number;
  vertical: { cut_cuft: number; fill_cuft: number };
  cut: Side;
  fill: Side;
}
const { plane_pad } = referenceValues<{ plane_pad: PlanePad[] }>("synthetic.json");

/** Ground falls to the south by `slopePct`; the pad's downhill edge lies at north 0. Shots 25 ft apart. */
function planeTin(slopePct: number) {
  return planeSite({ gradePct: slopePct, widthFt: 300, depthFt: 300, beyondFt: 100, spacingFt: 25 }).terrain
    .tin;
}
const groundAt = (slopePct: number, north: number) => 500 + (slopePct / 100) * (north - 150);

function pad(width: number, depth: number): Ring {
  return [
    [150 - width / 2, 130],
    [150 + width / 2, 130],
    [150 + width / 2, 130 + depth],
    [150 - width / 2, 130 + depth],
  ];
}

/** Largest relative difference allowed: facets make the plane exact, wedges make corners good to this. */
const BATTERED = 2e-4;

describe("a level pad on an inclined plane", () => {
  for (const row of rows) {
    const name = `${row.padWidthAlongContourFt} × ${row.padDepthFt} ft on ${row.slopePct} %, zero line at ${row.daylightFromDownhillEdgeFt} ft, ${row.cutBatter}:1 and ${row.fillBatter}:1`;
    const level = groundAt(row.slopePct, 130 + row.daylightFromDownhillEdgeFt);
    const ring = pad(row.padWidthAlongContourFt, row.padDepthFt);
    test(`vertical sides: ${name}`, () => {
      const got = padCutFill(planeTin(row.slopePct), ring, level);
      expect(got.cutFt3 / row.vertical.cutFt3).toBeCloseTo(1, 9);
      expect(got.fillFt3 / row.vertical.fillFt3).toBeCloseTo(1, 9);
      expect(got.maxCutFt).toBeCloseTo(row.vertical.maxCutFt, 6);
      expect(got.maxFillFt).toBeCloseTo(row.vertical.maxFillFt, 6);
    });
    test(`battered, rounded corners: ${name}`, () => {
      const { cutBatter, fillBatter } = row;
      const got = gradeSurface(planeTin(row.slopePct), {
        pads: [{ ring, levelFt: level }],
        cutBatter,
        fillBatter,
      });
      expect(Math.abs(got.cutFt3 / row.battered.cutFt3 - 1)).toBeLessThan(BATTERED);
      expect(Math.abs(got.fillFt3 / row.battered.fillFt3 - 1)).toBeLessThan(BATTERED);
      expect(Math.abs(got.cutFt3 - row.battered.cutFt3)).toBeLessThan(got.errorFt3 + 0.001);
      expect(Math.abs(got.cutReachFt / row.battered.cutReachesBeyondPadFt - 1)).toBeLessThan(0.01);
      expect(Math.abs(got.fillReachFt / row.battered.fillReachesBeyondPadFt - 1)).toBeLessThan(0.01);
      expect(got.leavesSurvey).toBe(false);
    });
  }
  for (const row of plane_pad) {
    test(`published set: ${row.L} × ${row.W} ft on ${row.slope_pct} %, ${row.cut_batter}:1, ${row.fill_batter}:1, zero line ${row.balance_line_from_downhill_edge} ft, both corner models`, () => {
      const tin = planeTin(row.slope_pct);
      const levelFt = groundAt(row.slope_pct, 130 + row.balance_line_from_downhill_edge);
      const ring = pad(row.L, row.W);
      const batters = { cutBatter: row.cut_batter, fillBatter: row.fill_batter };
      const round = gradeSurface(tin, { pads: [{ ring, levelFt }], ...batters });
      const mitre = gradeSurface(tin, { pads: [{ ring, levelFt }], ...batters, corners: "mitre" });
      expect(Math.abs(round.cutFt3 / row.cut.total_cone_cuft - 1)).toBeLessThan(BATTERED);
      expect(Math.abs(round.fillFt3 / row.fill.total_cone_cuft - 1)).toBeLessThan(BATTERED);
      expect(Math.abs(mitre.cutFt3 / row.cut.total_mitre_cuft - 1)).toBeLessThan(1e-8);
      expect(Math.abs(mitre.fillFt3 / row.fill.total_mitre_cuft - 1)).toBeLessThan(1e-8);
    });
  }
  // 1 / (1 − b·s) for cut or fill against the slope, arithmetic of two straight lines
  test.each([
    [1.5, 0.2, 1.43],
    [1.5, 0.25, 1.6],
    [1.5, 0.3, 1.82],
    [1.5, 0.4, 2.5],
    [1.5, 0.5, 4],
    [2, 0.2, 1.67],
    [2, 0.25, 2],
    [2, 0.3, 2.5],
    [2, 0.45, 10],
  ])("a %d:1 bank on a slope of %d meets the ground at %d times its height", (batter, slope, times) => {
    expect(catchMultiplier(batter, slope)).toBeCloseTo(times, 2);
  });
  test.each([
    [2, 0.5],
    [2, 0.6],
    [1.5, 0.7],
  ])("a %d:1 bank on a slope of %d never meets the ground", (batter, slope) => {
    expect(catchMultiplier(batter, slope)).toBeNull();
  });
});

test("the worked example of docs/methods/earthwork.md: 165.7 yd³ each way, 23.0 loose yd³ come in by two loads", () => {
  const { soil, haul } = understandRequest({}).request;
  const got = gradeSurface(planeTin(20), {
    pads: [{ ring: pad(60, 40), levelFt: groundAt(20, 150) }],
    cutBatter: 2,
    fillBatter: 2,
  });
  expect(got.cutFt3 / 27).toBeCloseTo(165.7, 1);
  const moved = balanceEarth({ bankCutFt3: got.cutFt3, compactedFillFt3: got.fillFt3 }, soil, haul);
  expect(moved.looseExportYd3).toBe(0);
  expect(moved.looseImportYd3).toBeCloseTo(23, 1);
  expect(moved.truckloads).toBe(2);
});
