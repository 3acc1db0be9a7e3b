/** Four shots on one circle have two equally good triangulations: this picks one by the ground, not by rounding. */

import { nextSide } from "./half-edge.js";
import type { Mesh } from "./mesh.js";

type Facets = Pick<Mesh, "elevFt" | "triangles" | "halfedges">;

/** Relative size below which the in-circle test is nothing but rounding of coordinates. */
const TIE = 1e-8;

/**
 * Flips the diagonal of every four shots that lie on one circle (grids of shots do) to the one that spans less height,
 * so that the answer does not change with the order of the shots or the size of the coordinates.
 * Sides that are `fixed` (break lines) stay. `xy` holds the shots east, south, east, south …
 */
export function settleTies(
  mesh: Facets,
  xy: Float64Array,
  fixed: (side: number) => boolean = () => false,
): void {
  const { triangles, halfedges, elevFt } = mesh;
  for (let e = 0, corner = 0; e < halfedges.length; e++, corner = corner === 2 ? 0 : corner + 1) {
    const twin = halfedges[e]!;
    if (twin < e) continue;
    const p = triangles[e]!;
    const q = triangles[corner === 2 ? e - 2 : e + 1]!;
    const left = triangles[corner === 0 ? e + 2 : e - 1]!;
    const right = triangles[twin % 3 === 0 ? twin + 2 : twin - 1]!;
    const now = Math.abs(elevFt[p]! - elevFt[q]!);
    const other = Math.abs(elevFt[left]! - elevFt[right]!);
    if (other < now && onOneCircle(xy, p, right, q, left) && !fixed(e)) flip(mesh, e, twin);
  }
}

/** The quadrangle a, b, c, d in order. */
function onOneCircle(xy: Float64Array, a: number, b: number, c: number, d: number): boolean {
  const dx = xy[2 * d]!;
  const dy = xy[2 * d + 1]!;
  const ax = xy[2 * a]! - dx;
  const ay = dy - xy[2 * a + 1]!;
  const bx = xy[2 * b]! - dx;
  const by = dy - xy[2 * b + 1]!;
  const cx = xy[2 * c]! - dx;
  const cy = dy - xy[2 * c + 1]!;
  const aa = ax * ax + ay * ay;
  const bb = bx * bx + by * by;
  const cc = cx * cx + cy * cy;
  const inCircle = aa * (bx * cy - by * cx) - bb * (ax * cy - ay * cx) + cc * (ax * by - ay * bx);
  const size = Math.max(aa, bb, cc);
  if (Math.abs(inCircle) > TIE * size * size) return false;
  // both corners on the new diagonal's ends must be real corners, or the flip would make a facet without area
  const flatness = TIE * size;
  const turnAtA = (bx - ax) * -ay - (by - ay) * -ax;
  const turnAtC = -cx * (by - cy) + cy * (bx - cx);
  return turnAtA > flatness && turnAtC > flatness;
}

/** Replaces the side e/twin by the other diagonal of its quadrangle. */
function flip({ triangles, halfedges }: Facets, e: number, twin: number): void {
  const e1 = nextSide(e);
  const e2 = nextSide(e1);
  const t1 = nextSide(twin);
  const t2 = nextSide(t1);
  const left = triangles[e2]!;
  const right = triangles[t2]!;
  // facet of e becomes (right, q, left), facet of twin becomes (left, p, right)
  triangles[e] = right;
  triangles[twin] = left;
  link(halfedges, e, halfedges[t2]!);
  link(halfedges, twin, halfedges[e2]!);
  link(halfedges, e2, t2);
}

function link(halfedges: Int32Array, a: number, b: number): void {
  halfedges[a] = b;
  if (b >= 0) halfedges[b] = a;
}
