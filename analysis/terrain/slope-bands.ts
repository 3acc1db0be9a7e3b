/** Half-open slope bands. */

/** Slopes are compared after allowing for rounding of coordinates, percent. */
export const SLOPE_ROUNDING_PCT = 1e-6;

/** Number of the band a slope falls in; a slope exactly on a limit goes to the steeper band. Lower edges rise from 0. */
export function bandOf(slopePct: number, lowerEdgesPct: readonly number[]): number {
  let band = 0;
  while (band + 1 < lowerEdgesPct.length && slopePct + SLOPE_ROUNDING_PCT >= lowerEdgesPct[band + 1]!) band++;
  return band;
}
