/** Four shots on one circle have two equally good triangulations: this picks one by the ground, not by rounding. */

import { nextSide } from "./half-edge.js";
import type { Mesh } from "./mesh.js";

type Facets = Pick<Mesh, "eastFt" | "northFt" | "elevFt" | "triangles" | "halfedges">;

/** Relative size below which the in-circle test is nothing but rounding of coordinates. */
const TIE = 1e-8;

/**
 * Flips the diagonal of every four shots that lie on one circle (grids of shots do) to the one that spans less height,
 * so that the answer does not change with the order of the shots or the size of the coordinates.
 * Sides that are `fixed` (break lines) stay.
 */
export function settleTies(mesh: Facets, fixed: (side: number) => boolean = () => false): void {
  const { triangles, halfedges, elevFt } = mesh;
  for (let e = 0; e < halfedges.length; e++) {
    const twin = halfedges[e]!;
    if (twin < e || fixed(e)) continue;
    const p = triangles[e]!;
    const q = triangles[nextSide(e)]!;
    const left = triangles[nextSide(nextSide(e))]!;
    const right = triangles[nextSide(nextSide(twin))]!;
    const now = Math.abs(elevFt[p]! - elevFt[q]!);
    const other = Math.abs(elevFt[left]! - elevFt[right]!);
    if (other < now && onOneCircle(mesh, p, right, q, left)) flip(mesh, e, twin);
  }
}

/** The quadrangle a, b, c, d in order. */
function onOneCircle({ eastFt, northFt }: Facets, a: number, b: number, c: number, d: number): boolean {
  const dx = eastFt[d]!;
  const dy = northFt[d]!;
  const ax = eastFt[a]! - dx;
  const ay = northFt[a]! - dy;
  const bx = eastFt[b]! - dx;
  const by = northFt[b]! - dy;
  const cx = eastFt[c]! - dx;
  const cy = northFt[c]! - dy;
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
