/** How long the hauling takes. Method: docs/methods/schedule.md */
import type { StudyRequest } from "../request/request.js";
import { POUNDS_PER_TON } from "../units.js";
import { STREET_LOADS_A_DAY } from "./rates.js";
import { atRate, type Weeks } from "./weeks.js";

/** A ten-wheel truck without its load; from memory, order of magnitude. */
const EMPTY_TRUCK_TONS = 11.5;
/** What a small truck carries where the posted weight keeps the large one out; from memory. */
const SMALL_TRUCK_TONS = 5;
const MINUTES_PER_HOUR = 60;

/**
 * Weeks to haul a loose volume: loads, rounded up, over loads a day.
 * Load = least of the bed and the payload, the payload no more than a posted weight less the empty truck.
 * Loads a day = trucks × whole trips in the hauling hours, at most what the street stands and the city's cap.
 */
export function haulWeeks(looseYd3: number, haul: StudyRequest["haul"]): Weeks {
  const allowedTons = (haul.postedWeightTons ?? Number.POSITIVE_INFINITY) - EMPTY_TRUCK_TONS;
  const payloadTons = Math.min(haul.truckPayloadTons, Math.max(SMALL_TRUCK_TONS, allowedTons));
  const loadYd3 = Math.min(haul.truckLooseYd3, (payloadTons * POUNDS_PER_TON) / haul.looseDensityLbPerYd3);
  const tripsADay = Math.max(1, Math.floor((haul.hoursPerDay * MINUTES_PER_HOUR) / haul.roundTripMin));
  const most = Math.min(haul.trucks * tripsADay, haul.loadsPerDayCap ?? Number.POSITIVE_INFINITY);
  const [few, likely, many] = STREET_LOADS_A_DAY;
  return atRate(Math.ceil(looseYd3 / loadYd3), [
    Math.min(most, few),
    Math.min(most, likely),
    Math.min(most, many),
  ]);
}
