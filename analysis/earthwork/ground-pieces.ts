/** The ground under a polygon, cut along facet sides into flat pieces. Method: docs/methods/earthwork.md */
import { flatArea, flatten, TriangleClipper } from "../geometry/convex-clip.js";
import type { Ring } from "../geometry/plane.js";
import { boxOf } from "../geometry/plane.js";
import { facetsInBox } from "../terrain/index.js";
import type { Tin } from "../terrain/terrain.js";
import { SLIVER_FT2 } from "./plane-pieces.js";

/** Flat pieces of ground: piece i is vertices start[i] to start[i + 1], on one facet. */
export interface GroundPieces {
  readonly x: number[];
  readonly y: number[];
  /** Ground height. */
  readonly z: number[];
  readonly start: number[];
  readonly facet: number[];
}

/** The surveyed ground under a counter-clockwise ring, facet by facet; pieces of inward-cornered rings are bridged. */
export function clipGround(tin: Tin, ring: Ring): GroundPieces {
  const pieces: GroundPieces = { x: [], y: [], z: [], start: [0], facet: [] };
  const { eastFt, northFt, elevFt, triangles, gradEast, gradNorth, supported } = tin;
  const flat = flatten(ring);
  const box = boxOf(ring);
  const clipper = new TriangleClipper();
  facetsInBox(tin, box.minEastFt, box.minNorthFt, box.maxEastFt, box.maxNorthFt, (f) => {
    if (!supported[f]) return;
    const a = triangles[3 * f]!;
    const b = triangles[3 * f + 1]!;
    const c = triangles[3 * f + 2]!;
    const ax = eastFt[a]!;
    const ay = northFt[a]!;
    const bx = eastFt[b]!;
    const by = northFt[b]!;
    const cx = eastFt[c]!;
    const cy = northFt[c]!;
    if (Math.max(ax, bx, cx) <= box.minEastFt || Math.min(ax, bx, cx) >= box.maxEastFt) return;
    if (Math.max(ay, by, cy) <= box.minNorthFt || Math.min(ay, by, cy) >= box.maxNorthFt) return;
    const count = clipper.clip(flat, ring.length, ax, ay, bx, by, cx, cy);
    if (count < 3) return;
    const { xy } = clipper;
    if (!(flatArea(xy, count) > SLIVER_FT2)) return;
    for (let k = 0; k < count; k++) {
      pieces.x.push(xy[2 * k]!);
      pieces.y.push(xy[2 * k + 1]!);
      pieces.z.push(elevFt[a]! + gradEast[f]! * (xy[2 * k]! - ax) + gradNorth[f]! * (xy[2 * k + 1]! - ay));
    }
    pieces.start.push(pieces.x.length);
    pieces.facet.push(f);
  });
  return pieces;
}

/** Steepness of pieces by area: mean, and the steepness that 90 % of the area stays below or at. */
export function slopesOf(
  { gradEast, gradNorth }: Tin,
  facets: ArrayLike<number>,
  areaFt2: Float64Array,
): [meanPct: number, p90Pct: number] {
  const slopes = Array.from(facets, (f, i) => ({
    pct: 100 * Math.hypot(gradEast[f]!, gradNorth[f]!),
    area: areaFt2[i]!,
  })).sort((p, q) => p.pct - q.pct);
  const all = slopes.reduce((sum, { area }) => sum + area, 0);
  const mean = slopes.reduce((sum, { pct, area }) => sum + pct * area, 0) / all;
  let seen = 0;
  for (const { pct, area } of slopes) {
    seen += area;
    if (seen >= 0.9 * all - SLIVER_FT2) return [mean, pct];
  }
  return [mean, Number.NaN];
}
