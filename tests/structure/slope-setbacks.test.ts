/**
 * Steep ground beside a house: IRC R403.1.7 / IBC 1808.7 row by row, on ground made of planes. H/2 up to 15 ft and H/3 up
 * to 40 ft from memory; the 45° plane for slopes steeper than 1 in 1 from IBC 1808.7.1 and 1808.7.2.
 */
import { describe, expect, test } from "vitest";
import type { Point, Point3, Ring } from "../../analysis/geometry/plane.js";
import type { SchemeDesign } from "../../analysis/schemes/scheme.js";
import { GroundWalk } from "../../analysis/structure/ground-walk.js";
import { slopeSetbacks } from "../../analysis/structure/slope-setbacks.js";
import { elevationAt } from "../../analysis/terrain/index.js";
import { siteOf } from "../support/sites.js";

/** The uphill face of a house 40 ft wide and 30 ft deep lies on y = 0, its downhill face on y = −30; the hill rises north. */
const HOUSE: Ring = [
  [-20, -30],
  [20, -30],
  [20, 0],
  [-20, 0],
];
const design = { footprint: HOUSE, downhill: [0, -1] as Point } as SchemeDesign;

/** Ground that keeps its height from west to east, through the given (northing, height) corners. */
function ridged(corners: readonly (readonly [north: number, heightFt: number])[]) {
  const points: Point3[] = corners.flatMap(([y, z]) =>
    Array.from({ length: 17 }, (_, i): Point3 => [-80 + 10 * i, y, z]),
  );
  const south = Math.min(...corners.map(([y]) => y));
  const north = Math.max(...corners.map(([y]) => y));
  return siteOf({
    boundary: [
      [-80, south],
      [80, south],
      [80, north],
      [-80, north],
    ],
    points,
  });
}

/** Level rows of shots every 10 ft, so that no facet is long enough to count as unsurveyed. */
const level = (from: number, to: number, heightFt: number): [number, number][] => {
  const rows: [number, number][] = [];
  for (let y = from; y <= to; y += 10) rows.push([y, heightFt]);
  return rows;
};

/** Rows up a face from (y0, 0) to (y0 + run, rise), about every 10 ft. */
const face = (y0: number, run: number, rise: number): [number, number][] => {
  const parts = Math.max(1, Math.round(Math.hypot(run, rise) / 10));
  return Array.from({ length: parts - 1 }, (_, i) => [
    y0 + ((i + 1) * run) / parts,
    ((i + 1) * rise) / parts,
  ]);
};

/** A slope that begins `apart` ft above the house. */
const above = (apart: number, run: number, rise: number) =>
  slopeSetbacks(
    ridged([
      ...level(-60, apart - 1, 0),
      [apart, 0],
      ...face(apart, run, rise),
      ...level(apart + run, apart + run + 60, rise),
    ]),
    design,
  );

/** The same slope falling away below the house. */
const below = (apart: number, run: number, drop: number) =>
  slopeSetbacks(
    ridged(
      [
        ...level(-60, apart - 1, 0),
        [apart, 0] as const,
        ...face(apart, run, drop),
        ...level(apart + run, apart + run + 60, drop),
      ].map(([y, z]): [number, number] => [-30 - y, -z]),
    ),
    design,
  );

/** Shots are rows of a few feet, looked at every foot. */
const ROUNDING_FT = 1.01;

