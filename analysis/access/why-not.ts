/** When no lane keeps the rules: the gentlest grade one would have, where it pinches, and what would help, found by trying. */
import type { Site } from "../lot/site.js";
import type { Access } from "./access.js";
import type { DriveTarget } from "./drive-target.js";
import { ft, gentlestLane, lengthOf, STEEPEST_TRIED_PCT } from "./gentlest-lane.js";
import type { Doorstep, LaidLane } from "./lay-lane.js";
import type { LotLanes } from "./lot-lanes.js";
import { whatHelps } from "./what-helps.js";

export type Refusal = Extract<Access, { reachable: false }>;

/** No way in is known, or it is, but not the ground beside it. */
export function noEntry({ request: { access }, survey }: Site): Refusal {
  const given = survey.accessPoint !== null || (access.frontage?.length ?? 0) > 0;
  return {
    reachable: false,
    gentlestGradePct: null,
    pinchAt: null,
    because: given
      ? "The street side was given, but the survey shows no ground beside it: nobody knows how high the street lies."
      : "Nobody said where the street is, and no street shots were found beside a lot line.",
    helps: [
      given
        ? "Have the street side surveyed, or give the elevation of the street where a car comes in (access.streetElevationFt)."
        : "Give the numbers of the lot lines on the street (access.frontage), or the point where a car comes in (access.point).",
    ],
    tried: [],
  };
}

export function whyNot(lot: LotLanes, doorstep: Doorstep): Refusal {
  const { site } = lot;
  const { target } = doorstep;
  const { maxGradePct, widthFt, minInsideRadiusFt } = site.request.rules.driveway;
  const gentlest = gentlestLane(lot, doorstep);
  const { helps, tried } = whatHelps(lot, doorstep, gentlest);
  if (!gentlest)
    return {
      reachable: false,
      gentlestGradePct: null,
      pinchAt: null,
      because: `No lane ${ft(widthFt)} wide with turns of ${ft(minInsideRadiusFt)} inside radius was found from the street to this garage, up to ${STEEPEST_TRIED_PCT} % steep.`,
      helps,
      tried,
    };
  const { laid, gradePct } = gentlest;
  const needs =
    gradePct > maxGradePct
      ? `needs ${gradePct.toFixed(1)} % at its steepest, ends included, against the limit of ${maxGradePct} %`
      : `keeps to the limit of ${maxGradePct} % only where it is as steep at the street and before the door as in between`;
  return {
    reachable: false,
    gentlestGradePct: gradePct,
    pinchAt: laid.stations[steepestStation(laid)]!.at,
    because: `The garage floor lies ${ft(Math.abs(target.garageFloorFt - laid.entry.elevFt))} ${side(target, laid)} the street; the gentlest lane found is ${ft(lengthOf(laid))} long and ${needs}.`,
    helps,
    tried,
  };
}

function steepestStation({ gradeFt }: LaidLane): number {
  let at = 0;
  for (let i = 0; i + 1 < gradeFt.length; i++)
    if (Math.abs(gradeFt[i + 1]! - gradeFt[i]!) > Math.abs(gradeFt[at + 1]! - gradeFt[at]!)) at = i;
  return at;
}

function side(target: DriveTarget, { entry }: LaidLane): string {
  return target.garageFloorFt > entry.elevFt ? "above" : "below";
}
