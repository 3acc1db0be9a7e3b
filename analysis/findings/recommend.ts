/** The verdict: which of five plain sentences is true, why, and what would turn it into another. */
import { measure } from "../measure.js";
import { isAssumed } from "../request/request.js";
import { bestScheme, type SchemeFacts, type StudyFacts, tallestSiteWallFt } from "./facts.js";
import type { Finding, Recommendation, VerdictCode } from "./finding.js";
import { fitMonuments } from "./monument-fit.js";
import { neededGroundFt2 } from "./rules/lot-rules.js";
import { dearTests, flips, goodTests } from "./verdict-tests.js";

export const VERDICTS: Readonly<Record<VerdictCode, string>> = {
  "cannot-tell": "We cannot tell from this survey.",
  "no-room": "By the rules you gave, no house of this size fits here.",
  "specialist-first": "Something could fit, but an engineer must answer before anyone spends more.",
  "hard-dear": "A house fits, but the hill will cost you. Buy only if the price leaves room.",
  "good-fit": "The land can take this house in a fairly plain way, as far as the survey shows.",
};

/** Numbers at which a verdict turns; judgement of the trade, no source. */
const LIMITS = {
  coveragePct: 80,
  groundPoints: 30,
  interpolationRmsFt: 2,
  steepestUnderHousePct: 50,
  siteWallFt: 12,
  basementWallFt: 12,
  sewerSlopePct: 20,
  premiumSpread: { times: 2, ofFlatPct: 10 },
  /** A test this close to its limit counts as near in the middle ground. */
  near: 0.8,
} as const;

type Reason = string;

/** Conditions are tried in order, from "cannot tell" to "good fit"; the first that holds is the verdict. */
export function recommend(facts: StudyFacts & { readonly findings: readonly Finding[] }): Recommendation {
  const best = bestScheme(facts.schemes);
  const unclear = whyCannotTell(facts);
  if (unclear.length)
    return say("cannot-tell", best, unclear, ["It would be answered by what the reasons name."]);
  if (!best) {
    const smaller = facts.schemes.flatMap((s) =>
      s.design.problems.flatMap((p) => (p.freedBy ? [`${s.design.name} ${p.freedBy}.`] : [])),
    );
    const reasons = whatAteTheGround(facts);
    return smaller.length
      ? say("specialist-first", null, [...reasons, ...smaller.slice(0, 2)], smaller)
      : say("no-room", null, reasons, []);
  }
  const special = whySpecialist(facts, best);
  if (special.length)
    return say(
      "specialist-first",
      best,
      special,
      special.map((s) => `It would change if somebody answered this: ${s}`),
    );
  const dear = dearTests(best);
  const over = dear.filter((t) => t.measured > t.limit);
  if (over.length)
    return say(
      "hard-dear",
      best,
      over.map((t) => t.words),
      flips(dear, facts),
    );
  const missed = goodTests(facts, best).filter((t) => !t.met);
  const near = dear.filter((t) => t.measured > LIMITS.near * t.limit);
  if (missed.length > 0 && near.length >= 2)
    return say(
      "hard-dear",
      best,
      near.map((t) => t.words),
      flips(dear, facts),
    );
  return say(
    "good-fit",
    best,
    [
      ...goodTests(facts, best)
        .filter((t) => t.met)
        .map((t) => t.words),
    ],
    flips(dear, facts),
  );
}

function say(
  verdictCode: VerdictCode,
  best: SchemeFacts | null,
  reasons: readonly Reason[],
  flipsIf: readonly string[],
): Recommendation {
  return { schemeId: best?.design.id ?? null, verdictCode, verdict: VERDICTS[verdictCode], reasons, flipsIf };
}

