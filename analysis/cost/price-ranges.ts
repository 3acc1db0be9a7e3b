/** How prices move together. Method: docs/methods/cost.md */
import type { MarketGroup } from "../book/book.js";

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

/** Scores of a price: √a·market + √g·group + √(1 − a − g)·own, itself standard normal (a normal copula). */
export function sharedScores(
  group: MarketGroup,
  marketScores: Float64Array,
  groupScores: Float64Array,
  ownScores: Float64Array,
  out: Float64Array = new Float64Array(ownScores.length),
): Float64Array {
  const { market, group: ofGroup } = SHARED_MOVEMENT[group];
  const wMarket = Math.sqrt(market);
  const wGroup = Math.sqrt(ofGroup);
  const wOwn = Math.sqrt(1 - market - ofGroup);
  for (let i = 0; i < out.length; i++)
    out[i] = wMarket * marketScores[i]! + wGroup * groupScores[i]! + wOwn * ownScores[i]!;
  return out;
}
