/** When no lane keeps the rules: the gentlest grade one would have, where it pinches, and what would help, found by trying. */

import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { Access } from "./access.js";
import { type DriveRules, driveRules, RISER_FT, shortestRunFt } from "./drive-rules.js";
import type { DriveTarget } from "./drive-target.js";
import { type Doorstep, type LaidLane, layLane, relayLane } from "./lay-lane.js";
import type { LotLanes } from "./lot-lanes.js";

type Refusal = Extract<Access, { reachable: false }>;

/** Steeper limits tried, percent over the request's. */
const STEEPER_BY_PCT = [8, 30] as const;
/** How closely the gentlest grade is found. */
const CLOSE_PCT = 0.25;
/** How closely a floor that would do is found. */
const CLOSE_FT = 0.1;
/** A turn a car still makes. Common practice, no source. */
const TIGHT_RADIUS_FT = 15;
/** No car climbs more. */
const STEEPEST_TRIED_PCT = 45;

export function noEntry(): Refusal {
  return {
    reachable: false,
    gentlestGradePct: null,
    pinchAt: null,
    because:
      "Nobody said where the street is, and no street shots were found beside a lot line, or the survey does not reach the street side.",
    helps: [
      "Give the numbers of the lot lines on the street (access.frontage), or the point where a car comes in (access.point).",
    ],
  };
}

export function whyNot(lot: LotLanes, doorstep: Doorstep): Refusal {
  const { site } = lot;
  const { target } = doorstep;
  const { maxGradePct, widthFt, minInsideRadiusFt } = site.request.rules.driveway;
  const gentlest = gentlestLane(lot, doorstep);
  const helps = whatHelps(lot, doorstep, gentlest);
  if (!gentlest)
    return {
      reachable: false,
      gentlestGradePct: null,
      pinchAt: null,
      because: `No lane ${ft(widthFt)} wide with turns of ${ft(minInsideRadiusFt)} inside radius was found from the street to this garage, up to ${STEEPEST_TRIED_PCT} % steep.`,
      helps,
    };
  const { laid, gradePct } = gentlest;
  return {
    reachable: false,
    gentlestGradePct: gradePct,
    pinchAt: laid.stations[steepestStation(laid)]!.at,
    because: `The garage floor lies ${ft(Math.abs(target.garageFloorFt - laid.entry.elevFt))} ${side(target, laid)} the street; the gentlest lane found is ${ft(lengthOf(laid))} long and needs ${gradePct.toFixed(1)} % at its steepest, ends included, against the limit of ${maxGradePct} %.`,
    helps,
  };
}

interface Gentlest {
  readonly laid: LaidLane;
  readonly gradePct: number;
}

/** As steep at the street and before the door as in between. */
function evenRules({ request }: Site, maxGradePct: number): DriveRules {
  const limit = maxGradePct / 100;
  return { ...driveRules(request, maxGradePct), throatGrade: limit, apronGrade: limit };
}

/** The first steeper limit, at the ends too, under which a lane exists, then the mildest limit its own line can keep. */
function gentlestLane(lot: LotLanes, doorstep: Doorstep): Gentlest | null {
  const { site } = lot;
  let failedPct = site.request.rules.driveway.maxGradePct;
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

function lengthOf({ stations }: LaidLane): number {
  return stations.at(-1)!.stationFt;
}

function steepestStation({ gradeFt }: LaidLane): number {
  let at = 0;
  for (let i = 0; i + 1 < gradeFt.length; i++)
    if (Math.abs(gradeFt[i + 1]! - gradeFt[i]!) > Math.abs(gradeFt[at + 1]! - gradeFt[at]!)) at = i;
  return at;
}

function whatHelps(lot: LotLanes, doorstep: Doorstep, gentlest: Gentlest | null): string[] {
  const { site, reach } = lot;
  const { target } = doorstep;
  const helps: string[] = [];
  const { maxGradePct, minInsideRadiusFt } = site.request.rules.driveway;
  const rules = driveRules(site.request);
  if (gentlest) {
    const { laid } = gentlest;
    const up = Math.sign(target.garageFloorFt - laid.entry.elevFt);
    const riseFt = Math.abs(target.garageFloorFt - laid.entry.elevFt);
    // how far the same line climbs within the rules, by halving
    let climbFt = 0;
    let tooFarFt = riseFt;
    let kept: LaidLane | null = null;
    while (tooFarFt - climbFt > CLOSE_FT) {
      const middle = (climbFt + tooFarFt) / 2;
      const tried = relayLane(lot, doorstep, laid, rules, laid.entry.elevFt + up * middle);
      if (tried) {
        climbFt = middle;
        kept = tried;
      } else tooFarFt = middle;
    }
    const elsewhere = "by another way round the lot or over a neighbour's land with an easement.";
    if (kept) {
      const floorFt = laid.entry.elevFt + up * climbFt;
      helps.push(
        `A garage floor ${ft(riseFt - climbFt)} ${up > 0 ? "lower" : "higher"}, at ${measure(floorFt, "ft", 0.1)}: tried, a lane ${ft(lengthOf(kept))} long then keeps to ${maxGradePct} %.`,
        `A run about ${ft((riseFt - climbFt) / rules.limit)} longer, ${elsewhere}`,
      );
    } else helps.push(`A run of at least ${ft(shortestRunFt(riseFt, maxGradePct))} in all, ${elsewhere}`);
  }
  const even = layLane(lot, doorstep, evenRules(site, maxGradePct), "trial");
  if (even)
    helps.push(
      `A lane as steep at the street and before the door as in between: tried, ${ft(lengthOf(even))} long it keeps to ${maxGradePct} %; low cars may scrape, and the city may ask for milder ends.`,
    );
  if (minInsideRadiusFt > TIGHT_RADIUS_FT) {
    const tried = layLane(
      lot,
      doorstep,
      { ...rules, radiusFt: TIGHT_RADIUS_FT + rules.widthFt / 2 },
      "trial",
    );
    if (tried)
      helps.push(
        `Turns of ${ft(TIGHT_RADIUS_FT)} inside radius: tried, a lane for cars alone ${ft(lengthOf(tried))} long then keeps to ${maxGradePct} %.`,
      );
  }
  const riseFt = Math.abs(target.garageFloorFt - reach.entryElevFt);
  helps.push(
    `A garage or parking at the street, with about ${Math.ceil(riseFt / RISER_FT)} steps to the level of this garage floor, or a lift.`,
  );
  return helps;
}

function side(target: DriveTarget, { entry }: LaidLane): string {
  return target.garageFloorFt > entry.elevFt ? "above" : "below";
}

function ft(value: number): string {
  return measure(value, "ft", value < 10 ? 0.1 : 1);
}
