/** What a broken limit is called in the answer. */
import { TERRACE_EVERY_FT } from "../earthwork/index.js";
import { measure, published } from "../measure.js";
import { isAssumed, type StudyRequest } from "../request/request.js";
import { LEAST_DAYLIGHT_SHARE } from "./daylight-basement.js";
import type { ExactTrial } from "./exact-trial.js";
import type { Breach } from "./limits.js";

const ft = (value: number) => measure(value, "ft", 0.1);
const pct = (share: number) => `${Math.round(100 * share)} %`;

export function breachWords({ code, measured, limit }: Breach, request: StudyRequest): string {
  const { rules } = request;
  const allowed = (rule: string) =>
    isAssumed(request, `rules.${rule}`)
      ? `${ft(limit)} is assumed to be allowed, no rule was given`
      : `the rule given allows ${ft(limit)}`;
  switch (code) {
    case "buildable":
      return "No footprint of this size lies wholly on the buildable ground; it is shown where it comes closest.";
    case "unsurveyed":
      return "The survey does not show the ground under all of it; volumes cover the surveyed part only.";
    case "site-wall":
      return `A wall outside the house would hold ${ft(measured)}; ${allowed("maxSiteWallFt")}.`;
    case "basement-wall":
      return `A basement wall would hold ${ft(measured)} of earth; ${allowed("maxBasementRetainedFt")}.`;
    case "height":
      return `The roof would stand ${ft(measured)} over the lowest natural ground at the house; ${allowed("heightLimitFt")}.`;
    case "fill-too-steep":
      return `Fill would lie on ground steeper than ${rules.fillMaxSlopePct} % over ${pct(measured)} of the graded area.`;
    case "no-drive":
      return `No way for a car was found to a garage door here at ${rules.driveway.maxGradePct} % or less.`;
    case "drive-wall":
      return `A wall beside the driveway would hold ${ft(measured)}; ${allowed("maxSiteWallFt")}.`;
    case "too-flat":
      return `The hill gives the lower level only ${ft(measured)} of earth against its uphill wall: there is not enough slope to open a floor on the downhill side (${ft(limit)} wanted).`;
    case "fill-under-floor":
      return `The lower floor would need ${ft(measured)} of fill under its downhill side (${ft(limit)} at most): the ground falls too far, or too unevenly, for one level.`;
    case "no-daylight":
      return `Only ${pct(measured)} of the downhill wall would stand open; ${pct(LEAST_DAYLIGHT_SHARE)} is wanted.`;
    case "too-steep-to-bury":
      return `The ground falls ${ft(measured)} across the house, so one side of a buried floor would stand open (${ft(limit)} at most): compare the lower level open downhill.`;
    case "garage-stair":
      return `Garage and house floors would lie ${ft(measured)} apart, more than a storey.`;
    case "slope-setback":
      return `The house would stand ${ft(measured)} from a graded slope that asks for ${ft(limit)} (IRC R403.1.7, where adopted).`;
    case "slope-terrace":
      return slopeTerraceWords(measured);
    case "batter-leaves-lot":
      return "A graded slope would cross the lot line.";
    default:
      throw new RangeError(`unknown problem code ${code}`);
  }
}

export function slopeTerraceWords(heightFt: number): string {
  return `A graded slope would climb ${ft(heightFt)} in one run; from ${published(TERRACE_EVERY_FT, "ft")} on, terraces across it are asked for (IBC Appendix J109, where adopted), which this slope does not have.`;
}

/** What came of setting a wall too tall for the rule back in tiers. */
export function terraceWords({ code }: Breach, { terraces }: Pick<ExactTrial, "terraces">): string {
  if (code !== "site-wall") return "";
  switch (terraces) {
    case "no-room":
      return "Set back in terraces it would leave the usable ground of the lot.";
    case "too-steep":
      return "Terraces were tried: the ground beside it climbs too fast, or falls away behind them, for their walls to come out lower.";
    case "unsurveyed":
      return "The survey does not show the ground that terraces would take.";
    case "stand":
      return "Terraces were tried and leave a wall that tall at their ends or between levels.";
    case null:
      return "";
  }
}
