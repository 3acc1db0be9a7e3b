/** Which facets the survey supports, and which merely bridge ground nobody measured. */

import { nextSide } from "./half-edge.js";
import type { Mesh } from "./mesh.js";

/** However close the shots, an edge up to this long counts as measured ground. Common practice, no source. */
export const ALWAYS_SUPPORTED_FT = 50;
/** Edges up to this many times the usual longest side count as measured. Common practice, no source. */
export const LONGEST_TO_USUAL = 2.5;
/** The usual longest side: this share of the facets has a shorter one. High enough that a dense patch does not condemn sparse ground around it. */
const USUAL_QUANTILE = 0.8;

/** Quantiles of more values than this are taken from every nth. */
const QUANTILE_SAMPLE = 20_000;

/**
 * 1 for facets whose longest side is at most max(50 ft, 2.5 × the 80th percentile of all longest sides).
 * Long facets appear along the rim, across notches of the survey and over holes such as ponds and houses. Where the
 * surveyor drew the facets, only those whose middle `isDrawn` count, and the same rule holds for them: a line drawn
 * across ground does not measure it.
 */
export function findSupported(
  mesh: Mesh,
  isDrawn?: (eastFt: number, northFt: number) => boolean,
): Uint8Array {
  const facetCount = mesh.triangles.length / 3;
  const longest = new Float64Array(facetCount);
  for (let f = 0; f < facetCount; f++)
    longest[f] = Math.max(sideFt(mesh, 3 * f), sideFt(mesh, 3 * f + 1), sideFt(mesh, 3 * f + 2));
  // a facet that nobody drew has no length and passes no limit
  if (isDrawn) for (let f = 0; f < facetCount; f++) if (!isDrawn(...middleOf(mesh, f))) longest[f] = NaN;
  const usualFt = quantile(everyNth(isDrawn ? longest.filter(Number.isFinite) : longest), USUAL_QUANTILE);
  const limitFt = Math.max(ALWAYS_SUPPORTED_FT, LONGEST_TO_USUAL * usualFt);
  const supported = new Uint8Array(facetCount);
  for (let f = 0; f < facetCount; f++) supported[f] = longest[f]! <= limitFt ? 1 : 0;
  return supported;
}

/** Median length of the facets' sides, ft, sides along break lines left out: how far apart neighbouring shots are. */
export function medianSideFt(mesh: Mesh): number {
  const stride = Math.ceil(mesh.triangles.length / QUANTILE_SAMPLE);
  const sides: number[] = [];
  for (let e = 0; e < mesh.triangles.length; e += stride) {
    const alongLine = mesh.onBreakline[mesh.triangles[e]!] && mesh.onBreakline[mesh.triangles[nextSide(e)]!];
    if (!alongLine) sides.push(sideFt(mesh, e));
  }
  return quantile(Float64Array.from(sides), 0.5);
}

function middleOf({ eastFt, northFt, triangles }: Mesh, f: number): [number, number] {
  const a = triangles[3 * f]!;
  const b = triangles[3 * f + 1]!;
  const c = triangles[3 * f + 2]!;
  return [(eastFt[a]! + eastFt[b]! + eastFt[c]!) / 3, (northFt[a]! + northFt[b]! + northFt[c]!) / 3];
}

function sideFt({ eastFt, northFt, triangles }: Mesh, e: number): number {
  const a = triangles[e]!;
  const b = triangles[nextSide(e)]!;
  const dx = eastFt[b]! - eastFt[a]!;
  const dy = northFt[b]! - northFt[a]!;
  return Math.sqrt(dx * dx + dy * dy);
}

function everyNth(values: Float64Array): Float64Array {
  const stride = Math.ceil(values.length / QUANTILE_SAMPLE);
  const sample = new Float64Array(Math.ceil(values.length / stride));
  for (let i = 0; i < sample.length; i++) sample[i] = values[i * stride]!;
  return sample;
}

/** Infinity for no values; sorts in place. */
function quantile(values: Float64Array, share: number): number {
  return values.sort()[Math.floor(share * values.length)] ?? Infinity;
}