function whyCannotTell({ site, findings }: StudyFacts & { readonly findings: readonly Finding[] }): Reason[] {
  const reasons: Reason[] = [];
  const { terrain, survey, lot, request } = site;
  if (findings.some((f) => f.code === "SRV-04" && f.severity === "stop"))
    reasons.push("The written boundary does not close on itself.");
  if (terrain.coveragePct < LIMITS.coveragePct)
    reasons.push(`The survey shows only ${Math.round(terrain.coveragePct)} % of the lot.`);
  if (survey.ground.count < LIMITS.groundPoints)
    reasons.push(
      `There are only ${survey.ground.count} ground shots; at least ${LIMITS.groundPoints} are needed.`,
    );
  const rms = terrain.summary.interpolationRmsFt;
  if (rms !== null && rms > LIMITS.interpolationRmsFt)
    reasons.push(`Between the shots the ground can only be guessed to about ${measure(rms, "ft", 0.1)}.`);
  const fit = fitMonuments(survey);
  const nearestSetbackFt = Math.min(...lot.edges.map((e) => e.setbackFt).filter((ft) => ft > 0));
  if (fit.matched > 0 && fit.worstFt > nearestSetbackFt)
    reasons.push("The two surveys are farther apart than a whole setback.");
  const guessed = ["rules.slopeLimitPct", "rules.setbacksFt", "brief.floorAreaFt2"];
  if (
    guessed.every((path) => isAssumed(request, path)) &&
    request.brief.footprint === null &&
    request.brief.pads === null
  )
    reasons.push("The size of the house, the setbacks and the slope limit are all our guesses.");
  return reasons;
}

/** The steps of the waterfall that took most, in words. */
function whatAteTheGround({ site }: Pick<StudyFacts, "site">): Reason[] {
  const { steps, areaFt2 } = site.lot.buildable;
  const words: Record<string, string> = {
    setback: "the setbacks",
    easement: "the easements",
    tree: "the trees",
    watercourse: "the watercourse",
    unsurveyed: "ground nobody surveyed",
    slope: `ground steeper than ${site.lot.buildable.slopeLimitPct} %`,
    narrow: "strips too narrow to build on",
  };
  const eaters = steps
    .filter((s) => s.reason !== "lot" && s.removedFt2 > 0)
    .sort((a, b) => b.removedFt2 - a.removedFt2)
    .slice(0, 3)
    .map((s) => `${capital(words[s.reason] ?? s.reason)} take ${measure(s.removedFt2, "square feet", 100)}.`);
  return [
    `${measure(areaFt2, "square feet", 100)} are left to build on; the house and the strip around it ask about ${measure(neededGroundFt2({ site }), "square feet", 100)}.`,
    ...eaters,
  ];
}

function whySpecialist(
  { site, findings, water }: StudyFacts & { readonly findings: readonly Finding[] },
  best: SchemeFacts,
): Reason[] {
  const { design, structure, drainage, access, cost } = best;
  const reasons: Reason[] = [];
  const siteWallFt = tallestSiteWallFt(best);
  if (design.slopeUnderHousePct.p90 > LIMITS.steepestUnderHousePct)
    reasons.push("The ground under the house is steeper than 1 in 2.");
  if (structure.slopeSetbacks.some((s) => !s.met))
    reasons.push("The house stands closer to steep ground than the published setback.");
  if (design.temporary && design.earthwork.leavesLot)
    reasons.push("The hole for the basement would reach past the lot line.");
  if (siteWallFt > LIMITS.siteWallFt)
    reasons.push(`A wall outside the house would be ${measure(siteWallFt, "feet", 1)} tall.`);
  if (structure.basement && structure.basement.maxRetainedFt > LIMITS.basementWallFt)
    reasons.push(
      `A basement wall would hold ${measure(structure.basement.maxRetainedFt, "feet", 1)} of earth.`,
    );
  if (findings.some((f) => f.code === "SLP-05" && f.severity === "concern") && water.streams.length > 0)
    reasons.push("A hollow where water gathers runs past the house.");
  if (drainage.tiers.some((t) => !t.gravity))
    reasons.push("Part of the water cannot run out by itself on this lot.");
  if (!access.reachable && site.request.brief.garageCars > 0 && design.kind !== "fixed-pad")
    reasons.push("No driveway within the grade limit was found.");
  const mapped = Object.entries(site.request.hazards)
    .filter(([, v]) => v === "yes")
    .map(([k]) => k);
  if (mapped.length) reasons.push(`The lot is mapped for ${mapped.join(" and ")}.`);
  if (
    site.request.utilities.sewer === "unknown" &&
    !site.request.utilities.septic &&
    design.slopeUnderHousePct.mean > LIMITS.sewerSlopePct
  )
    reasons.push("Nobody has said whether there is a sewer, and the ground is steep for a septic field.");
  const { p50, p90 } = cost.hillsidePremiumUsd;
  // a small premium doubles easily and says little: the doubt must also weigh against the whole job
  const { times, ofFlatPct } = LIMITS.premiumSpread;
  if (p50 > 0 && p90 / p50 > times && p90 - p50 > (ofFlatPct / 100) * cost.flatLotP50Usd)
    reasons.push("The extra cost could be more than twice the likely one.");
  return reasons;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
