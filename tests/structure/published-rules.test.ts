/** Published numbers of the International Residential Code and of 29 CFR 1926; distances of R403.1.7 from memory. */
import { describe, expect, test } from "vitest";
import { inUsUnits } from "../../analysis/measure.js";
import { protectionWords } from "../../analysis/structure/basement.js";
import { pierConcreteYd3, trucksForPour } from "../../analysis/structure/foundation.js";
import {
  leastOpeningHeightIn,
  type WallSample,
  waysOut,
  wellDepthFt,
} from "../../analysis/structure/light-wells.js";
import { pierLayout } from "../../analysis/structure/pier-layout.js";
import { ascendingSetbackFt, descendingSetbackFt } from "../../analysis/structure/slope-setbacks.js";

// IRC R403.1.7, figure values from memory: H/2 up to 15 ft, H/3 up to 40 ft.
test.each([
  [9, 4.5, 3],
  [20, 10, 20 / 3],
  [30, 15, 10],
  [45, 15, 15],
  [120, 15, 40],
  [150, 15, 40],
])("a slope %d ft high asks %f ft below it and %f ft above it", (heightFt, ascendingFt, descendingFt) => {
  expect(ascendingSetbackFt(heightFt)).toBeCloseTo(ascendingFt, 9);
  expect(descendingSetbackFt(heightFt)).toBeCloseTo(descendingFt, 9);
});

describe("ways out of a bedroom below ground (IRC R310)", () => {
  test("meeting the least width and the least height together does not meet the clear area", () => {
    // 20 × 24 in is 3.33 ft²: at the least width 41.04 in of height are needed, at the least height 34.2 in of width
    expect(leastOpeningHeightIn(20)).toBeCloseTo(41.04, 9);
    expect(leastOpeningHeightIn(34.2)).toBeCloseTo(24, 9);
    expect(leastOpeningHeightIn(48)).toBe(24);
    expect(leastOpeningHeightIn(19.9)).toBeNull();
  });

  const wall = (earthFt: number, x0: number, lengthFt: number): WallSample[] =>
    Array.from({ length: lengthFt / 2 }, (_, i) => ({
      at: [x0 + 2 * i, 0],
      outward: [0, 1],
      side: "uphill",
      earthFt,
      lengthFt: 2,
    }));

  test("bedrooms take the open wall first, the rest get a well each with a ladder when deeper than 44 in", () => {
    const ways = waysOut([...wall(0, 0, 24), ...wall(9, 100, 60)], 4);
    expect(ways.bedroomsOnOpenWall).toBe(2);
    expect(ways.lightWells).toBe(2);
    expect(ways.wells.every((w) => w.ladder && w.depthFt === wellDepthFt(9))).toBe(true);
  });

  test("bedrooms that find no wall are told, not said to have one", () => {
    const open = waysOut(wall(0, 0, 100), 20);
    expect([open.bedroomsOnOpenWall, open.lightWells]).toEqual([8, 0]);
    expect(inUsUnits(open.ifBedroomMoves)).toMatch(/room for the ways out of 8 of 20 bedrooms, at 12 ft/);
    const buried = waysOut(wall(9, 0, 40), 6);
    expect(buried.lightWells).toBeLessThan(6);
    expect(buried.ifBedroomMoves).toContain(`of ${buried.lightWells} of 6 bedrooms`);
    expect(waysOut(wall(0, 0, 100), 2).ifBedroomMoves).toMatch(/^Each has an open wall/);
  });

  test("a shallow well needs no ladder, and no bedroom needs no well", () => {
    expect(waysOut(wall(6, 0, 40), 1).wells[0]?.ladder).toBe(false);
    expect(waysOut(wall(9, 0, 40), 0).lightWells).toBe(0);
  });
});

test("worker protection begins at 5 ft and an engineer above 20 ft (29 CFR 1926.652)", () => {
  expect(protectionWords(4.9)).not.toMatch(/sloped back/);
  expect(protectionWords(5)).toMatch(/sloped back, benched or braced/);
  expect(protectionWords(20.1)).toMatch(/registered engineer/);
});

describe("piers", () => {
  // closed form: 18 in × 16 ft is 28.274 ft³ = 1.0472 yd³; 10 % overbreak is common practice, no source
  test("concrete of a round hole", () => {
    expect(pierConcreteYd3(1, 18, 16)).toBeCloseTo(((Math.PI * 0.75 ** 2 * 16) / 27) * 1.1, 9);
    expect(pierConcreteYd3(1, 18, 16)).toBeCloseTo(1.15, 2);
  });

  test("a 60 × 40 ft house: lines at most 16 ft apart, piers at most 8 ft, one at each corner and crossing", () => {
    const { piers, beamFt } = pierLayout(
      [
        [0, 0],
        [60, 0],
        [60, 40],
        [0, 40],
      ],
      90,
    );
    expect(beamFt).toBeCloseTo(4 * 60 + 5 * 40, 6);
    for (const corner of [
      [0, 0],
      [60, 0],
      [60, 40],
      [0, 40],
    ] as const)
      expect(Math.min(...piers.map((p) => Math.hypot(p[0] - corner[0], p[1] - corner[1])))).toBeLessThan(
        1e-6,
      );
    // common practice, no source: about 44 to 56 piers for such a house on a full grid
    expect(piers.length).toBeGreaterThanOrEqual(44);
    expect(piers.length).toBeLessThanOrEqual(56);
  });

  test("an L-shaped house has no pier outside it", () => {
    const ring = [
      [0, 0],
      [60, 0],
      [60, 20],
      [30, 20],
      [30, 40],
      [0, 40],
    ] as const;
    const { piers, beamFt } = pierLayout(ring, 90);
    expect(piers.every(([x, y]) => !(x > 30.3 && y > 20.3))).toBe(true);
    expect(beamFt).toBeGreaterThan(200);
  });

  test("the first and the last truck of a pour come short (common practice, no source)", () => {
    expect(trucksForPour(0)).toBe(0);
    expect(trucksForPour(7.5)).toBe(2);
    expect(trucksForPour(16)).toBe(4);
  });
});
