/** Basement pits and stepped pads against closed forms on flat and inclined ground. */
import { describe, expect, test } from "vitest";
import { digBasement, gradeSurface, padCutFill, padWalls } from "../../analysis/earthwork/index.js";
import { areaFt2, type Ring } from "../../analysis/geometry/plane.js";
import { planeSite } from "../support/sites.js";

const plane = (gradePct: number) =>
  planeSite({ gradePct, widthFt: 300, depthFt: 300, beyondFt: 60, spacingFt: 24 }).terrain.tin;
const groundAt = (gradePct: number, north: number) => 500 + (gradePct / 100) * (north - 150);
const box = (west: number, south: number, east: number, north: number): Ring => [
  [west, south],
  [east, south],
  [east, north],
  [west, north],
];
const yd3 = (ft3: number) => ft3 / 27;

/** ∫ over a corner's quarter of the cone of a bank b:1 of edge height h, ground rising s along one of the sides: (b² h³ / 6) J₂(b·s). */
function cornerCone(b: number, h: number, s: number): number {
  const k = b * s;
  const j1 = (2 / Math.sqrt(1 - k * k)) * Math.atan(Math.sqrt((1 + k) / (1 - k)));
  return ((b * b * h ** 3) / 6) * ((k + j1) / (1 - k * k));
}

describe("a basement pit", () => {
  // bottom 40 × 50 ft, 9 ft deep on flat ground: V = L (A₁ + 4 Aₘ + A₂) / 6 with sharp corners, recomputed by hand
  test.each([
    [0.75, 889.42],
    [1, 972.67],
    [1.5, 1152.67],
  ])("with %d:1 sides and sharp corners is the prismoid of %d yd³", (temporaryBatter, wanted) => {
    const dig = digBasement(planeSite({ gradePct: 0, widthFt: 300, depthFt: 300 }).terrain.tin, {
      ring: box(100, 100, 140, 150),
      subgradeFt: 491,
      workingSpaceFt: 0,
      temporaryBatter,
      corners: "mitre",
    });
    expect(yd3(dig.digFt3)).toBeCloseTo(wanted, 2);
    expect(yd3(dig.buildingFt3)).toBeCloseTo((40 * 50 * 9) / 27, 6);
    expect(yd3(dig.backfillFt3)).toBeCloseTo(wanted - (40 * 50 * 9) / 27, 2);
    expect(dig.heightFt).toBeCloseTo(9, 6);
    expect(dig.reachFt).toBeCloseTo(9 * temporaryBatter, 6);
    expect(areaFt2([dig.outline])).toBeCloseTo((40 + 18 * temporaryBatter) * (50 + 18 * temporaryBatter), 0);
  });

  test("with working space and sharp corners is the prismoid of the larger bottom", () => {
    const dig = digBasement(planeSite({ gradePct: 0, widthFt: 300, depthFt: 300 }).terrain.tin, {
      ring: box(100, 100, 140, 150),
      subgradeFt: 491,
      workingSpaceFt: 3,
      temporaryBatter: 1,
      corners: "mitre",
    });
    const [bottom, middle, top] = [46 * 56, 55 * 65, 64 * 74];
    expect(dig.digFt3).toBeCloseTo((9 * (bottom + 4 * middle + top)) / 6, 3);
    expect(dig.reachFt).toBeCloseTo(12, 6);
  });

  // 60 ft wide along the contour, bottom half a foot below the ground at its downhill edge, 3 ft of working space;
  // height h / (1 − b·s), reach b·h / (1 − b·s) + 3 for h = the cut at the uphill edge of the working space
  test.each([
    { gradePct: 30, deep: 32, b: 1, height: 15.7, reach: 18.7, building: 376.9, noCorners: 739.8 },
    { gradePct: 30, deep: 40, b: 1.5, height: 24.4, reach: 39.5, building: 577.8, noCorners: 1424.2 },
    { gradePct: 25, deep: 40, b: 1, height: 15, reach: 18, building: 488.9, noCorners: 876.6 },
  ])(
    "into a $gradePct % hill, $deep ft deep, $b:1",
    ({ gradePct, deep, b, height, reach, building, noCorners }) => {
      const s = gradePct / 100;
      const south = 120;
      const tin = plane(gradePct);
      const dig = digBasement(tin, {
        ring: box(120, south, 180, south + deep),
        subgradeFt: groundAt(gradePct, south) - 0.5,
        workingSpaceFt: 3,
        temporaryBatter: b,
      });
      expect(dig.heightFt).toBeCloseTo(height, 0);
      expect(Math.abs(dig.reachFt / reach - 1)).toBeLessThan(0.006);
      expect(yd3(dig.buildingFt3)).toBeCloseTo(building, 1);
      // strip + uphill wedge + two sides + two rounded corners
      const h = 0.5 + s * (deep + 3);
      const strip = (66 * h * h) / (2 * s);
      const wedge = (66 * b * h * h) / (2 * (1 - b * s));
      const sides = (b * h ** 3) / (3 * s);
      const wanted = strip + wedge + sides + 2 * cornerCone(b, h, s);
      expect(Math.abs(dig.digFt3 / wanted - 1)).toBeLessThan(1e-4);
      // the same without corners and with the wedge behind the wall alone, as printed to 0.1 yd³
      const printed = strip + (60 * b * h * h) / (2 * (1 - b * s)) + sides;
      expect(yd3(printed)).toBeCloseTo(noCorners, 0);
      expect(dig.digFt3).toBeGreaterThan(printed);
    },
  );

  test("that would reach over the lot line is stopped there and said so", () => {
    const request = {
      ring: box(120, 120, 180, 160),
      subgradeFt: groundAt(30, 120) - 0.5,
      workingSpaceFt: 3,
      temporaryBatter: 1.5,
    };
    const free = digBasement(plane(30), request);
    const stopped = digBasement(plane(30), { ...request, limit: box(60, 60, 240, 175) });
    expect(free.leavesLimit).toBe(false);
    expect(stopped.leavesLimit).toBe(true);
    expect(stopped.digFt3).toBeLessThan(free.digFt3);
    expect(stopped.reachFt).toBeLessThan(free.reachFt);
  });

  test("braced instead: the face is the cut along the working space where it is deeper than 5 ft", () => {
    // 29 CFR 1926.652(a)(1): 5 ft; flat ground, so the whole face counts or none of it
    const tin = planeSite({ gradePct: 0, widthFt: 300, depthFt: 300 }).terrain.tin;
    const at = (depth: number) =>
      digBasement(tin, {
        ring: box(100, 100, 140, 150),
        subgradeFt: 500 - depth,
        workingSpaceFt: 0,
        temporaryBatter: 0,
      });
    expect(at(9).shoringFt2).toBeCloseTo(180 * 9, 6);
    expect(at(9).digFt3).toBeCloseTo(at(9).buildingFt3, 6);
    expect(at(4.9).shoringFt2).toBe(0);
  });
});

