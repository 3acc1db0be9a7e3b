/** Facets against the lot line: which lie inside, which cross it, and how much of each is in the lot. */
import { flatArea, flatten, TriangleClipper } from "../geometry/convex-clip.js";
import { type Ring, ringContains } from "../geometry/plane.js";
import { facetsInBox } from "./facet-index.js";
import type { Tin } from "./terrain.js";

type Facets = Pick<Tin, "eastFt" | "northFt" | "triangles" | "halfedges" | "index">;

export const OUTSIDE = 0;
const INSIDE = 1;
export const CROSSING = 2;

/** OUTSIDE, INSIDE or CROSSING for each facet; a crossing facet may in truth lie a hair inside or outside. */
export function placeFacets(tin: Facets, lot: Ring): Uint8Array {
  const facetCount = tin.triangles.length / 3;
  const place = new Uint8Array(facetCount).fill(255);
  const { cellFt } = tin.index;
  for (let i = 0; i < lot.length; i++) {
    const [ax, ay] = lot[i]!;
    const [bx, by] = lot[(i + 1) % lot.length]!;
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / cellFt));
    for (let k = 0; k < pieces; k++) {
      const x0 = ax + ((bx - ax) * k) / pieces;
      const y0 = ay + ((by - ay) * k) / pieces;
      const x1 = ax + ((bx - ax) * (k + 1)) / pieces;
      const y1 = ay + ((by - ay) * (k + 1)) / pieces;
      facetsInBox(tin, Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1), (f) => {
        if (place[f] !== CROSSING && touches(tin, f, ax, ay, bx, by)) place[f] = CROSSING;
      });
    }
  }
  // facets joined without crossing the line lie on one side of it
  const stack = new Int32Array(facetCount);
  let height = 0;
  for (let seed = 0; seed < facetCount; seed++) {
    if (place[seed] !== 255) continue;
    const side = ringContains(lot, centroid(tin, seed)) ? INSIDE : OUTSIDE;
    place[seed] = side;
    stack[height++] = seed;
    while (height > 0) {
      const f = stack[--height]!;
      for (let k = 0; k < 3; k++) {
        const twin = tin.halfedges[3 * f + k]!;
        if (twin < 0) continue;
        const g = (twin / 3) | 0;
        if (place[g] === 255) {
          place[g] = side;
          stack[height++] = g;
        }
      }
    }
  }
  return place;
}

/** Plan area of each facet inside the lot, exact: whole facets by their corners, crossing ones clipped. */
export function areasInLot(
  { eastFt, northFt, triangles }: Pick<Facets, "eastFt" | "northFt" | "triangles">,
  lot: Ring,
  place: Uint8Array,
): Float64Array {
  const ring = flatten(lot);
  const clipper = new TriangleClipper();
  const areas = new Float64Array(place.length);
  for (let f = 0; f < place.length; f++) {
    if (place[f] === OUTSIDE) continue;
    const a = triangles[3 * f]!;
    const b = triangles[3 * f + 1]!;
    const c = triangles[3 * f + 2]!;
    const ax = eastFt[a]!;
    const ay = northFt[a]!;
    const bx = eastFt[b]!;
    const by = northFt[b]!;
    const cx = eastFt[c]!;
    const cy = northFt[c]!;
    if (place[f] === INSIDE) areas[f] = ((bx - ax) * (cy - ay) - (cx - ax) * (by - ay)) / 2;
    else {
      const n = clipper.clip(ring, lot.length, ax, ay, bx, by, cx, cy);
      areas[f] = n < 3 ? 0 : Math.max(0, flatArea(clipper.xy, n));
    }
  }
  return areas;
}

function centroid({ eastFt, northFt, triangles }: Facets, f: number): [number, number] {
  const a = triangles[3 * f]!;
  const b = triangles[3 * f + 1]!;
  const c = triangles[3 * f + 2]!;
  return [(eastFt[a]! + eastFt[b]! + eastFt[c]!) / 3, (northFt[a]! + northFt[b]! + northFt[c]!) / 3];
}

/** Whether a segment comes within the facet: false only when a side of the facet, or the segment itself, parts the two. */
function touches(
  { eastFt, northFt, triangles }: Facets,
  f: number,
  px: number,
  py: number,
  qx: number,
  qy: number,
): boolean {
  let left = 0;
  let right = 0;
  for (let k = 0; k < 3; k++) {
    const a = triangles[3 * f + k]!;
    const b = triangles[3 * f + ((k + 1) % 3)]!;
    const ax = eastFt[a]!;
    const ay = northFt[a]!;
    const dx = eastFt[b]! - ax;
    const dy = northFt[b]! - ay;
    if (dx * (py - ay) - dy * (px - ax) < 0 && dx * (qy - ay) - dy * (qx - ax) < 0) return false;
    const side = (qx - px) * (ay - py) - (qy - py) * (ax - px);
    if (side > 0) left++;
    if (side < 0) right++;
  }
  return left < 3 && right < 3;
}
