/** What the spread of a sum comes from. Method: docs/methods/cost.md */
import type { Driver } from "./cost.js";
import type { Source } from "./score-book.js";

const MOST_DRIVERS = 8;
/** Bands of the score around its P10, P50 and P90, five points of probability to either side. */
const BANDS = [
  [-1.6449, -1.0364],
  [-0.1257, 0.1257],
  [1.0364, 1.6449],
] as const;

/**
 * The sources are independent and the sum close to linear in their scores, so the squared correlations are
 * shares of the variance; they fall short of 1 by what is not linear. The swing is the mean of the sum over
 * the draws in which the source lies near its P10, P50, P90 (an event: does not happen, does not, does).
 */
export function findDrivers(sum: Float64Array, sources: readonly Source[]): Driver[] {
  const n = sum.length;
  let mean = 0;
  for (let i = 0; i < n; i++) mean += sum[i]! / n;
  let variance = 0;
  for (let i = 0; i < n; i++) variance += (sum[i]! - mean) ** 2 / n;
  if (variance === 0) return [];
  return sources
    .map((source) => ({ source, share: squaredCorrelation(source.scores, sum, mean, variance) }))
    .sort((a, b) => b.share - a.share)
    .slice(0, MOST_DRIVERS)
    .map(({ source, share }) => ({ name: source.name, share, swingUsd: swing(source, sum, mean) }));
}

function squaredCorrelation(scores: Float64Array, sum: Float64Array, mean: number, variance: number): number {
  const n = sum.length;
  let s = 0;
  let ss = 0;
  let cross = 0;
  for (let i = 0; i < n; i++) {
    const x = scores[i]!;
    s += x;
    ss += x * x;
    cross += x * (sum[i]! - mean);
  }
  const spread = ss / n - (s / n) ** 2;
  return spread > 0 ? (cross / n) ** 2 / (spread * variance) : 0;
}

function swing({ scores, yesNo }: Source, sum: Float64Array, mean: number): Driver["swingUsd"] {
  const totals = [0, 0, 0];
  const counts = [0, 0, 0];
  for (let i = 0; i < sum.length; i++) {
    const x = scores[i]!;
    const band = yesNo ? (x === 1 ? 2 : 0) : BANDS.findIndex(([from, to]) => x >= from && x <= to);
    if (band < 0) continue;
    totals[band]! += sum[i]!;
    counts[band]!++;
  }
  const at = (band: number) => (counts[band]! > 0 ? totals[band]! / counts[band]! : mean);
  return yesNo ? { p10: at(0), p50: at(0), p90: at(2) } : { p10: at(0), p50: at(1), p90: at(2) };
}
