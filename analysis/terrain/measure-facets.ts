/** From bare triangles to facets that later stages can ask. */
import type { Ring } from "../geometry/plane.js";
import { indexFacets } from "./facet-index.js";
import { areasInLot, placeFacets } from "./facets-in-lot.js";
import type { LaidFaces } from "./lay-faces.js";
import type { Mesh } from "./mesh.js";
import { findSupport } from "./supported-facets.js";
import type { Tin } from "./terrain.js";

/** A facet thinner than this has no slope worth the name: left by shots on one line, it is taken for unsupported. */
const LEAST_FACET_FT2 = 1e-6;

/** Gradient, support, area in the lot and look-up of every facet; and how each lies to the lot line. */
export function measureFacets(
  mesh: Mesh,
  lot: Ring,
  isDrawn?: LaidFaces["isDrawn"],
): { tin: Tin; place: Uint8Array } {
  const { eastFt, northFt, elevFt, triangles, halfedges } = mesh;
  const facetCount = triangles.length / 3;
  const { limitFt2, drawn } = findSupport(mesh, isDrawn);
  const supported = new Uint8Array(facetCount);
  const gradEast = new Float64Array(facetCount);
  const gradNorth = new Float64Array(facetCount);
  const areaFt2 = new Float64Array(facetCount);
  for (let f = 0; f < facetCount; f++) {
    const a = triangles[3 * f]!;
    const b = triangles[3 * f + 1]!;
    const c = triangles[3 * f + 2]!;
    const bx = eastFt[b]! - eastFt[a]!;
    const by = northFt[b]! - northFt[a]!;
    const cx = eastFt[c]! - eastFt[a]!;
    const cy = northFt[c]! - northFt[a]!;
    const twiceFt2 = bx * cy - cx * by;
    areaFt2[f] = twiceFt2 / 2;
    if (!(twiceFt2 > 2 * LEAST_FACET_FT2)) continue;
    const bz = elevFt[b]! - elevFt[a]!;
    const cz = elevFt[c]! - elevFt[a]!;
    gradEast[f] = (bz * cy - cz * by) / twiceFt2;
    gradNorth[f] = (cz * bx - bz * cx) / twiceFt2;
    const longestFt2 = Math.max(bx * bx + by * by, cx * cx + cy * cy, (cx - bx) ** 2 + (cy - by) ** 2);
    if (longestFt2 <= limitFt2 && (drawn === null || drawn[f])) supported[f] = 1;
  }
  const index = indexFacets(mesh);
  const place = placeFacets({ eastFt, northFt, triangles, index }, lot);
  const areaInLotFt2 = areasInLot({ eastFt, northFt, triangles, supported }, lot, place, areaFt2);
  const tin: Tin = {
    eastFt,
    northFt,
    elevFt,
    triangles,
    halfedges,
    facetCount,
    gradEast,
    gradNorth,
    areaInLotFt2,
    supported,
    index,
  };
  return { tin, place };
}
