/** When a survey or a request does not carry an answer, and what to send so that it does. */
import { distanceToRingFt, ringContains } from "../geometry/plane.js";
import { measure } from "../measure.js";
import { isAssumed } from "../request/request.js";
import { elevationAt } from "../terrain/index.js";
import type { SchemeFacts, StudyFacts } from "./facts.js";
import type { Finding } from "./finding.js";
import { fitMonuments } from "./monument-fit.js";

/** Numbers below or above which nobody can tell; common practice, no source. */
const LIMITS = {
  coveragePct: 80,
  groundPoints: 30,
  interpolationRmsFt: 2,
  /** Ground this close to the house must have been seen, all but this share. */
  aroundHouseFt: 30,
  unseenSharePct: 25,
} as const;
const ZONE_STEP_FT = 5;

export interface Unclear {
  readonly reason: string;
  /** What would answer it. */
  readonly send: string;
}

export function whyCannotTell(
  { site, findings }: StudyFacts & { readonly findings: readonly Finding[] },
  best: SchemeFacts | null,
): Unclear[] {
  const unclear: Unclear[] = [];
  const { terrain, survey, lot, request } = site;
  if (findings.some((f) => f.code === "SRV-04" && f.severity === "stop"))
    unclear.push({
      reason: "The written boundary does not close on itself.",
      send: "Send the bearings and distances again, checked against the deed.",
    });
  if (terrain.coveragePct < LIMITS.coveragePct)
    unclear.push({
      reason: `The survey shows only ${Math.round(terrain.coveragePct)} % of the lot.`,
      send: "Send a survey of the whole lot.",
    });
  if (survey.ground.count < LIMITS.groundPoints)
    unclear.push({
      reason: `There are only ${survey.ground.count} ground shots; at least ${LIMITS.groundPoints} are needed.`,
      send: "Send a survey with more ground shots.",
    });
  const rms = terrain.summary.interpolationRmsFt;
  if (rms !== null && rms > LIMITS.interpolationRmsFt)
    unclear.push({
      reason: `Between the shots the ground can only be guessed to about ${measure(rms, "ft", 0.1)}.`,
      send: "Send a survey with shots closer together.",
    });
  const unseen = best ? unseenAroundPct(site, best) : 0;
  if (unseen > LIMITS.unseenSharePct)
    unclear.push({
      reason: `About ${Math.round(unseen)} % of the ground close around the house was not surveyed.`,
      send: "Have the ground around the house place surveyed.",
    });
  const fit = fitMonuments(survey);
  const nearestSetbackFt = Math.min(...lot.edges.map((e) => e.setbackFt).filter((ft) => ft > 0));
  if (fit.matched > 0 && fit.worstFt > nearestSetbackFt)
    unclear.push({
      reason: "The two surveys are farther apart than a whole setback.",
      send: "Send one signed drawing that holds both.",
    });
  if (rulesGuessed(request))
    unclear.push({
      reason: "The size of the house, the setbacks and the slope limit are all our guesses.",
      send: "Say how big the house is, and what setbacks and slope limit the city asks for.",
    });
  return unclear;
}

/** Nobody said how big a house, how far from the lines, or on how steep a slope. */
export function rulesGuessed(request: StudyFacts["site"]["request"]): boolean {
  const guessed = ["rules.slopeLimitPct", "rules.setbacksFt", "brief.floorAreaFt2"];
  return (
    guessed.every((path) => isAssumed(request, path)) &&
    request.brief.footprint === null &&
    request.brief.pads === null
  );
}

/** Share of the lot within 30 ft of the house that no shot reaches. */
function unseenAroundPct({ survey, terrain }: StudyFacts["site"], { design }: SchemeFacts): number {
  const ring = design.footprint;
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  const around = LIMITS.aroundHouseFt;
  let all = 0;
  let unseen = 0;
  for (let x = Math.min(...xs) - around; x <= Math.max(...xs) + around; x += ZONE_STEP_FT)
    for (let y = Math.min(...ys) - around; y <= Math.max(...ys) + around; y += ZONE_STEP_FT) {
      const near = ringContains(ring, [x, y]) || distanceToRingFt(ring, [x, y]) <= around;
      if (!near || !ringContains(survey.boundary, [x, y])) continue;
      all++;
      if (Number.isNaN(elevationAt(terrain.tin, x, y))) unseen++;
    }
  return all === 0 ? 0 : (100 * unseen) / all;
}
