/** From bare triangles to facets that later stages can ask. */
import type { Ring } from "../geometry/plane.js";
import { indexFacets } from "./facet-index.js";
import { crossingFacets, cutAreas, INSIDE, placeFacets } from "./facets-in-lot.js";
import type { LaidFaces } from "./lay-faces.js";
import type { Mesh } from "./mesh.js";
import { type LotExtremes, withLotLine } from "./relief.js";
import { findSupport } from "./supported-facets.js";
import type { Tin } from "./terrain.js";

/** A facet thinner than this has no slope worth the name: left by shots on one line, it is taken for unsupported. */
const LEAST_FACET_FT2 = 1e-6;

/** Gradient, support, area in the lot and look-up of every facet; how each lies to the lot line; and the extremes of the lot. */
export function measureFacets(
  mesh: Mesh,
  lot: Ring,
  isDrawn?: LaidFaces["isDrawn"],
): { tin: Tin; place: Uint8Array; extremes: LotExtremes } {
  const { eastFt, northFt, elevFt, triangles, halfedges } = mesh;
  const facetCount = triangles.length / 3;
  const { limitFt2, drawn } = findSupport(mesh, isDrawn);
  const index = indexFacets(mesh);
  const place = placeFacets({ eastFt, northFt, triangles, index }, lot);
  const supported = new Uint8Array(facetCount);
  const gradEast = new Float64Array(facetCount);
  const gradNorth = new Float64Array(facetCount);
  const areaInLotFt2 = new Float64Array(facetCount);
  let lowFt = Infinity;
  let highFt = -Infinity;
  let longestInLotFt2 = 0;
  for (let f = 0; f < facetCount; f++) {
    const a = triangles[3 * f]!;
    const b = triangles[3 * f + 1]!;
    const c = triangles[3 * f + 2]!;
    const bx = eastFt[b]! - eastFt[a]!;
    const by = northFt[b]! - northFt[a]!;
    const cx = eastFt[c]! - eastFt[a]!;
    const cy = northFt[c]! - northFt[a]!;
    const twiceFt2 = bx * cy - cx * by;
    if (!(twiceFt2 > 2 * LEAST_FACET_FT2)) continue;
    const az = elevFt[a]!;
    const bz = elevFt[b]! - az;
    const cz = elevFt[c]! - az;
    gradEast[f] = (bz * cy - cz * by) / twiceFt2;
    gradNorth[f] = (cz * bx - bz * cx) / twiceFt2;
    const longestFt2 = Math.max(bx * bx + by * by, cx * cx + cy * cy, (cx - bx) ** 2 + (cy - by) ** 2);
    if (longestFt2 > limitFt2 || drawn?.[f] === 0) continue;
    supported[f] = 1;
    if (place[f] !== INSIDE) continue;
    areaInLotFt2[f] = twiceFt2 / 2;
    if (longestFt2 > longestInLotFt2) longestInLotFt2 = longestFt2;
    lowFt = Math.min(lowFt, az, elevFt[b]!, elevFt[c]!);
    highFt = Math.max(highFt, az, elevFt[b]!, elevFt[c]!);
  }
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
  const crossing = crossingFacets(place);
  cutAreas(tin, lot, crossing);
  return { tin, place, extremes: withLotLine({ lowFt, highFt, longestInLotFt2 }, tin, lot, crossing) };
}
