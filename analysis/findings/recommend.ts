/** The verdict: which of five plain sentences is true, why, and what would turn it into another. */
import { isAssumed } from "../request/request.js";
import { bestScheme, driveOf, type SchemeFacts, type StudyFacts } from "./facts.js";
import type { Finding, Recommendation, VerdictCode } from "./finding.js";
import { fitMonuments } from "./monument-fit.js";
import { buildableAtLimit, neededGroundFt2 } from "./rules/lot-rules.js";

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
  dear: { premiumSharePct: 25, slopePct: 25, wallFt: 8, loads: 100, drivePct: 15, months: 18 },
  good: { roomTimes: 1.5, slopePct: 20, wallFt: 6, drivePct: 12, premiumSharePct: 15 },
  /** A test this close to its limit counts as near in the middle ground. */
  near: 0.8,
} as const;

type Reason = string;

/** Conditions are tried in order, from "cannot tell" to "good fit"; the first that holds is the verdict. */
export function recommend(facts: StudyFacts & { readonly findings: readonly Finding[] }): Recommendation {
  const best = bestScheme(facts.schemes);
  const unclear = whyCannotTell(facts);
  if (unclear.length)
    return say("cannot-tell", best, unclear, ["would be answered by: what the reasons above name"]);
  if (!best) {
    const smaller = facts.schemes.flatMap((s) =>
      s.design.problems.flatMap((p) => (p.freedBy ? [p.freedBy] : [])),
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
      special.map((s) => `would change if this were answered: ${s}`),
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
    reasons.push(`Between the shots the ground can only be guessed to about ${rms.toFixed(1)} ft.`);
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
    .map((s) => `${capital(words[s.reason] ?? s.reason)} take ${hundreds(s.removedFt2)} square feet.`);
  return [
    `${hundreds(areaFt2)} square feet are left to build on; the house and the strip around it ask about ${hundreds(neededGroundFt2({ site }))}.`,
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
    reasons.push("The ground under the house is steeper than 1 foot up for every 2 feet along.");
  if (structure.slopeSetbacks.some((s) => !s.met))
    reasons.push("The house stands closer to steep ground than the published setback.");
  if (design.temporary && design.earthwork.leavesLot)
    reasons.push("The hole for the basement would reach past the lot line.");
  if (siteWallFt > LIMITS.siteWallFt)
    reasons.push(`A wall outside the house would be ${Math.round(siteWallFt)} ft tall.`);
  if (structure.basement && structure.basement.maxRetainedFt > LIMITS.basementWallFt)
    reasons.push(`A basement wall would hold ${Math.round(structure.basement.maxRetainedFt)} ft of earth.`);
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

interface Test {
  readonly words: string;
  readonly measured: number;
  readonly limit: number;
}

/** Percent of the flat twin's middle total that the hill adds. */
function premiumSharePct({ cost }: SchemeFacts): number {
  return cost.flatLotP50Usd > 0 ? (100 * cost.hillsidePremiumUsd.p50) / cost.flatLotP50Usd : 0;
}

function tallestSiteWallFt({ design }: SchemeFacts): number {
  return Math.max(0, ...design.walls.filter((w) => w.kind === "site").map((w) => w.retainedFt));
}

function dearTests(best: SchemeFacts): Test[] {
  const { dear } = LIMITS;
  const share = premiumSharePct(best);
  const slope = best.design.slopeUnderHousePct.mean;
  const wall = tallestSiteWallFt(best);
  const loads = Math.round(best.cost.hauledLoads.p50);
  const drive = driveOf(best)?.maxGradePct ?? 0;
  const months = best.schedule.untilFrameMonths[1];
  return [
    {
      measured: share,
      limit: dear.premiumSharePct,
      words: `The hill adds about ${Math.round(share)} % to what the house would cost on flat land.`,
    },
    {
      measured: slope,
      limit: dear.slopePct,
      words: `The ground under the house climbs about ${Math.round(slope)} feet in every 100.`,
    },
    {
      measured: wall,
      limit: dear.wallFt,
      words: `A wall outside the house is up to ${Math.round(wall)} feet tall.`,
    },
    { measured: loads, limit: dear.loads, words: `About ${loads} truckloads of dirt must move.` },
    {
      measured: drive,
      limit: dear.drivePct,
      words: `The driveway climbs ${Math.round(drive)} feet in 100 at its steepest.`,
    },
    {
      measured: months,
      limit: dear.months,
      words: `It takes about ${Math.round(months)} months until the frame can start.`,
    },
  ];
}

function goodTests(
  facts: StudyFacts,
  best: SchemeFacts,
): { readonly met: boolean; readonly words: string }[] {
  const { good } = LIMITS;
  const { site } = facts;
  const room = site.lot.buildable.areaFt2;
  const need = neededGroundFt2(facts);
  const drive = driveOf(best)?.maxGradePct ?? 0;
  const slope = best.design.slopeUnderHousePct.mean;
  const wall = tallestSiteWallFt(best);
  const share = premiumSharePct(best);
  return [
    {
      met: room >= good.roomTimes * need,
      words: `There is room: about ${hundreds(room)} square feet are left to build on.`,
    },
    {
      met: slope <= good.slopePct,
      words: `The ground under the house climbs about ${Math.round(slope)} feet in every 100.`,
    },
    {
      met: wall <= good.wallFt,
      words:
        wall > 0
          ? `No wall outside the house is over ${Math.ceil(wall)} feet tall.`
          : "No wall is needed outside the house.",
    },
    {
      met: drive <= Math.max(good.drivePct, site.request.rules.driveway.maxGradePct),
      words: `A car gets up at ${Math.round(drive)} feet in 100 or less.`,
    },
    {
      met: share <= good.premiumSharePct,
      words: `The hill adds about ${Math.max(0, Math.round(share))} % to the cost on flat land.`,
    },
  ];
}

/** How far the nearest tests are from turning the verdict. */
function flips(tests: readonly Test[], facts: StudyFacts): string[] {
  const nearest = [...tests]
    .sort((a, b) => Math.abs(a.measured / a.limit - 1) - Math.abs(b.measured / b.limit - 1))
    .slice(0, 2)
    .map((t) => `${t.measured > t.limit ? "would ease below" : "would harden above"} ${t.limit}: ${t.words}`);
  const { slopeLimitPct, areaFt2 } = facts.site.lot.buildable;
  const stricter = buildableAtLimit(facts, slopeLimitPct - 5);
  if (stricter !== null && stricter < neededGroundFt2(facts) && areaFt2 > 0)
    nearest.push(`would become "${VERDICTS["no-room"]}" if the slope limit were ${slopeLimitPct - 5} %`);
  return nearest;
}

function hundreds(areaFt2: number): string {
  return (Math.round(areaFt2 / 100) * 100).toLocaleString("en-US");
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
