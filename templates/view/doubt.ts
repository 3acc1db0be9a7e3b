/** How far a printed amount may be off. */
import type { SchemeResult } from "../../analysis/study/result.js";

/** Share by which dug and hauled amounts come out lower or higher than drawn, at P10 and P90: common practice, no source. */
const DIG_LOW_SHARE = 0.15;
const DIG_HIGH_SHARE = 0.25;
/** From one sigma to the distance of P10 and P90 from the middle of a normal spread. */
const P90_SIGMAS = 1.2816;

/**
 * Low and high of the truckloads: the doubt of the survey and the doubt of the digging, added as independent shares.
 * Returns whole loads, low ≥ 0.
 */
export function truckloadRange({ truckloads, bankCutYd3, uncertaintyYd3 }: SchemeResult["earthwork"]): {
  low: number;
  high: number;
} {
  const surveyShare = bankCutYd3 > 0 ? Math.min(1, (P90_SIGMAS * uncertaintyYd3) / bankCutYd3) : 0;
  return {
    low: Math.floor(truckloads * Math.max(0, 1 - Math.hypot(surveyShare, DIG_LOW_SHARE))),
    high: Math.ceil(truckloads * (1 + Math.hypot(surveyShare, DIG_HIGH_SHARE))),
  };
}

/** Least doubt a volume is printed with: one sigma of the survey, never under five cubic yards. */
export function volumeDoubtYd3({ earthwork }: SchemeResult): number {
  return Math.max(5, earthwork.uncertaintyYd3);
}
