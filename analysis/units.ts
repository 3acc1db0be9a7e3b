/** Exact definitions of units; every other factor is a quotient of these. */

/** International foot, exact since 1959 (85 FR 62698). */
export const METRES_PER_FOOT = 0.3048;
/** US survey foot, exact by definition, deprecated at the end of 2022 (85 FR 62698). */
export const METRES_PER_US_SURVEY_FOOT = 1200 / 3937;
export const SQUARE_FEET_PER_ACRE = 43_560;
export const CUBIC_FEET_PER_CUBIC_YARD = 27;
export const POUNDS_PER_TON = 2_000;
export const INCHES_PER_FOOT = 12;
/** In the mean year of the Julian calendar. */
export const WEEKS_PER_MONTH = 365.25 / 12 / 7;

export type LengthUnit = "us-ft" | "ft" | "m";

/** Metres in one unit of length. */
export function metresPerUnit(unit: LengthUnit): number {
  return unit === "m" ? 1 : unit === "ft" ? METRES_PER_FOOT : METRES_PER_US_SURVEY_FOOT;
}

/** Feet in one unit: the survey's own foot stays a foot, a metre becomes international feet. */
export function feetPerUnit(unit: LengthUnit): number {
  return unit === "m" ? 1 / METRES_PER_FOOT : 1;
}

export function toYd3(volumeFt3: number): number {
  return volumeFt3 / CUBIC_FEET_PER_CUBIC_YARD;
}

export function toAcres(areaFt2: number): number {
  return areaFt2 / SQUARE_FEET_PER_ACRE;
}
