/** Do the two surveys lie on each other? Found corners shot in the topo are held against the boundary's corners. */
import type { Point } from "../geometry/plane.js";
import type { Survey } from "../survey/survey.js";

/** A found corner farther than this from every lot corner is taken for another lot's. */
const SAME_CORNER_FT = 6;

export interface MonumentFit {
  readonly matched: number;
  /** Largest distance between a found corner and the lot corner it belongs to, as sent. */
  readonly worstFt: number;
  /** Turn and shift that would lay the found corners on the lot corners best (least squares, no change of scale); null with fewer than two. */
  readonly rotationDeg: number | null;
  readonly shiftFt: number;
}

/**
 * Least-squares rigid fit of found corners to lot corners: tan θ = Σ cross ÷ Σ dot about the centroids.
 * Nothing is moved: the numbers are for a finding.
 */
export function fitMonuments(survey: Survey): MonumentFit {
  const pairs: { found: Point; corner: Point }[] = [];
  for (const corner of survey.boundary) {
    let best: Point | null = null;
    let bestFt = SAME_CORNER_FT;
    for (const feature of survey.features) {
      if (feature.kind !== "monument") continue;
      const away = Math.hypot(feature.at[0] - corner[0], feature.at[1] - corner[1]);
      if (away < bestFt) {
        bestFt = away;
        best = feature.at;
      }
    }
    if (best) pairs.push({ found: best, corner });
  }
  const n = pairs.length;
  if (n === 0) return { matched: 0, worstFt: 0, rotationDeg: null, shiftFt: 0 };
  const mean = (pick: (p: (typeof pairs)[number]) => number) =>
    pairs.reduce((sum, p) => sum + pick(p), 0) / n;
  const [fx, fy] = [mean((p) => p.found[0]), mean((p) => p.found[1])];
  const [cx, cy] = [mean((p) => p.corner[0]), mean((p) => p.corner[1])];
  let dot = 0;
  let cross = 0;
  let worstFt = 0;
  for (const { found, corner } of pairs) {
    const [ax, ay, bx, by] = [found[0] - fx, found[1] - fy, corner[0] - cx, corner[1] - cy];
    dot += ax * bx + ay * by;
    cross += ax * by - ay * bx;
    worstFt = Math.max(worstFt, Math.hypot(found[0] - corner[0], found[1] - corner[1]));
  }
  return {
    matched: n,
    worstFt,
    rotationDeg: n >= 2 ? (Math.atan2(cross, dot) * 180) / Math.PI : null,
    shiftFt: Math.hypot(cx - fx, cy - fy),
  };
}
