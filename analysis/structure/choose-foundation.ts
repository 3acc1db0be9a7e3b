/** Which foundation is likely to be asked for: the first rule that holds leads, and every one that holds gives its reason. */
import type { Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import {
  FOUNDATION_RULES,
  type FoundationFacts,
  type FoundationRule,
  usualKind,
} from "./foundation-rules.js";
import { edgesOf, groundAt, levelsOf } from "./house-facts.js";
import type { Foundation, FoundationKind, SlopeSetback } from "./structure.js";

/** Ground the survey must show round the house. */
const COVER_BEYOND_FT = 10;

export type FoundationChoice = Pick<
  Foundation,
  "kind" | "standing" | "runnerUp" | "rule" | "reasons" | "runnerUpReasons" | "wouldChange"
>;

export function chooseFoundation(
  site: Site,
  design: SchemeDesign,
  setbacks: readonly SlopeSetback[],
): FoundationChoice {
  return choiceFrom(factsOf(site, design, setbacks));
}

/**
 * `reasons`: of every rule that holds, the leading one's first. What gentle ground by itself would ask for is left out where
 * it asks for another kind, and under a basement: it would argue against what is said.
 */
export function choiceFrom(facts: FoundationFacts): FoundationChoice {
  const rulings = FOUNDATION_RULES.filter(({ holds }) => holds(facts));
  const lead = rulings[0];
  if (!lead) throw new RangeError("slope and fill under the house must be numbers");
  const kind = kindOf(lead, facts);
  // under a basement the ground at the surface says nothing about what the walls stand on
  const speaking = lead.rule === "F7" ? [] : rulings.filter((rule) => kindOf(rule, facts) !== kind);
  const next = lead.otherwise === kind ? otherThan(kind) : lead.otherwise;
  const runnerUp = speaking[0] ? kindOf(speaking[0], facts) : next;
  const runnerUpReasons = speaking
    .filter((rule) => kindOf(rule, facts) === runnerUp)
    .map(({ reason }) => reason);
  const arguesFor = (rule: FoundationRule) => lead.rule !== "F7" && kindOf(rule, facts) === kind;
  const forLead = rulings.filter((rule) => kindOf(rule, facts) === kind);
  return {
    kind,
    standing: lead.standing ?? "likely",
    runnerUp,
    rule: lead.rule,
    reasons: rulings.filter((rule) => !GENTLE.has(rule.rule) || arguesFor(rule)).map(({ reason }) => reason),
    runnerUpReasons: runnerUpReasons.length > 0 ? runnerUpReasons : [NEXT_BEST[runnerUp]],
    wouldChange: wouldChange(forLead, kind, facts),
  };
}

function factsOf(site: Site, design: SchemeDesign, setbacks: readonly SlopeSetback[]): FoundationFacts {
  const { request, survey } = site;
  return {
    slopePct: design.slopeUnderHousePct.p90,
    fillUnderHouseFt: design.straddle.maxFillUnderHouseFt,
    straddles: design.straddle.daylightUnderHouse,
    basement:
      levelsOf(design, "basement").length === 0
        ? "none"
        : design.kind === "full-basement"
          ? "all round"
          : "open downhill",
    raised: design.kind === "pier-raised",
    expansive: request.soil.expansive,
    depthToFirmFt: request.soil.depthToFirmFt,
    mappedSlide: request.hazards.landslide === "yes",
    unmetSetbacks: setbacks.filter(({ met }) => !met),
    surveyed: isSurveyedAround(site, design),
    shotsApartFt: survey.summary.medianSpacingFt,
  };
}

/** Looked for along every face, at the wall and that far out from it, and in the middle of the house. */
function isSurveyedAround(site: Site, { footprint, downhill }: SchemeDesign): boolean {
  const isGround = (at: Point) => !Number.isNaN(groundAt(site, at));
  const mean = (k: 0 | 1) => footprint.reduce((sum, p) => sum + p[k], 0) / footprint.length;
  return (
    isGround([mean(0), mean(1)]) &&
    edgesOf(footprint, downhill).every(({ from, to, lengthFt, outward }) => {
      const steps = Math.ceil(lengthFt / COVER_BEYOND_FT);
      return Array.from({ length: steps + 1 }, (_, i) => i / steps).every((t) =>
        [0, COVER_BEYOND_FT].every((ft) =>
          isGround([
            from[0] + t * (to[0] - from[0]) + ft * outward[0],
            from[1] + t * (to[1] - from[1]) + ft * outward[1],
          ]),
        ),
      );
    })
  );
}

function kindOf({ kind }: FoundationRule, facts: FoundationFacts): FoundationKind {
  return typeof kind === "string" ? kind : kind(facts);
}

/** Rules of ground with no trouble in it. */
const GENTLE: ReadonlySet<string> = new Set(["F5", "F6"]);

function otherThan(kind: FoundationKind): FoundationKind {
  return kind === "raised" ? "pier-and-grade-beam" : "raised";
}

/** Why a kind is next in line where no rule that holds speaks for it. Common practice, no source. */
const NEXT_BEST: Readonly<Record<FoundationKind, string>> = {
  slab: "a slab needs the least work where the ground under all of it is firm and dry",
  raised: "footings are the next less costly where firm ground lies close to the surface",
  "pier-and-grade-beam": "piers pass through whatever soft or swelling soil turns out to lie there",
};

/** What would have to be found: for each reason that speaks for the leading kind, then what nobody has looked for yet. */
function wouldChange(
  forLead: readonly FoundationRule[],
  kind: FoundationKind,
  facts: FoundationFacts,
): string[] {
  const changes = new Set(
    forLead.map(({ fallsAway }) => (typeof fallsAway === "string" ? fallsAway : fallsAway(facts))),
  );
  if (kind === "pier-and-grade-beam") {
    if (facts.depthToFirmFt === null) changes.add("loose soil deeper than expected: longer piers");
  } else if (facts.expansive === "unknown")
    changes.add(
      usualKind(facts) === "slab"
        ? "clay that swells: a raised floor, a stiffened slab or drilled piers"
        : "clay that swells: drilled piers",
    );
  return [...changes];
}
