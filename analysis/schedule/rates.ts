/** Production rates and fixed steps, low / likely / high; all from memory, order of magnitude. */
import type { Grade, Weeks } from "./activities.js";

export const WORKDAYS_A_WEEK = 5;
export const WEEKS_A_MONTH = 365.25 / 12 / 7;

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
  /** Depth of the pier the daily counts are for. */
  pierFt: 16,
} as const;

/** Loads a day a hillside street stands. */
export const STREET_LOADS_A_DAY = [15, 25, 40] as const;
/** Waiting for one letter. */
export const HOLD_DAYS = [1, 2, 3] as const;
/** Working days lost to rain, as a factor. */
export const RAIN = { low: 1, likely: 1.1, high: 1.35 } as const;

export const OFFICE_WEEKS: Readonly<
  Record<Grade, Readonly<Record<"survey" | "soils" | "concept" | "review" | "drawings" | "permit", Weeks>>>
> = {
  flat: {
    survey: [3, 4, 6],
    soils: [3, 4, 6],
    concept: [3, 6, 10],
    review: [0, 2, 12],
    drawings: [6, 10, 16],
    permit: [4, 8, 16],
  },
  pad: {
    survey: [3, 5, 8],
    soils: [4, 7, 12],
    concept: [4, 8, 14],
    review: [0, 12, 36],
    drawings: [8, 14, 22],
    permit: [6, 14, 28],
  },
  basement: {
    survey: [3, 5, 8],
    soils: [5, 8, 14],
    concept: [5, 10, 16],
    review: [0, 16, 40],
    drawings: [10, 16, 26],
    permit: [8, 16, 32],
  },
};

export const GRADE_WEEKS = {
  flat: { stake: [0.5, 1, 1.5], slab: [0.7, 1, 1.5], floor: [1, 1.5, 2] },
  pad: { stake: [1, 2, 3], slab: [0.7, 1, 1.5], floor: [1, 1.5, 2.5] },
  basement: { stake: [1, 2, 3], slab: [0.7, 1, 1.5], floor: [1, 1.5, 2.5], footings: [1, 1.5, 2.5] },
  shoringLead: [3, 5, 8],
} as const;

const monthsToWeeks = ([low, likely, high]: Weeks): Weeks => [
  low * WEEKS_A_MONTH,
  likely * WEEKS_A_MONTH,
  high * WEEKS_A_MONTH,
];

export const HOUSE_WEEKS: Readonly<Record<Grade, Weeks>> = {
  flat: monthsToWeeks([8, 11, 16]),
  pad: monthsToWeeks([8.5, 12, 18]),
  basement: monthsToWeeks([9, 12.5, 19]),
};
