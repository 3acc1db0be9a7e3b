/** Prices and quantities as distributions that keep their low, likely and high. Method: docs/methods/cost.md */
import type { MarketGroup } from "../book/book.js";

/** 90th percentile of the standard normal distribution. */
export const Z90 = 1.2815515655446004;
/** Beyond one draw in a hundred on either side nothing is claimed about a price. */
export const Z_CLIP = 2.33;

/**
 * Share of the variance of a price's score that the whole market and its own group explain.
 * Judgement of a practitioner, from memory; the job's own overheads follow concrete.
 */
export const SHARED_MOVEMENT: Readonly<
  Record<MarketGroup, { readonly market: number; readonly group: number }>
> = {
  E: { market: 0.4, group: 0.3 },
  C: { market: 0.4, group: 0.3 },
  H: { market: 0.5, group: 0.3 },
  U: { market: 0.4, group: 0.2 },
  P: { market: 0.25, group: 0.25 },
  F: { market: 0, group: 0.3 },
  M: { market: 0.4, group: 0.3 },
};

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

/** Scores of a price: √a·market + √g·group + √(1 − a − g)·own, itself standard normal (a normal copula). */
export function sharedScores(
  group: MarketGroup,
  marketScores: Float64Array,
  groupScores: Float64Array,
  ownScores: Float64Array,
): Float64Array {
  const { market, group: ofGroup } = SHARED_MOVEMENT[group];
  const wMarket = Math.sqrt(market);
  const wGroup = Math.sqrt(ofGroup);
  const wOwn = Math.sqrt(1 - market - ofGroup);
  const out = new Float64Array(ownScores.length);
  for (let i = 0; i < out.length; i++)
    out[i] = wMarket * marketScores[i]! + wGroup * groupScores[i]! + wOwn * ownScores[i]!;
  return out;
}
