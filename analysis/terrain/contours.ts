/** Contour lines traced exactly over the facets inside the lot. */
import type { Point, Ring } from "../geometry/plane.js";
import { CROSSING, OUTSIDE } from "./facets-in-lot.js";
import type { ContourMesh } from "./grid-mesh.js";
import { nextSide } from "./half-edge.js";
import type { ContourLine } from "./terrain.js";

/** A level that runs through a shot is raised by this much, so that a contour never runs along a side or through a corner. */
const NUDGE_FT = 1e-7;

interface Segments {
  /** x0, y0, x1, y1 of each piece. */
  readonly xy: number[];
  /** Half-edge (the higher of the pair) each end lies on; −1 where the lot line cut it. */
  readonly at: number[];
}

/**
 * Contours at multiples of the interval, cut at the lot line, with their total length in ft. On a facet a contour is
 * straight, so lines and lengths are exact. Unsupported facets carry none.
 */
export function traceContours(
  tin: ContourMesh,
  lot: Ring,
  place: Uint8Array,
  intervalFt: number,
): { contours: ContourLine[]; lengthFt: number } {
  const byLevel = new Map<number, Segments>();
  const { elevFt, triangles, supported } = tin;
  for (let f = 0; f < place.length; f++) {
    if (place[f] === OUTSIDE || !supported[f]) continue;
    const za = elevFt[triangles[3 * f]!]!;
    const zb = elevFt[triangles[3 * f + 1]!]!;
    const zc = elevFt[triangles[3 * f + 2]!]!;
    const last = Math.floor((Math.max(za, zb, zc) + NUDGE_FT) / intervalFt);
    for (let level = Math.ceil((Math.min(za, zb, zc) - NUDGE_FT) / intervalFt); level <= last; level++) {
      let segments = byLevel.get(level);
      if (segments === undefined) {
        segments = { xy: [], at: [] };
        byLevel.set(level, segments);
      }
      crossFacet(tin, f, level * intervalFt + NUDGE_FT, place[f] === CROSSING ? lot : null, segments);
    }
  }
  let lengthFt = 0;
  const contours: ContourLine[] = [];
  for (const level of [...byLevel.keys()].sort((a, b) => a - b)) {
    const segments = byLevel.get(level)!;
    for (let i = 0; i < segments.xy.length; i += 4)
      lengthFt += Math.hypot(
        segments.xy[i + 2]! - segments.xy[i]!,
        segments.xy[i + 3]! - segments.xy[i + 1]!,
      );
    const lines = joinSegments(segments);
    if (lines.length > 0) contours.push({ elevFt: level * intervalFt, lines });
  }
  return { contours, lengthFt };
}

/** Adds the straight piece of one level on one facet, from where the ground rises across a side to where it falls. */
function crossFacet(tin: ContourMesh, f: number, z: number, lot: Ring | null, into: Segments): void {
  const { elevFt, triangles, halfedges } = tin;
  let up = -1;
  let down = -1;
  for (let e = 3 * f; e < 3 * f + 3; e++) {
    const z0 = elevFt[triangles[e]!]!;
    const z1 = elevFt[triangles[nextSide(e)]!]!;
    if (z0 < z && z1 >= z) up = e;
    else if (z0 >= z && z1 < z) down = e;
  }
  if (up < 0 || down < 0) return;
  const [x0, y0] = crossSide(tin, up, z);
  const [x1, y1] = crossSide(tin, down, z);
  const upSide = Math.max(up, halfedges[up]!);
  const downSide = Math.max(down, halfedges[down]!);
  if (lot === null) {
    into.xy.push(x0, y0, x1, y1);
    into.at.push(upSide, downSide);
    return;
  }
  for (const [from, to] of insideParts(lot, x0, y0, x1, y1)) {
    into.xy.push(x0 + from * (x1 - x0), y0 + from * (y1 - y0), x0 + to * (x1 - x0), y0 + to * (y1 - y0));
    into.at.push(from === 0 ? upSide : -1, to === 1 ? downSide : -1);
  }
}

/** Where a side reaches a height; from its lower shot, so that both facets of the side compute the same bits. */
function crossSide({ eastFt, northFt, elevFt, triangles }: ContourMesh, e: number, z: number): Point {
  let low = triangles[e]!;
  let high = triangles[nextSide(e)]!;
  if (elevFt[high]! < elevFt[low]!) [low, high] = [high, low];
  const t = (z - elevFt[low]!) / (elevFt[high]! - elevFt[low]!);
  return [
    eastFt[low]! + t * (eastFt[high]! - eastFt[low]!),
    northFt[low]! + t * (northFt[high]! - northFt[low]!),
  ];
}

/** The stretches [t0, t1] of a segment that lie inside a ring, t from 0 to 1. */
function insideParts(ring: Ring, x0: number, y0: number, x1: number, y1: number): [number, number][] {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const cuts: number[] = [];
  let crossingsBefore = 0;
  let [px, py] = ring[ring.length - 1]!;
  let pSide = dx * (py - y0) - dy * (px - x0);
  for (const [qx, qy] of ring) {
    const qSide = dx * (qy - y0) - dy * (qx - x0);
    if (pSide > 0 !== qSide > 0) {
      const s = pSide / (pSide - qSide);
      const t = ((px + s * (qx - px) - x0) * dx + (py + s * (qy - py) - y0) * dy) / (dx * dx + dy * dy);
      if (t <= 0) crossingsBefore++;
      else if (t < 1) cuts.push(t);
    }
    px = qx;
    py = qy;
    pSide = qSide;
  }
  cuts.sort((a, b) => a - b);
  const parts: [number, number][] = [];
  let inside = crossingsBefore % 2 === 1;
  let from = 0;
  for (const t of cuts) {
    if (inside) parts.push([from, t]);
    inside = !inside;
    from = t;
  }
  if (inside) parts.push([from, 1]);
  return parts;
}

/** Joins pieces that share a facet side into lines; closed lines repeat their first point. */
function joinSegments({ xy, at }: Segments): Point[][] {
  const count = at.length / 2;
  const startingAt = new Map<number, number>();
  const ending = new Set<number>();
  for (let i = 0; i < count; i++) {
    if (at[2 * i]! >= 0) startingAt.set(at[2 * i]!, i);
    if (at[2 * i + 1]! >= 0) ending.add(at[2 * i + 1]!);
  }
  const used = new Uint8Array(count);
  const lines: Point[][] = [];
  const walk = (first: number) => {
    const line: Point[] = [[xy[4 * first]!, xy[4 * first + 1]!]];
    for (let i: number | undefined = first; i !== undefined && !used[i]; i = startingAt.get(at[2 * i + 1]!)) {
      used[i] = 1;
      line.push([xy[4 * i + 2]!, xy[4 * i + 3]!]);
    }
    lines.push(line);
  };
  // open lines from their first piece, then what is left runs round
  for (let i = 0; i < count; i++) if (!used[i] && (at[2 * i]! < 0 || !ending.has(at[2 * i]!))) walk(i);
  for (let i = 0; i < count; i++) if (!used[i]) walk(i);
  return lines;
}
