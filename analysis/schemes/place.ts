/** Where a scheme lies on the lot, and points of its own axes (u, v) there. */
import type { Point } from "../geometry/plane.js";

/** Where a layout's (0, 0) lies and which way its u axis runs (radians counter-clockwise from east). */
export interface Place {
  readonly eastFt: number;
  readonly northFt: number;
  readonly turnRad: number;
}

/** A point of a layout's own axes on the lot. */
export function onLot({ eastFt, northFt, turnRad }: Place, [u, v]: Point): Point {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return [eastFt + u * cos - v * sin, northFt + u * sin + v * cos];
}
