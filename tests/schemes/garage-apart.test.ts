/** A garage of its own where the one at the house is out of reach: geometry and money that must hold whatever is chosen. */
import { describe, expect, test } from "vitest";
import { layDriveway, surveyReach } from "../../analysis/access/index.js";
import { unionOf } from "../../analysis/geometry/clip.js";
import { areaFt2, distanceToRingFt, polygonsContain } from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/index.js";
import { asDraft } from "../../analysis/schemes/draft.js";
import { walkAsDriveFt2 } from "../../analysis/schemes/garage-apart.js";
import { proposeSchemes, settleGarages } from "../../analysis/schemes/index.js";
import { formulaSite, planeSite } from "../support/sites.js";
import { PRICES } from "./support.js";

function settled(site: Site) {
  const reach = surveyReach(site);
  const designs = proposeSchemes(site, { reach, prices: PRICES });
  const reached = designs.map((design) => ({
    draft: asDraft(design),
    access: layDriveway(site, reach, design),
  }));
  return settleGarages(site, { reach, prices: PRICES }, reached);
}

/** A spur that rises away from the street and falls off to both sides: houses stand high, the street lies low. */
const spur = formulaSite((x, y) => 500 + 0.25 * y - (x - 104) ** 2 / 500, {
  request: {
    access: { frontage: [0] },
    rules: { slopeLimitPct: 45, setbacksFt: { front: 20, side: 8, rear: 20 } },
  },
});
const onSpur = settled(spur);
const apart = onSpur.filter(({ design }) => design.garage === "detached");

describe("on a spur above the street", () => {
  test("a garage near the street is chosen for some way to build, and a car reaches it", () => {
    expect(apart.length).toBeGreaterThan(0);
    for (const { access } of apart) expect(access.reachable).toBe(true);
  });

  test.each(apart.map(({ design, access }) => [design.kind, design, access] as const))(
    "%s: the garage stands on buildable ground, away from the house, its door on its edge at its floor",
    (_, design, access) => {
      const [garage, ...more] = design.levels.filter((l) => l.role === "garage");
      expect(more).toEqual([]);
      for (const corner of garage!.ring) {
        expect(polygonsContain(spur.lot.buildablePolygons, corner)).toBe(true);
        expect(distanceToRingFt(design.footprint, corner)).toBeGreaterThan(4);
      }
      // 22 × 22 ft for two cars: common practice, no source
      expect(areaFt2([[garage!.ring]])).toBeCloseTo(22 * 22, 6);
      expect(distanceToRingFt(garage!.ring, design.garageAt)).toBeLessThan(1e-6);
      expect(design.garageFloorFt).toBe(garage!.floorElevationFt);
      const rings = design.levels.filter((l) => l.role !== "basement").map((l) => l.ring);
      const sum = rings.reduce((total, ring) => total + areaFt2([[ring]]), 0);
      expect(areaFt2(unionOf(rings)) / sum).toBeCloseTo(1, 4);
      if (!access.reachable) return;
      // the lane ends at that door and floor, and climbs no steeper than the rule on the way
      expect(access.driveway.garageFloorFt).toBe(design.garageFloorFt);
      expect(access.driveway.maxGradePct).toBeLessThanOrEqual(15.05);
      // risers of at most 7¾ in (IRC R311.7.5.1) make up the height to the nearest floor of the house
      const floors = design.levels.filter((l) => l.role !== "garage").map((l) => l.floorElevationFt);
      const rise = Math.min(...floors.map((z) => Math.abs(z - design.garageFloorFt)));
      expect(access.driveway.stairsRiseFt).toBeCloseTo(rise, 9);
      expect((12 * rise) / Math.max(1, access.driveway.stairsCount)).toBeLessThanOrEqual(7.75 + 1e-6);
    },
  );

  test("a way to build fits only where a car comes to its garage, and says so where none does", () => {
    // a house at least 90 ft below the street on 25 %: 22 ft down, where 5 % asks for 450 ft of lane and 60 ft turns find no room
    const narrow = planeSite({
      gradePct: 25,
      widthFt: 70,
      depthFt: 300,
      request: {
        access: { frontage: [2] },
        rules: {
          setbacksFt: { front: 90, side: 5, rear: 20 },
          driveway: { maxGradePct: 5, minInsideRadiusFt: 60 },
        },
      },
    });
    const onNarrow = settled(narrow);
    expect(onNarrow.some(({ access }) => !access.reachable)).toBe(true);
    for (const { design, access } of [...onSpur, ...onNarrow]) {
      const codes = design.problems.map(({ code }) => code);
      expect(codes.includes("no-drive")).toBe(!access.reachable);
      // walls are told in tenths of a foot; 6 ft is allowed where the request names no limit
      const overFt = access.reachable ? access.driveway.wallMaxFt - 6 : 0;
      expect(codes.includes("drive-wall")).toBe(overFt > 0.05);
      expect(design.feasible).toBe(design.problems.length === 0);
    }
  });

  test("what was tried is told, and the one chosen costs less by what is said", () => {
    for (const { design } of apart) {
      const [attached, detached] = design.garageChoice!.tried;
      expect(attached!.garage).toBe("attached");
      expect(detached!.reachable).toBe(true);
      if (attached!.siteUsd !== null)
        expect(design.garageChoice!.savesUsd).toBeCloseTo(attached!.siteUsd - detached!.siteUsd!, 6);
      expect(attached!.because.length * detached!.because.length).toBeGreaterThan(0);
    }
  });

  test("it breaks no rule that the scheme kept with its garage", () => {
    const reach = surveyReach(spur);
    const before = proposeSchemes(spur, { reach, prices: PRICES });
    for (const { design } of onSpur) {
      const codes = before.find((b) => b.id === design.id)!.problems.map((p) => p.code);
      for (const { code } of design.problems.filter((p) => !/^(no-drive|drive-wall)$/.test(p.code)))
        expect(codes).toContain(code);
    }
  });
});

test("where the drive to the house is short and cheap nothing else is tried", () => {
  const site = planeSite({ gradePct: 8, request: { access: { frontage: [0] } } });
  for (const { design, access } of settled(site)) {
    if (!access.reachable || access.driveway.lengthFt > 120 || access.driveway.wallFaceFt2 > 50) continue;
    expect(design.garage).toBe("attached");
    expect(design.garageChoice ?? null).toBeNull();
  }
});

test("without cars or without a street there is no garage to move", () => {
  const none = settled(
    planeSite({ gradePct: 20, request: { access: { frontage: [0] }, brief: { garageCars: 0 } } }),
  );
  expect(none.every(({ design }) => design.garage === "none")).toBe(true);
});

test("a level walk is paved 4 ft wide, stairs count four times (common practice, no source; from memory)", () => {
  expect(walkAsDriveFt2(30, 0)).toBe(120);
  // 5 ft up: 8 risers of 7½ in, 7 treads of 11 in = 6.4167 ft of stairs
  expect(walkAsDriveFt2(30, 5)).toBeCloseTo(4 * (30 - 77 / 12 + (4 * 77) / 12), 9);
});
