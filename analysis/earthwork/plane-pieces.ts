/** Integrals of a plane over a flat polygon (x0, y0, x1, y1, …): what every volume here is a sum of. */

import { clipByHalfPlane, flatArea } from "../geometry/convex-clip.js";
import type { Box } from "../geometry/plane.js";

/** Pieces smaller than this are rounding. */
export const SLIVER_FT2 = 1e-9;

/** What lies between a plane h = a·x + b·y + c and h = 0 over a polygon. */
export class PlaneIntegral {
  areaFt2 = 0;
  /** ∫ h dA. */
  volumeFt3 = 0;
  maxHeightFt = 0;

  /** Takes the polygon as a fan of signed triangles about its first vertex, so that bridged non-convex clips come out exact. */
  over(xy: Float64Array, count: number, a: number, b: number, c: number): void {
    this.areaFt2 = 0;
    this.volumeFt3 = 0;
    this.maxHeightFt = 0;
    if (count < 3) return;
    const x0 = xy[0]!;
    const y0 = xy[1]!;
    const h0 = a * x0 + b * y0 + c;
    let max = h0;
    let px = xy[2]! - x0;
    let py = xy[3]! - y0;
    let ph = a * xy[2]! + b * xy[3]! + c;
    if (ph > max) max = ph;
    let twice = 0;
    let six = 0;
    for (let i = 2; i < count; i++) {
      const x = xy[2 * i]!;
      const y = xy[2 * i + 1]!;
      const h = a * x + b * y + c;
      const dx = x - x0;
      const dy = y - y0;
      const cross = px * dy - py * dx;
      twice += cross;
      six += cross * (h0 + ph + h);
      px = dx;
      py = dy;
      ph = h;
      if (h > max) max = h;
    }
    this.areaFt2 = twice / 2;
    this.volumeFt3 = six / 6;
    this.maxHeightFt = max;
  }
}

/** A convex or bridged polygon with the height of cut (or of fill) over it, kept for drawing. */
export interface GradedPiece {
  readonly side: "cut" | "fill";
  /** x0, y0, x1, y1, … */
  readonly xy: Float64Array;
  /** Depth of cut or height of fill, ≥ 0 on the piece: a·x + b·y + c. */
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** a·x + b·y ≥ c. */
export interface HalfPlane {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

/** Convex polygon minus the convex region that lies in all the half-planes. */
export function subtractConvex(part: Float64Array, lines: readonly HalfPlane[]): Float64Array[] {
  for (const line of lines) if (liesBeside(part, line)) return [part];
  const kept: Float64Array[] = [];
  let rest = part;
  for (const { a, b, c } of lines) {
    const count = rest.length / 2;
    const inside = new Float64Array(2 * count + 2);
    const n = clipByHalfPlane(rest, count, a, b, c, inside);
    // the region misses the polygon, or only shares a border with it: nothing is taken away
    if (n < 3 || flatArea(inside, n) < SLIVER_FT2) return [part];
    const outside = new Float64Array(2 * count + 2);
    const m = clipByHalfPlane(rest, count, -a, -b, -c, outside);
    if (m >= 3 && flatArea(outside, m) > SLIVER_FT2) kept.push(outside.slice(0, 2 * m));
    rest = inside.subarray(0, 2 * n);
  }
  return kept;
}

/** True when no corner of a flat polygon lies inside a half-plane. */
function liesBeside(xy: Float64Array, { a, b, c }: HalfPlane): boolean {
  for (let i = 0; i < xy.length; i += 2) if (a * xy[i]! + b * xy[i + 1]! > c) return false;
  return true;
}

/** True when a flat polygon's box and another overlap. */
export function boxesMeet(xy: Float64Array, box: Box): boolean {
  let west = Infinity;
  let south = Infinity;
  let east = -Infinity;
  let north = -Infinity;
  for (let i = 0; i < xy.length; i += 2) {
    if (xy[i]! < west) west = xy[i]!;
    if (xy[i]! > east) east = xy[i]!;
    if (xy[i + 1]! < south) south = xy[i + 1]!;
    if (xy[i + 1]! > north) north = xy[i + 1]!;
  }
  return west < box.maxEastFt && east > box.minEastFt && south < box.maxNorthFt && north > box.minNorthFt;
}
