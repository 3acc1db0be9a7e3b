/** How far a house must stand from the graded slopes above and below it. */
import type { Rules } from "../request/request.js";
import type { Limits } from "./limits.js";

/** Slopes steeper than this ask for a distance (IRC R403.1.7). */
const SLOPE_ASKING_DISTANCE = 1 / 3;
/** H/2 up to the first from the toe of a slope above, H/3 up to the second from the top of one below (IRC R403.1.7.1 and .2, from memory). */
const MOST_ABOVE_FT = 15;
const MOST_BELOW_FT = 40;

/** Around a pad on one level the apron is all that lies between the house and the slopes; H is a slope's reach ÷ its batter. */
export function checkSlopeSetback(
  { cutReachFt, fillReachFt }: { readonly cutReachFt: number; readonly fillReachFt: number },
  { apronFt, cutBatter, fillBatter }: Rules,
  limits: Limits,
  roundingFt = 0,
): void {
  if (1 / cutBatter > SLOPE_ASKING_DISTANCE) {
    const asked = Math.min(MOST_ABOVE_FT, cutReachFt / cutBatter / 2);
    limits.atLeast("slope-setback", apronFt.uphill + roundingFt, asked);
  }
  if (1 / fillBatter > SLOPE_ASKING_DISTANCE) {
    const asked = Math.min(MOST_BELOW_FT, fillReachFt / fillBatter / 3);
    limits.atLeast("slope-setback", apronFt.downhill + roundingFt, asked);
  }
}
