/** The outline of a footprint, in its own axes and on the lot. */
import type { Point, Ring } from "../geometry/plane.js";
import { boxOf, type FootprintShape, type Rect, rectArea } from "./footprints.js";
import { onLot, type Place } from "./place.js";

export function cornersOf({ u0, v0, u1, v1 }: Rect): Point[] {
  return [
    [u0, v0],
    [u1, v0],
    [u1, v1],
    [u0, v1],
  ];
}

/** The footprint on the lot, counter-clockwise. House and garage must touch along a whole side of one of them. */
export function footprintRing(place: Place, shape: FootprintShape): Ring {
  return outlineOfShape(shape).map((corner) => onLot(place, corner));
}

/** The same as x0, y0, x1, y1, …, into a buffer of its size. */
export function footprintFlat(
  { eastFt, northFt, turnRad }: Place,
  outline: readonly Point[],
  into: Float64Array,
): Float64Array {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  for (let i = 0; i < outline.length; i++) {
    const [u, v] = outline[i]!;
    into[2 * i] = eastFt + u * cos - v * sin;
    into[2 * i + 1] = northFt + u * sin + v * cos;
  }
  return into;
}

export function outlineOfShape({ house, garage }: FootprintShape): Point[] {
  return outlineOf(garage ? [house, garage] : [house]);
}

const SAME_FT = 1e-6;

/** Outline of one rectangle, or of two that touch, counter-clockwise. */
function outlineOf(rects: readonly Rect[]): Point[] {
  const [a, b] = rects;
  if (!b) return cornersOf(a!);
  const box = boxOf([a!, b]);
  if (Math.abs(rectArea(box) - rectArea(a!) - rectArea(b)) < SAME_FT * rectArea(box)) return cornersOf(box);
  // walk the corners of both, dropping those inside the other's side
  const beside = Math.abs(a!.u1 - b.u0) < SAME_FT || Math.abs(b.u1 - a!.u0) < SAME_FT;
  return beside ? outlineBeside(a!, b) : outlineBeside(turned(a!), turned(b)).map(unturned);
}

/** (u, v) → (v, −u): a quarter turn, so that parts one above the other come to lie side by side. */
function turned({ u0, v0, u1, v1 }: Rect): Rect {
  return { u0: v0, v0: -u1, u1: v1, v1: -u0 };
}

function unturned([u, v]: Point): Point {
  return [-v, u];
}

/** Outline of two rectangles side by side along u. */
function outlineBeside(a: Rect, b: Rect): Point[] {
  const [left, right] = a.u0 < b.u0 ? [a, b] : [b, a];
  const ring: Point[] = [
    [left.u0, left.v0],
    [left.u1, left.v0],
    [right.u0, right.v0],
    [right.u1, right.v0],
    [right.u1, right.v1],
    [right.u0, right.v1],
    [left.u1, left.v1],
    [left.u0, left.v1],
  ];
  const distinct = ring.filter(([u, v], i) => {
    const [nu, nv] = ring[(i + 1) % ring.length]!;
    return Math.abs(u - nu) > SAME_FT || Math.abs(v - nv) > SAME_FT;
  });
  return distinct.filter(([u, v], i) => {
    const [pu, pv] = distinct[(i + distinct.length - 1) % distinct.length]!;
    const [nu, nv] = distinct[(i + 1) % distinct.length]!;
    return Math.abs((u - pu) * (nv - v) - (v - pv) * (nu - u)) > SAME_FT;
  });
}
