/** Percentiles of draws. */
import type { Percentiles } from "./cost.js";

/** The draw below which a share p of the sorted draws lie, straight between neighbours. */
export function quantile(sorted: Float64Array, p: number): number {
  const at = p * (sorted.length - 1);
  const below = Math.floor(at);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below]! + (at - below) * (sorted[above]! - sorted[below]!);
}

export function percentiles(draws: Float64Array): Percentiles {
  return ofSorted(Float64Array.from(draws).sort());
}

export function ofSorted(sorted: Float64Array): Percentiles {
  return { p10: quantile(sorted, 0.1), p50: quantile(sorted, 0.5), p90: quantile(sorted, 0.9) };
}

/**
 * Standard error of each percentile from the finite number of draws, without assuming a shape:
 * the number of draws below the true percentile is binomial, so half the distance between the draws
 * one binomial sigma below and above, ranks n·p ∓ √(n·p·(1 − p)).
 */
export function samplingErrors(sorted: Float64Array): Percentiles {
  const error = (p: number) => {
    const sigma = Math.sqrt((p * (1 - p)) / sorted.length);
    return (quantile(sorted, Math.min(1, p + sigma)) - quantile(sorted, Math.max(0, p - sigma))) / 2;
  };
  return { p10: error(0.1), p50: error(0.5), p90: error(0.9) };
}

/** Percentiles after adding a fixed sum and multiplying by a positive factor. */
export function shifted({ p10, p50, p90 }: Percentiles, add: number, times = 1): Percentiles {
  return { p10: p10 * times + add, p50: p50 * times + add, p90: p90 * times + add };
}
