/** Piers in the search: their number under a raised house, and what deep fill under a level one is likely to ask for. */
import type { FootprintShape, Rect } from "./footprints.js";
import type { Judge } from "./model.js";
import type { SitePrices } from "./site-cost.js";

/** Grid of piers under the beams. Common practice, no source. */
const PIER_ALONG_FT = 8;
const BEAM_LINES_FT = 16;
/** A house partly on cut, with more new fill than this under the rest, is likely to be carried by piers all over. Common practice, no source. */
export const STRADDLE_FILL_FT = 2;
/** The search knows the ground at the corners only: it stays this much clear of that depth. */
const CLEAR_FT = 0.1;
/** Where more of the graded ground than this is steeper than 1 in 5, piers are likely whatever the fill. Judgement. */
const STEEP_SHARE = 0.25;
/** Likely length of a pier in the ground, and the feet of pier that the grade beam to the next one costs as much as. From memory, order of magnitude. */
const PIER_IN_GROUND_FT = 16;
const BEAM_AS_PIER_FT = 11;

export function pierCount({ u0, v0, u1, v1 }: Rect): number {
  return (Math.ceil((u1 - u0) / PIER_ALONG_FT) + 1) * (Math.ceil((v1 - v0) / BEAM_LINES_FT) + 1);
}

/** Highest level at which the fill under a level house asks for no piers. */
export function pierBrinkFt(lowestGroundFt: number): number {
  return lowestGroundFt + STRADDLE_FILL_FT - CLEAR_FT;
}

/** Money for a house that stands on piers all over. */
export function allPiersUsd(house: Rect, { pierFt }: SitePrices): number {
  return pierCount(house) * (PIER_IN_GROUND_FT + BEAM_AS_PIER_FT) * pierFt;
}

/**
 * Money for the piers a level house is likely to stand on because of deep fill or steep ground, once the ground under it
 * is read. `lowestGroundFt` is the lowest natural ground under the house, less the height of its part over the level.
 * Without this the search would balance cut and fill to the yard and set the house on piers for it.
 */
export function likelyPiersUsd(
  { house }: FootprintShape,
  lowestGroundFt: number,
  levelFt: number,
  { sketch, prices }: Judge,
): number {
  const likely = levelFt > pierBrinkFt(lowestGroundFt) || sketch.steepShare > STEEP_SHARE;
  return likely ? allPiersUsd(house, prices) : 0;
}
