/** Length of a drive inside setbacks, by hand on a rectangle. */
import { expect, test } from "vitest";
import { lengthNearFt, sideLines } from "../../analysis/findings/drive-in-setback.js";
import type { Point3, Ring } from "../../analysis/geometry/plane.js";

const lot: Ring = [
  [0, 0],
  [100, 0],
  [100, 200],
  [0, 200],
];
const edge = (role: "front" | "side" | "rear", setbackFt: number) => ({
  number: 0,
  role,
  setbackFt,
  frontage: role === "front",
});
const sides = sideLines(lot, [edge("front", 30), edge("side", 10), edge("rear", 20), edge("side", 10)]);

/** A straight centre line along x = `eastFt` from the street, a place every foot. */
const straight = (eastFt: number, lengthFt: number): Point3[] =>
  Array.from({ length: lengthFt + 1 }, (_, i) => [eastFt, i, 500]);

test("a lane 12 ft wide in the middle is in no setback but the street's", () => {
  expect(lengthNearFt(straight(50, 120), sides, 6)).toBe(0);
});

test("its edge counts: 16 ft from the side line it keeps 10 ft, 15 ft from it it does not", () => {
  expect(lengthNearFt(straight(16, 120), sides, 6)).toBe(0);
  expect(lengthNearFt(straight(15, 120), sides, 6)).toBeCloseTo(120, 9);
});

test("running on toward the rear line it enters that setback 6 ft early: from 174 ft to 190 ft are 16 ft", () => {
  expect(lengthNearFt(straight(50, 190), sides, 6)).toBeCloseTo(16, 9);
});