describe("pads on an inclined plane", () => {
  test("70 × 50 ft on 25 %, 2:1 banks up and down, vertical ends: 405.1 yd³ of cut and of fill", () => {
    // vertical part W s D² / 8, banks W b h² / (2 (1 − b·s)) with h = s D / 2
    const got = gradeSurface(plane(25), {
      pads: [
        { ring: box(115, 125, 185, 175), levelFt: 500, sides: ["batter", "vertical", "batter", "vertical"] },
      ],
      cutBatter: 2,
      fillBatter: 2,
    });
    expect(yd3(got.cutFt3)).toBeCloseTo(405.1, 1);
    expect(yd3(got.fillFt3)).toBeCloseTo(405.1, 1);
    expect(yd3(got.onPads.cutFt3)).toBeCloseTo(202.5, 1);
    expect(got.cutBankFt).toBeCloseTo(12.5, 6);
    const allCut = padCutFill(plane(25), box(115, 125, 185, 175), groundAt(25, 125));
    expect(yd3(allCut.cutFt3)).toBeCloseTo(810.2, 1);
    expect(allCut.maxCutFt).toBeCloseTo(12.5, 6);
  });

  test.each([1, 2, 3])("%d equal steps move one part in as many of W s D² / 8", (n) => {
    const [width, depth, s] = [60, 48, 0.2];
    const tin = plane(20);
    const pads = Array.from({ length: n }, (_, i) => {
      const south = 126 + (i * depth) / n;
      return {
        ring: box(120, south, 120 + width, south + depth / n),
        levelFt: groundAt(20, south + depth / n / 2),
        sides: "wall" as const,
      };
    });
    const got = gradeSurface(tin, { pads, cutBatter: 2, fillBatter: 2 });
    expect(got.cutFt3).toBeCloseTo((width * s * depth * depth) / 8 / n, 6);
    expect(got.fillFt3).toBeCloseTo((width * s * depth * depth) / 8 / n, 6);
    expect(got.maxCutFt).toBeCloseTo((s * depth) / (2 * n), 6);
    const between = padWalls(tin, pads, [0, -1]).filter(({ where }) => where === "between");
    expect(between).toHaveLength(n - 1);
    for (const wall of between) {
      expect(wall.retainedFt).toBeCloseTo((s * depth) / n, 6);
      expect(wall.lengthFt).toBeCloseTo(width, 6);
      expect(wall.faceFt2).toBeCloseTo((width * s * depth) / n, 6);
    }
  });

  test("two battered steps with a wall between: prisms, flanks and the outer corners alone", () => {
    const [width, depth, s, b] = [60, 40, 0.2, 1.5];
    const pad = (south: number, shared: 0 | 2) => ({
      ring: box(120, south, 120 + width, south + depth / 2),
      levelFt: groundAt(20, south + depth / 4),
      sides: [0, 1, 2, 3].map((edge) => (edge === shared ? ("wall" as const) : ("batter" as const))),
    });
    const got = gradeSurface(plane(20), { pads: [pad(130, 2), pad(150, 0)], cutBatter: b, fillBatter: b });
    const h = (s * depth) / 4;
    const vertical = 2 * ((width * s * (depth / 4) ** 2) / 2);
    const wedge = (width * b * h * h) / (2 * (1 - b * s));
    const flanks = 4 * ((b * h ** 3) / (6 * s));
    const corners = 2 * cornerCone(b, h, s);
    const wanted = vertical + wedge + flanks + corners;
    expect(Math.abs(got.cutFt3 / wanted - 1)).toBeLessThan(1e-4);
    expect(Math.abs(got.fillFt3 / wanted - 1)).toBeLessThan(1e-4);
  });
});
