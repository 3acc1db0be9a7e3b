/** Three numbers as a distribution that keeps them. Method: docs/methods/cost.md */

/** 90th percentile of the standard normal distribution. */
export const Z90 = 1.2815515655446004;
/** Beyond one draw in a hundred on either side nothing is claimed about a price. */
export const Z_CLIP = 2.33;
/** Steps of the table on each side of the middle; straight between them, off by less than a hundred thousandth for low and high a factor of 3.5 from likely. */
const STEPS = 256;

export interface Range {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * Two-piece lognormal: likely·exp(s·z), s = ln(high ÷ likely) ÷ z₉₀ above and ln(likely ÷ low) ÷ z₉₀ below the middle.
 * Low, likely and high are its P10, P50 and P90. z is taken within ±Z_CLIP.
 *
 * @throws {RangeError} unless 0 < low ≤ likely ≤ high, or all three are 0.
 */
export function drawRange(
  { low, likely, high }: Range,
  scores: Float64Array,
  out: Float64Array = new Float64Array(scores.length),
): Float64Array {
  if (low === 0 && likely === 0 && high === 0) return out.fill(0);
  if (!(low > 0 && low <= likely && likely <= high))
    throw new RangeError(`low, likely, high must rise from above 0, got ${low}, ${likely}, ${high}`);
  if (low === high) return out.fill(likely);
  const below = Math.log(likely / low) / Z90;
  const above = Math.log(high / likely) / Z90;
  const table = new Float64Array(2 * STEPS + 2);
  for (let k = 0; k < table.length; k++) {
    const z = ((k - STEPS) * Z_CLIP) / STEPS;
    table[k] = likely * Math.exp((z > 0 ? above : below) * z);
  }
  const perScore = STEPS / Z_CLIP;
  for (let i = 0; i < out.length; i++) {
    let at = scores[i]! * perScore + STEPS;
    if (at < 0) at = 0;
    else if (at > 2 * STEPS) at = 2 * STEPS;
    const k = at | 0;
    out[i] = table[k]! + (at - k) * (table[k + 1]! - table[k]!);
  }
  return out;
}
