/** Which facets the survey supports, and which merely bridge ground nobody measured. */
import type { Mesh } from "./triangulate.js";

/** However close the shots, an edge up to this long counts as measured ground. Common practice, no source. */
export const ALWAYS_SUPPORTED_FT = 50;
/** Edges up to this many times the usual longest side count as measured. Common practice, no source. */
export const LONGEST_TO_USUAL = 2.5;
/** The usual longest side: this share of the facets has a shorter one. High enough that a dense patch does not condemn sparse ground around it. */
const USUAL_QUANTILE = 0.8;

/**
 * 1 for facets whose longest side is at most max(50 ft, 2.5 × the 80th percentile of all longest sides).
 * Long facets appear along the rim, across notches of the survey and over holes such as ponds and houses.
 */
export function findSupported({ eastFt, northFt, triangles }: Mesh): {
  supported: Uint8Array;
  limitFt: number;
} {
  const facetCount = triangles.length / 3;
  const longest = new Float64Array(facetCount);
  for (let f = 0; f < facetCount; f++)
    for (let k = 0; k < 3; k++) {
      const a = triangles[3 * f + k]!;
      const b = triangles[3 * f + ((k + 1) % 3)]!;
      const side = Math.hypot(eastFt[b]! - eastFt[a]!, northFt[b]! - northFt[a]!);
      if (side > longest[f]!) longest[f] = side;
    }
  const usual = longest.slice().sort()[Math.floor(USUAL_QUANTILE * facetCount)]!;
  const limitFt = Math.max(ALWAYS_SUPPORTED_FT, LONGEST_TO_USUAL * usual);
  return { supported: Uint8Array.from(longest, (side) => (side <= limitFt ? 1 : 0)), limitFt };
}

/** Median length of the facets' sides, ft: how far apart neighbouring shots are. */
export function medianSideFt({ eastFt, northFt, triangles, halfedges }: Mesh): number {
  const sides = new Float64Array(triangles.length);
  let n = 0;
  for (let e = 0; e < triangles.length; e++) {
    if (halfedges[e]! > e) continue; // its twin counts
    const a = triangles[e]!;
    const b = triangles[e % 3 === 2 ? e - 2 : e + 1]!;
    sides[n++] = Math.hypot(eastFt[b]! - eastFt[a]!, northFt[b]! - northFt[a]!);
  }
  return sides.subarray(0, n).sort()[n >> 1] ?? 0;
}