describe("slopes between 1 in 3 and 1 in 1 are measured to their own toe or top", () => {
  test.each([
    // H, asked below it (H/2 ≤ 15), asked above it (H/3 ≤ 40)
    [9, 4.5, 3],
    [20, 10, 20 / 3],
    [30, 15, 10],
    [45, 15, 15],
  ])("a slope %d ft high asks %f ft below it and %f ft above it", (height, ascendingFt, descendingFt) => {
    const [up] = above(20, 2 * height, height);
    expect(up).toMatchObject({ direction: "ascending", met: true });
    expect(Math.abs(up!.slopeHeightFt - height)).toBeLessThan(ROUNDING_FT);
    expect(Math.abs(up!.requiredFt - ascendingFt)).toBeLessThan(ROUNDING_FT);
    expect(Math.abs(up!.availableFt - 20)).toBeLessThan(ROUNDING_FT);
    const [down] = below(20, 2 * height, height);
    expect(down).toMatchObject({ direction: "descending", met: true });
    expect(Math.abs(down!.requiredFt - descendingFt)).toBeLessThan(ROUNDING_FT);
    expect(Math.abs(down!.availableFt - 20)).toBeLessThan(ROUNDING_FT);
  });

  test("a foot inside the distance asked for is not met, a foot beyond it is", () => {
    // 30 ft high at 1 in 2: 15 ft below it, 10 ft above it
    expect(above(13, 60, 30)[0]!.met).toBe(false);
    expect(above(17, 60, 30)[0]!.met).toBe(true);
    expect(below(8, 60, 30)[0]!.met).toBe(false);
    expect(below(12, 60, 30)[0]!.met).toBe(true);
  });

  test("ground at 1 in 3 or flatter, and faces lower than 5 ft, ask for nothing", () => {
    expect(above(10, 60, 19.8)).toEqual([]);
    expect(below(10, 60, 19.8)).toEqual([]);
    expect(above(10, 6, 4.5)).toEqual([]);
  });
});

describe("slopes steeper than 1 in 1 are measured to a plane of 45°, and the larger distance governs", () => {
  test.each([
    // run, rise, apart: the plane meets the house's level (rise − run) nearer than the slope's own end
    [10, 20, 40, 30],
    [10, 30, 40, 20],
    [1, 25, 40, 16],
    [20, 20, 40, 40],
  ])("run %d, rise %d, %d ft away: counted as %d ft", (run, rise, apart, counted) => {
    for (const slopes of [above(apart, run, rise), below(apart, run, rise)]) {
      expect(slopes).toHaveLength(1);
      expect(Math.abs(slopes[0]!.availableFt - counted)).toBeLessThan(2 * ROUNDING_FT);
    }
  });

  test("a gentle foot below a cliff: the cliff's plane governs where it comes nearer than the foot", () => {
    // 1 in 2 for 20 ft from y = 30, then 30 ft up within 2 ft: the plane through the top meets level ground at 52 − 40 = 12 ft
    const rows = [
      ...level(-60, 20, 0),
      [30, 0],
      [40, 5],
      [50, 10],
      [51, 25],
      [52, 40],
      ...level(62, 112, 40),
    ] as [number, number][];
    const [up] = slopeSetbacks(ridged(rows), design);
    expect(Math.abs(up!.slopeHeightFt - 40)).toBeLessThan(ROUNDING_FT);
    expect(up!.requiredFt).toBe(15);
    expect(Math.abs(up!.availableFt - 12)).toBeLessThan(2 * ROUNDING_FT);
    expect(up!.met).toBe(false);
  });

  test("a low bank near the house does not hide the high slope behind it", () => {
    // a bank 5.2 ft high from y = 3 asks 2.6 ft and has 3; 40 ft at 1 in 2 from y = 14 asks 15 ft
    const rows = [
      ...level(-60, 0, 0),
      [3, 0],
      [8.2, 5.2],
      [14, 5.2],
      ...face(14, 80, 40).map(([y, z]) => [y, z + 5.2]),
      ...level(94, 134, 45.2),
    ] as [number, number][];
    const [up] = slopeSetbacks(ridged(rows), design);
    expect(Math.abs(up!.slopeHeightFt - 40)).toBeLessThan(2 * ROUNDING_FT);
    expect(Math.abs(up!.availableFt - 14)).toBeLessThan(ROUNDING_FT);
    expect(up!.met).toBe(false);
  });
});

test("the ground walked facet by facet is the ground of the facets", () => {
  const site = ridged([...level(-60, 20, 0), [30, 4], [40, 9], [50, 10], [60, 31], [70, 33]]);
  const walk = new GroundWalk(site.terrain.tin);
  for (let i = 0; i < 4000; i++) {
    // a spiral over and beyond the survey
    const at: Point = [0.03 * i * Math.cos(0.07 * i), 0.03 * i * Math.sin(0.07 * i)];
    const known = elevationAt(site.terrain.tin, at[0], at[1]);
    const walked = walk.heightAt(at);
    if (Number.isNaN(known)) expect(walked).toBeNaN();
    else expect(walked).toBeCloseTo(known, 9);
  }
});
