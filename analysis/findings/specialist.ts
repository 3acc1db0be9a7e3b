/** What only an engineer, an official or a neighbor can answer before more is spent. */
import { measure } from "../measure.js";
import { type SchemeFacts, type StudyFacts, tallestSiteWallFt } from "./facts.js";
import type { Finding } from "./finding.js";

/** Numbers beyond which a specialist speaks first; judgement of the trade, no source. */
const LIMITS = {
  steepestUnderHousePct: 50,
  siteWallFt: 12,
  basementWallFt: 12,
  sewerSlopePct: 20,
  premiumSpread: { times: 2, ofFlatPct: 10 },
} as const;

export interface OpenQuestion {
  readonly reason: string;
  /** What would settle it. */
  readonly settledIf: string;
}

export function openQuestions(
  { site, findings, water }: StudyFacts & { readonly findings: readonly Finding[] },
  best: SchemeFacts,
): OpenQuestion[] {
  const { design, structure, drainage, access, cost } = best;
  const open: OpenQuestion[] = [];
  const ask = (when: boolean, reason: string, settledIf: string) => {
    if (when) open.push({ reason, settledIf });
  };
  const siteWallFt = tallestSiteWallFt(best);
  const heldFt = structure.basement?.maxRetainedFt ?? 0;
  ask(
    design.slopeUnderHousePct.p90 > LIMITS.steepestUnderHousePct,
    "The ground under the house is steeper than 1 in 2.",
    "the house moved to gentler ground, or a soils engineer spoke for this place",
  );
  ask(
    structure.slopeSetbacks.some((s) => !s.met),
    "The house stands closer to steep ground than the published setback.",
    "the house stood back, or a soils engineer accepted a deeper foundation",
  );
  ask(
    design.earthwork.temporaryLeavesLot,
    "The hole for the basement would reach past the lot line.",
    "the neighbor agreed in writing, or the sides of the hole were braced",
  );
  ask(
    siteWallFt > LIMITS.siteWallFt,
    `A wall outside the house would be ${measure(siteWallFt, "feet", 1)} tall.`,
    `that wall came down to ${measure(LIMITS.siteWallFt, "feet")} or less`,
  );
  ask(
    heldFt > LIMITS.basementWallFt,
    `A basement wall would hold ${measure(heldFt, "feet", 1)} of earth.`,
    `it held ${measure(LIMITS.basementWallFt, "feet")} or less`,
  );
  ask(
    findings.some((f) => f.code === "SLP-05" && f.severity === "concern") && water.streams.length > 0,
    "A hollow where water gathers runs past the house.",
    "borings in the hollow found firm ground, or the house moved away from it",
  );
  ask(
    drainage.tiers.some((t) => !t.gravity),
    "Part of the water cannot run out by itself on this lot.",
    "somebody downhill, or the city, gave a right to let it out",
  );
  ask(
    !access.reachable && site.request.brief.garageCars > 0 && design.kind !== "fixed-pad",
    "No driveway within the grade limit was found.",
    "a steeper drive, or a garage at the street, were allowed",
  );
  ask(
    design.problems.some(({ code }) => code === "drive-wall"),
    "The driveway needs a wall taller than the rule given allows.",
    "the city allowed that wall, or a civil engineer found a way up with lower ones",
  );
  const mapped = Object.entries(site.request.hazards)
    .filter(([, answer]) => answer === "yes")
    .map(([hazard]) => hazard);
  ask(
    mapped.length > 0,
    `The lot is mapped for ${mapped.join(" and ")}.`,
    `the officials for ${mapped.join(" and ")} said what they ask of a house here`,
  );
  const { sewer, septic } = site.request.utilities;
  ask(
    sewer === "unknown" && !septic && design.slopeUnderHousePct.mean > LIMITS.sewerSlopePct,
    "Nobody has said whether there is a sewer, and the ground is steep for a septic field.",
    "the sewer company said in writing that you may join",
  );
  const { p50, p90 } = cost.hillsidePremiumUsd;
  // a small premium doubles easily and says little: the doubt must also weigh against the whole job
  const { times, ofFlatPct } = LIMITS.premiumSpread;
  ask(
    p50 > 0 && p90 / p50 > times && p90 - p50 > (ofFlatPct / 100) * cost.flatLotP50Usd,
    "The extra cost could be more than twice the likely one.",
    "a soils report narrowed what the ground may hold",
  );
  return open;
}
