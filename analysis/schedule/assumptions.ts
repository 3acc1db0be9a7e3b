/** Judgements behind the months that no request changes. */
import type { Assumption } from "../assumptions.js";
import {
  BASEMENT_CURE_DAYS,
  FIXED_HOUSE_SHARE,
  HOLD_DAYS,
  OFFICE_WEEKS,
  STREET_LOADS_A_DAY,
} from "./rates.js";
import { SHARED_PACE } from "./time-streams.js";

const MEMORY = "from memory, order of magnitude";
const three = (values: readonly number[]) => values.join(" / ");

export const assumptions: readonly Assumption[] = [
  {
    name: "Planning or hillside review on a lot of 25 %",
    value: three(OFFICE_WEEKS.review.pad),
    unit: "weeks",
    origin: MEMORY,
  },
  {
    name: "Plan check and permit on a hillside",
    value: three(OFFICE_WEEKS.permit.pad),
    unit: "weeks",
    origin: MEMORY,
  },
  {
    name: "Waiting for each letter before concrete or cover",
    value: three(HOLD_DAYS),
    unit: "working days",
    origin: MEMORY,
  },
  {
    name: "Truckloads a day a hillside street stands",
    value: three(STREET_LOADS_A_DAY),
    unit: "",
    origin: MEMORY,
    changeWith: "haul.loadsPerDayCap",
  },
  {
    name: "Basement walls harden before membrane and floor",
    value: three(BASEMENT_CURE_DAYS),
    unit: "working days",
    origin: MEMORY,
  },
  {
    name: "Months of a house that do not go with its size",
    value: Math.round(100 * FIXED_HOUSE_SHARE),
    unit: "%",
    origin: MEMORY,
  },
  {
    name: "Pace shared by the steps of a phase",
    value: Math.round(100 * SHARED_PACE),
    unit: "% of the variance",
    origin: MEMORY,
  },
];
