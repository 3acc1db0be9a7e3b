/** One place of a way to build drawn exactly, with what stands against it. */
import type { Site } from "../lot/site.js";
import { type CurveRules, curvesOf } from "./curves.js";
import { drawDesign } from "./design.js";
import { coreOf, type DesignCore } from "./design-core.js";
import { exactProblems } from "./exact-problems.js";
import { computeExactly, type ExactTrial } from "./exact-trial.js";
import type { Breach } from "./limits.js";
import type { Judge, Model, Trial } from "./model.js";
import { breachWords, terraceWords } from "./problem-words.js";
import type { Found } from "./refine.js";
import type { SchemeDesign, SchemeProblem } from "./scheme.js";
import type { WhyNot } from "./why-not.js";

/** What a design is called, whether it keeps the rules, and how it was searched for. */
export type DesignWords = Pick<SchemeDesign, "id" | "name" | "feasible" | "problems" | "search">;

/** A way to build as far as limits and drives look at it; the rest is drawn and worked out for the one that is shown. */
export interface Draft {
  readonly feasible: boolean;
  readonly core: DesignCore;
  readonly words: () => DesignWords;
  readonly finished: () => SchemeDesign;
}

/** A design with nothing left to be worked out. */
export function asDraft(design: SchemeDesign): Draft {
  return { feasible: design.feasible, core: design, words: () => design, finished: () => design };
}

/** A model with what the search for its place found. */
export interface Candidate {
  readonly trial: Trial;
  readonly model: Model;
  readonly found: Found;
  /** Limits broken before anything was placed. */
  readonly extra: readonly Breach[];
  readonly scoreUsd: number;
}

export interface DraftInputs {
  readonly site: Site;
  readonly judge: Judge;
  readonly whyNot: WhyNot;
}

/** The candidate where it costs least, whether it keeps every rule or not. */
export function bestDraft(candidate: Candidate, inputs: DraftInputs): Draft {
  return draftOf(seenAt(candidate.trial, candidate, inputs), candidate, inputs);
}

/** Other places looked at. */
const MOST_OTHERS = 4;

/** The candidate at the next best places where it keeps every rule, cheapest first, each drawn when it is asked for. */
export function* otherDrafts(candidate: Candidate, inputs: DraftInputs): Generator<Draft> {
  for (const trial of candidate.found.others.slice(0, MOST_OTHERS)) {
    // tiers may take the place of a tall wall; nothing helps against the rest
    if (trial.breaches.some(({ code }) => code !== "site-wall")) continue;
    const seen = seenAt(trial, candidate, inputs);
    if (seen.breaches.length === 0) yield draftOf(seen, candidate, inputs);
  }
}

interface Seen {
  readonly exact: ExactTrial;
  readonly core: DesignCore;
  readonly breaches: readonly Breach[];
}

function seenAt(trial: Trial, { model, extra }: Candidate, { site, judge }: DraftInputs): Seen {
  const exact = computeExactly(trial, model, site, judge);
  const core = coreOf(exact, site, judge);
  // the search saw one tall wall where tiers stand now
  const sought = trial.breaches.filter(({ code }) => !(exact.terraces === "stand" && code === "site-wall"));
  return {
    exact,
    core,
    breaches: onePerCode([...extra, ...sought, ...exactProblems(exact, core.walls, site)]),
  };
}

function draftOf(seen: Seen, candidate: Candidate, inputs: DraftInputs): Draft {
  const { exact, core, breaches } = seen;
  const { site } = inputs;
  let known: DesignWords | null = null;
  const words = () => {
    known ??= wordsOf(seen, candidate, inputs);
    return known;
  };
  const finished = () => ({
    ...words(),
    ...drawDesign(exact, site, core),
    curves: curvesOf(
      exact.trial,
      candidate.model,
      site.request.brief.floorAreaFt2,
      curveRules(exact, breaches, site),
    ),
  });
  return { feasible: breaches.length === 0, core, words, finished };
}

function wordsOf(
  { exact, breaches }: Seen,
  { model, found }: Candidate,
  { site, whyNot }: DraftInputs,
): DesignWords {
  const { request } = site;
  const freeing = whyNot.whatFrees(model.kind, breaches, { model, trial: exact.trial });
  const problems = breaches.map(
    (breach): SchemeProblem => ({
      code: breach.code,
      message: [breachWords(breach, request), terraceWords(breach, exact)].filter(Boolean).join(" "),
      ...stillTrue(breach, freeing.get(breach.code)),
    }),
  );
  return {
    id: model.kind,
    name: model.name,
    feasible: problems.length === 0,
    problems,
    search: {
      placementsTried: found.placesTried,
      exactTried: found.closelyTried,
      byFootprint: found.byFamily.map(({ shape, costUsd }) => ({
        shape: shape.family,
        objectiveUsd: costUsd,
      })),
    },
  };
}

/** What the points of a design's curves are held against. */
export function curveRules(
  { terraces }: ExactTrial,
  breaches: readonly Pick<Breach, "code">[],
  { lot }: Site,
): CurveRules {
  return {
    broken: breaches.map(({ code }) => code),
    hasTiers: terraces === "stand",
    buildable: lot.buildablePolygons,
  };
}

/** A wall limit below the wall that came out frees nothing: the look that found it saw the outer walls only. */
function stillTrue(
  { code, measured }: Breach,
  freeing: Pick<SchemeProblem, "freed" | "freedBy"> | undefined,
) {
  const freed = freeing?.freed;
  return code === "site-wall" && freed?.rule === "site-wall" && freed.value < measured ? {} : freeing;
}

function onePerCode(breaches: readonly Breach[]): Breach[] {
  const kept = new Map<string, Breach>();
  for (const breach of breaches) if (!kept.has(breach.code)) kept.set(breach.code, breach);
  return [...kept.values()];
}
