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

/** What counts as surveyed. */
export interface Support {
  /** Square of the longest side a surveyed facet may have. */
  readonly limitFt2: number;
  /** 1 for facets the surveyor drew; null where nobody drew any. */
  readonly drawn: Uint8Array | null;
}

/**
 * A facet counts as surveyed when its longest side is at most max(50 ft, 2.5 × the 80th percentile of all longest
 * sides). Long facets appear along the rim, across notches of the survey and over holes such as ponds and houses. Where
 * the surveyor drew the facets, only those whose middle `isDrawn` count, and the same rule holds for them: a line drawn
 * across ground does not measure it.
 */
export function findSupport(mesh: Mesh, isDrawn?: (eastFt: number, northFt: number) => boolean): Support {
  const facetCount = mesh.triangles.length / 3;
  const drawn = isDrawn ? new Uint8Array(facetCount) : null;
  let counted = facetCount;
  if (isDrawn && drawn) {
    counted = 0;
    for (let f = 0; f < facetCount; f++)
      if (isDrawn(...middleOf(mesh, f))) {
        drawn[f] = 1;
        counted++;
      }
  }
  const stride = Math.max(1, Math.ceil(counted / QUANTILE_SAMPLE));
  const sample = new Float64Array(Math.ceil(counted / stride));
  for (let f = 0, seen = 0; f < facetCount; f++) {
    if (drawn && !drawn[f]) continue;
    if (seen % stride === 0)
      sample[seen / stride] = Math.max(sideFt(mesh, 3 * f), sideFt(mesh, 3 * f + 1), sideFt(mesh, 3 * f + 2));
    seen++;
  }
  const limitFt = Math.max(ALWAYS_SUPPORTED_FT, LONGEST_TO_USUAL * quantile(sample, USUAL_QUANTILE));
  return { limitFt2: limitFt * limitFt, drawn };
}

/** Median length of the facets' sides, ft, sides along break lines left out: how far apart neighbouring shots are. */
export function medianSideFt(mesh: Mesh): number {
  const { triangles, onBreakline } = mesh;
  const stride = Math.ceil(triangles.length / QUANTILE_SAMPLE);
  const sides = new Float64Array(Math.ceil(triangles.length / stride));
  let count = 0;
  for (let e = 0; e < triangles.length; e += stride) {
    const alongLine = onBreakline[triangles[e]!] && onBreakline[triangles[nextSide(e)]!];
    if (!alongLine) sides[count++] = sideFt(mesh, e);
  }
  return quantile(sides.subarray(0, count), 0.5);
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

/** Infinity for no values; moves them about. Hoare's selection: sorts no more than it must. */
function quantile(values: Float64Array, share: number): number {
  const wanted = Math.floor(share * values.length);
  if (!(wanted < values.length)) return Infinity;
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = values[(low + high) >> 1]!;
    let i = low;
    let j = high;
    while (i <= j) {
      while (values[i]! < pivot) i++;
      while (values[j]! > pivot) j--;
      if (i > j) break;
      const swapped = values[i]!;
      values[i++] = values[j]!;
      values[j--] = swapped;
    }
    if (wanted <= j) high = j;
    else if (wanted >= i) low = i;
    else break;
  }
  return values[wanted]!;
}
