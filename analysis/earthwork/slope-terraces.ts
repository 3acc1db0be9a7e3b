/** Terraces that published grading rules ask for across a high graded slope. Ours have none: a slope that high is told, not drawn. */

/** IBC Appendix J109, where adopted (widths and intervals as in Topeka Municipal Code 17.05.200): slopes steeper than this, … */
const STEEPER_THAN_RUN = 3;
/** … at vertical intervals of at most this, … */
export const TERRACE_EVERY_FT = 30;
/** … this wide; the one at mid-height of a slope over 60 ft twice as wide. */
const TERRACE_WIDE_FT = 6;
const MIDDLE_WIDE_FT = 12;
const HIGH_SLOPE_FT = 60;

/** Widths of the terraces asked for from the foot of a slope upward; none up to 30 ft, or where it is no steeper than 3:1. */
export function slopeTerracesFt(heightFt: number, batter: number): number[] {
  if (batter >= STEEPER_THAN_RUN || heightFt <= TERRACE_EVERY_FT) return [];
  const count = Math.ceil(heightFt / TERRACE_EVERY_FT) - 1;
  const middle = heightFt > HIGH_SLOPE_FT ? Math.floor(count / 2) : -1;
  return Array.from({ length: count }, (_, i) => (i === middle ? MIDDLE_WIDE_FT : TERRACE_WIDE_FT));
}
