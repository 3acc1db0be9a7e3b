/** The mildest lane where none keeps the rules, found by trying. */

import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import { type DriveRules, driveRules } from "./drive-rules.js";
import { type Doorstep, type LaidLane, layLane, relayLane } from "./lay-lane.js";
import type { LotLanes } from "./lot-lanes.js";

/** Steeper limits tried, percent over the request's. */
const STEEPER_BY_PCT = [8, 30] as const;
/** How closely the gentlest grade is found. */
const CLOSE_PCT = 0.25;
/** No car climbs more. */
export const STEEPEST_TRIED_PCT = 45;

export interface Gentlest {
  readonly laid: LaidLane;
  readonly gradePct: number;
}

/** As steep at the street and before the door as in between. */
function evenRules({ request }: Site, maxGradePct: number): DriveRules {
  const limit = maxGradePct / 100;
  return { ...driveRules(request, maxGradePct), throatGrade: limit, apronGrade: limit };
}

/** The limit itself with the ends as steep as the rest; else the first steeper limit, at the ends too, under which a lane exists, then the mildest limit its own line can keep. */
export function gentlestLane(lot: LotLanes, doorstep: Doorstep): Gentlest | null {
  const { site } = lot;
  let failedPct = site.request.rules.driveway.maxGradePct;
  const even = layLane(lot, doorstep, evenRules(site, failedPct), "trial");
  if (even) return { laid: even, gradePct: failedPct };
  for (const more of STEEPER_BY_PCT) {
    let gradePct = Math.min(STEEPEST_TRIED_PCT, site.request.rules.driveway.maxGradePct + more);
    if (gradePct <= failedPct) break;
    let laid = layLane(lot, doorstep, evenRules(site, gradePct), "trial");
    if (!laid) {
      failedPct = gradePct;
      continue;
    }
    while (gradePct - failedPct > CLOSE_PCT) {
      const middle = (gradePct + failedPct) / 2;
      const milder = relayLane(lot, doorstep, laid, evenRules(site, middle), doorstep.target.garageFloorFt);
      if (milder) {
        laid = milder;
        gradePct = middle;
      } else failedPct = middle;
    }
    return { laid, gradePct };
  }
  return null;
}

export function lengthOf({ stations }: LaidLane): number {
  return stations.at(-1)!.stationFt;
}

export function ft(value: number): string {
  return measure(value, "ft", value < 10 ? 0.1 : 1);
}
