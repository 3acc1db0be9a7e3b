/** How long the hauling takes. Method: docs/methods/schedule.md */
import { truckloads } from "../earthwork/index.js";
import type { StudyRequest } from "../request/request.js";
import { STREET_LOADS_A_DAY } from "./rates.js";
import { atRate, type Weeks } from "./weeks.js";

const MINUTES_PER_HOUR = 60;

/**
 * Weeks to haul a loose volume: loads, rounded up, over loads a day.
 * Loads a day = trucks × whole trips in the hauling hours, at most what the street stands and the city's cap.
 */
export function haulWeeks(looseYd3: number, haul: StudyRequest["haul"]): Weeks {
  const tripsADay = Math.max(1, Math.floor((haul.hoursPerDay * MINUTES_PER_HOUR) / haul.roundTripMin));
  const most = Math.min(haul.trucks * tripsADay, haul.loadsPerDayCap ?? Number.POSITIVE_INFINITY);
  const [few, likely, many] = STREET_LOADS_A_DAY;
  return atRate(truckloads(looseYd3, haul), [
    Math.min(most, few),
    Math.min(most, likely),
    Math.min(most, many),
  ]);
}
