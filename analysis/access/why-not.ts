/** When no lane keeps the rules: the gentlest grade one would have, where it pinches, and what would help, found by trying. */
import type { Site } from "../lot/site.js";
import type { Access, Reach } from "./access.js";
import { APRON_GRADE, driveRules, RISER_FT, THROAT_GRADE } from "./drive-rules.js";
import type { DriveTarget } from "./drive-target.js";
import { largestRiseFt } from "./lane-profile.js";
import { type LaidLane, layLane, relayLane } from "./lay-lane.js";

type Refusal = Extract<Access, { reachable: false }>;

/** Steeper limits tried, percent over the request's. */
const STEEPER_BY_PCT = [8, 30] as const;
/** How closely the gentlest grade is found. */
const CLOSE_PCT = 0.25;
/** Share of the largest rise a suggested garage floor asks for. */
const EASY_SHARE = 0.97;
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

export function whyNot(site: Site, reach: Reach, target: DriveTarget): Refusal {
  const { maxGradePct, widthFt, minInsideRadiusFt } = site.request.rules.driveway;
  const gentlest = gentlestLane(site, reach, target);
  const helps = whatHelps(site, reach, target, gentlest);
  if (!gentlest)
    return {
      reachable: false,
      gentlestGradePct: null,
      pinchAt: null,
      because: `No lane ${ft(widthFt)} wide with turns of ${ft(minInsideRadiusFt)} inside radius was found from the street to this garage, up to ${STEEPEST_TRIED_PCT} % steep in between and with ${100 * THROAT_GRADE} % at the street and ${100 * APRON_GRADE} % before the door.`,
      helps,
    };
  const { laid, gradePct } = gentlest;
  return {
    reachable: false,
    gentlestGradePct: gradePct,
    pinchAt: laid.stations[steepestStation(laid)]!.at,
    because: `The garage floor lies ${ft(Math.abs(target.garageFloorFt - laid.entry.elevFt))} ${side(target, laid)} the street; the gentlest lane found is ${ft(laid.stations.at(-1)!.stationFt)} long and needs ${gradePct.toFixed(1)} % against the limit of ${maxGradePct} %.`,
    helps,
  };
}

interface Gentlest {
  readonly laid: LaidLane;
  readonly gradePct: number;
}

/** The first steeper limit under which a lane exists, then the mildest limit its own line can keep. */
function gentlestLane(site: Site, reach: Reach, target: DriveTarget): Gentlest | null {
  let failedPct = site.request.rules.driveway.maxGradePct;
  for (const more of STEEPER_BY_PCT) {
    let gradePct = Math.min(STEEPEST_TRIED_PCT, site.request.rules.driveway.maxGradePct + more);
    if (gradePct <= failedPct) break;
    let laid = layLane(site, reach, target, driveRules(site.request, gradePct), "trial");
    if (!laid) {
      failedPct = gradePct;
      continue;
    }
    while (gradePct - failedPct > CLOSE_PCT) {
      const middle = (gradePct + failedPct) / 2;
      const milder = relayLane(site, reach, target, laid, driveRules(site.request, middle));
      if (milder) {
        laid = milder;
        gradePct = middle;
      } else failedPct = middle;
    }
    return { laid, gradePct };
  }
  return null;
}

function steepestStation({ gradeFt }: LaidLane): number {
  let at = 0;
  for (let i = 0; i + 1 < gradeFt.length; i++)
    if (Math.abs(gradeFt[i + 1]! - gradeFt[i]!) > Math.abs(gradeFt[at + 1]! - gradeFt[at]!)) at = i;
  return at;
}

function whatHelps(site: Site, reach: Reach, target: DriveTarget, gentlest: Gentlest | null): string[] {
  const helps: string[] = [];
  const { maxGradePct, minInsideRadiusFt } = site.request.rules.driveway;
  const rules = driveRules(site.request);
  if (gentlest) {
    const { laid } = gentlest;
    const up = Math.sign(target.garageFloorFt - laid.entry.elevFt);
    const mostFt = largestRiseFt({
      ...laid.profileRules,
      limits: laid.profileRules.limits.map((grade) => Math.min(grade, rules.limit)),
    });
    // whole tenths, a little inside what the line can climb
    const garageFloorFt = Math.round(10 * (laid.entry.elevFt + up * EASY_SHARE * mostFt)) / 10;
    const other = { ...target, garageFloorFt };
    const tried = relayLane(site, reach, other, laid, rules) ?? layLane(site, reach, other, rules, "trial");
    if (tried)
      helps.push(
        `A garage floor ${ft(Math.abs(garageFloorFt - target.garageFloorFt))} ${up > 0 ? "lower" : "higher"}, at ${garageFloorFt.toFixed(1)} ft: tried, a lane ${ft(tried.stations.at(-1)!.stationFt)} long then keeps to ${maxGradePct} %.`,
      );
    const shortFt = Math.abs(target.garageFloorFt - laid.entry.elevFt) - mostFt;
    if (shortFt > 0)
      helps.push(
        `A run at least ${ft(shortFt / rules.limit)} longer, by another way round the lot or over a neighbour's land with an easement.`,
      );
  }
  const even = layLane(
    site,
    reach,
    target,
    { ...rules, throatGrade: rules.limit, apronGrade: rules.limit },
    "trial",
  );
  if (even)
    helps.push(
      `A lane as steep at the street and before the door as in between: tried, ${ft(even.stations.at(-1)!.stationFt)} long it keeps to ${maxGradePct} %; low cars may scrape, and the city may ask for milder ends.`,
    );
  if (minInsideRadiusFt > TIGHT_RADIUS_FT) {
    const tried = layLane(
      site,
      reach,
      target,
      { ...rules, radiusFt: TIGHT_RADIUS_FT + rules.widthFt / 2 },
      "trial",
    );
    if (tried)
      helps.push(
        `Turns of ${ft(TIGHT_RADIUS_FT)} inside radius: tried, a lane for cars alone ${ft(tried.stations.at(-1)!.stationFt)} long then keeps to ${maxGradePct} %.`,
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
  return `${value < 10 ? value.toFixed(1) : Math.round(value)} ft`;
}
