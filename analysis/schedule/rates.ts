/** Production rates and fixed steps, low / likely / high; all from memory, order of magnitude. */
import { WEEKS_PER_MONTH } from "../units.js";
import { between, scaled, type Weeks } from "./weeks.js";

/** Which column of the fixed steps: a flat lot, a pad on 25 %, a basement on 30 %. */
export type Grade = "flat" | "pad" | "basement";

/** Slope at which a column is met in full, percent; gentler ground lies between it and the flat one. */
export const FULL_SLOPE_PCT = { flat: 1, pad: 25, basement: 30 } as const;

/** Units a working day; slow, likely, fast. */
export const RATES = {
  clearAcres: [0.15, 0.3, 0.6],
  openBankYd3: [150, 300, 500],
  basementBankYd3: [80, 150, 250],
  fillCompactedYd3: [60, 120, 250],
  backfillCompactedYd3: [30, 60, 100],
  shoringFt2: [40, 80, 150],
  piers: [3, 5, 8],
  piersLimited: [1, 2, 4],
  gradeBeamFt: [12, 25, 40],
  siteWallFt2: [30, 60, 100],
  basementWallFt2: [25, 45, 80],
  waterproofFt2: [150, 250, 400],
  drainFt: [40, 80, 140],
  trenchFt: [20, 40, 80],
  /** Set and drained; a deep one is formed, poured and guarded. */
  shallowWells: [0.5, 1, 2],
  deepWells: [0.15, 0.25, 0.4],
  basins: [1, 2, 3],
  outlets: [0.3, 0.7, 1.5],
  /** Rough drive graded and rocked, so that loaded trucks get up. */
  trackFt2: [800, 1500, 3000],
  rippedBankYd3: [60, 120, 200],
  brokenBankYd3: [15, 40, 80],
  /** Depth of the pier the daily counts are for. */
  pierFt: 16,
} as const;

/** Loads a day a hillside street stands. */
export const STREET_LOADS_A_DAY = [15, 25, 40] as const;
/** Working days of waiting for one letter. */
export const HOLD_DAYS = [1, 2, 3] as const;
/** Working days of the surveyor on the site to stake walls, piers and footings on the finished pad. */
export const LAYOUT_DAYS = [1, 2, 3] as const;
/** Working days footings and beams harden before wall forms stand on them. */
export const FOOTING_CURE_DAYS = [2, 3, 5] as const;
/** Working days until the forms of a basement wall are off and it is dry enough for a membrane. */
export const BASEMENT_CURE_DAYS = [3, 7, 14] as const;
/** Working days a slab hardens before the frame goes up on it. */
export const SLAB_CURE_DAYS = [2, 3, 5] as const;
/** Working days for pipes, gravel and vapor barrier under a slab. */
export const UNDER_SLAB_DAYS = [2, 3, 5] as const;
/** Working days a free-standing wall hardens before earth is put behind it. */
export const CURE_DAYS = [5, 7, 10] as const;
/** Working days lost to rain, as a factor on outdoor work. */
export const RAIN = { low: 1, likely: 1.1, high: 1.35 } as const;

type OfficeStep = "survey" | "soils" | "concept" | "review" | "drawings" | "permit";

export const OFFICE_WEEKS: Readonly<Record<OfficeStep, Readonly<Record<Grade, Weeks>>>> = {
  // both surveys are there, the study was made from them: what a surveyor must still find, shoot and sign
  survey: { flat: [1, 2, 3], pad: [1, 2, 4], basement: [1, 2, 4] },
  soils: { flat: [3, 4, 6], pad: [4, 7, 12], basement: [5, 8, 14] },
  concept: { flat: [3, 6, 10], pad: [4, 8, 14], basement: [5, 10, 16] },
  review: { flat: [0, 2, 12], pad: [0, 12, 36], basement: [0, 16, 40] },
  drawings: { flat: [6, 10, 16], pad: [8, 14, 22], basement: [10, 16, 26] },
  permit: { flat: [4, 8, 16], pad: [6, 14, 28], basement: [8, 16, 32] },
};

export const STAKE_WEEKS: Readonly<Record<Grade, Weeks>> = {
  flat: [0.5, 1, 1.5],
  pad: [1, 2, 3],
  basement: [1, 2, 3],
};
export const SHORING_LEAD_WEEKS = [3, 5, 8] as const;
export const FOOTING_WEEKS = [1, 1.5, 2.5] as const;
export const SLAB_WEEKS = [0.7, 1, 1.5] as const;
export const FLOOR_WEEKS = [1, 1.5, 2.5] as const;

export const HOUSE_WEEKS: Readonly<Record<Grade, Weeks>> = {
  flat: scaled([8, 11, 16], WEEKS_PER_MONTH),
  pad: scaled([8.5, 12, 18], WEEKS_PER_MONTH),
  basement: scaled([9, 12.5, 19], WEEKS_PER_MONTH),
};
/** The size of house the months above are for, ft², and the share of them that does not go with its size. Judgement. */
export const HOUSE_OF_RATES_FT2 = 3200;
export const FIXED_HOUSE_SHARE = 0.5;
/** Share of the house until its top is framed and can be measured. */
export const FRAME_SHARE = 0.3;

/** Weeks of a fixed step at this slope. */
export function atSlope(weeks: Readonly<Record<Grade, Weeks>>, grade: Grade, slopePct: number): Weeks {
  return between(weeks.flat, weeks[grade], Math.min(1, slopePct / FULL_SLOPE_PCT[grade]));
}
