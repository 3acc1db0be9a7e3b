/** Three numbers as a distribution that keeps them. Method: docs/methods/cost.md */

/** 90th percentile of the standard normal distribution. */
export const Z90 = 1.2815515655446004;
/** Beyond one draw in a hundred on either side nothing is claimed about a price. */
export const Z_CLIP = 2.33;

export interface Range {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * Two-piece lognormal: likely·exp(s·z), s = ln(high ÷ likely) ÷ z₉₀ above and ln(likely ÷ low) ÷ z₉₀ below the middle.
 * Low, likely and high are its P10, P50 and P90 exactly. z is taken within ±Z_CLIP.
 *
 * @throws {RangeError} unless 0 < low ≤ likely ≤ high, or all three are 0.
 */
export function drawRange({ low, likely, high }: Range, scores: Float64Array): Float64Array {
  const out = new Float64Array(scores.length);
  if (low === 0 && high === 0) return out;
  if (!(low > 0 && low <= likely && likely <= high))
    throw new RangeError(`low, likely, high must rise from above 0, got ${low}, ${likely}, ${high}`);
  const below = Math.log(likely / low) / Z90;
  const above = Math.log(high / likely) / Z90;
  if (below === 0 && above === 0) return out.fill(likely);
  for (let i = 0; i < out.length; i++) {
    let z = scores[i]!;
    if (z > Z_CLIP) z = Z_CLIP;
    else if (z < -Z_CLIP) z = -Z_CLIP;
    out[i] = likely * Math.exp((z > 0 ? above : below) * z);
  }
  return out;
}
