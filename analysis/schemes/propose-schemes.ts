/** Tries every way to build and answers with the best of each kind, whether it fits or not. */
import type { Reach } from "../access/access.js";
import type { MultiPolygon } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { curvesOf } from "./curves.js";
import { drawDesign } from "./design.js";
import { exactProblems } from "./exact-problems.js";
import { computeExactly } from "./exact-trial.js";
import { fixedPad } from "./fixed-pad.js";
import type { GroundGrid } from "./ground-grid.js";
import { judgeFor } from "./judge.js";
import { KINDS } from "./kinds.js";
import type { Breach } from "./limits.js";
import type { Judge, Model, Trial } from "./model.js";
import { anywhere, searchPlaces } from "./place-search.js";
import { Placings, searchTurnsRad } from "./placings.js";
import { breachWords, terraceWords } from "./problem-words.js";
import type { Found } from "./refine.js";
import type { SchemeDesign, SchemeKind, SchemeProblem } from "./scheme.js";
import type { Prices } from "./site-cost.js";
import { WhyNot } from "./why-not.js";

export interface SchemeInputs {
  readonly reach: Reach;
  /** Likely unit price per cost-book code. */
  readonly prices: Prices;
}

/** A way to build where it costs least, and the same at the next best places, cheapest first: drawn when asked for. */
export interface Proposal {
  readonly design: SchemeDesign;
  readonly others: () => readonly SchemeDesign[];
}

/**
 * With `request.brief.pads` one fixed-pad scheme for each, computed as given. Otherwise one scheme of every kind the brief
 * allows, placed where its likely site cost is least; one that breaks a rule says which and what would free it.
 */
export function proposeSchemes(site: Site, inputs: SchemeInputs): readonly SchemeDesign[] {
  return proposals(site, inputs).map(({ design }) => design);
}

/** The schemes of `proposeSchemes` with other places for each. */
export function proposals(site: Site, { reach, prices }: SchemeInputs): readonly Proposal[] {
  const { request } = site;
  const judge = judgeFor(site, reach, prices);
  if (request.brief.pads)
    return request.brief.pads.map((pad) => ({ design: fixedPad(pad, site, judge), others: () => [] }));
  const grounds = new Grounds(site, reach, judge);
  const whyNot = new WhyNot(site, reach, prices, { judge, placings: grounds.buildable });
  return KINDS.filter(({ kind }) => request.brief.basement !== "none" || !kind.endsWith("basement")).map(
    ({ kind, models }) => {
      const candidates = models(judge, 1).map((model) => bestOf(model, grounds, site, judge));
      const chosen = candidates.reduce((a, b) => (b.scoreUsd < a.scoreUsd ? b : a));
      const at = (trial: Trial) => designAt(trial, chosen, kind, site, judge, whyNot);
      return { design: at(chosen.trial), others: () => chosen.found.others.slice(0, MOST_OTHERS).map(at) };
    },
  );
}

/** Other places drawn where no car reaches the best one. */
const MOST_OTHERS = 4;

/** One trial of a candidate drawn exactly, with what stands against it. */
function designAt(
  trial: Trial,
  { model, found, extra }: Candidate,
  kind: SchemeKind,
  site: Site,
  judge: Judge,
  whyNot: WhyNot,
): SchemeDesign {
  const { request } = site;
  const exact = computeExactly(trial, model, site, judge);
  const drawn = drawDesign(exact, site, judge);
  // the search saw one tall wall where tiers stand now
  const sought = trial.breaches.filter(({ code }) => !(exact.terraces === "stand" && code === "site-wall"));
  const breaches = onePerCode([...extra, ...sought, ...exactProblems(exact, drawn.walls, site)]);
  const freeing = whyNot.whatFrees(kind, breaches, { model, trial });
  const problems = breaches.map(
    (breach): SchemeProblem => ({
      code: breach.code,
      message: [breachWords(breach, request), terraceWords(breach, exact)].filter(Boolean).join(" "),
      ...stillTrue(breach, freeing.get(breach.code)),
    }),
  );
  return {
    id: kind,
    name: model.name,
    feasible: problems.length === 0,
    problems,
    ...drawn,
    search: {
      placementsTried: found.placesTried,
      exactTried: found.closelyTried,
      byFootprint: found.byFamily.map(({ shape, costUsd }) => ({
        shape: shape.family,
        objectiveUsd: costUsd,
      })),
    },
    curves: curvesOf(trial, model, request.brief.floorAreaFt2),
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

interface Candidate {
  readonly trial: Trial;
  readonly model: Model;
  readonly found: Found;
  readonly extra: readonly Breach[];
  readonly scoreUsd: number;
}

/** Added to the score of a scheme that had to leave the buildable ground. Arbitrary, larger than any penalty inside it. */
const OFF_BUILDABLE_USD = 1e8;

/** The best trial of a model; where none fits the buildable ground, on ever wider ground. */
function bestOf(model: Model, grounds: Grounds, site: Site, judge: Judge): Candidate {
  const extra: Breach[] = [];
  let found: Found | null = null;
  for (const placings of grounds.fromBest()) {
    found = searchPlaces(model, placings, judge);
    if (found) break;
    if (extra.length === 0) extra.push({ code: "buildable", measured: 0, limit: 0 });
  }
  found ??= anywhere(model, site);
  const trial = found.best;
  return { trial, model, found, extra, scoreUsd: trial.scoreUsd + extra.length * OFF_BUILDABLE_USD };
}

/** The ground a house may stand on, then wider ground for showing what does not fit; each prepared when first asked for. */
class Grounds {
  readonly #site: Site;
  readonly #ground: GroundGrid;
  readonly #turnsRad: readonly number[];
  readonly #made: Placings[] = [];

  constructor(site: Site, reach: Reach, { ground }: Judge) {
    this.#site = site;
    this.#ground = ground;
    this.#turnsRad = searchTurnsRad(site, reach);
  }

  get buildable(): Placings {
    return this.#at(0, this.#site.lot.buildablePolygons);
  }

  *fromBest(): Generator<Placings> {
    const { lot, survey } = this.#site;
    yield this.buildable;
    yield this.#at(1, lot.usable);
    yield this.#at(2, [[survey.boundary]]);
  }

  #at(index: number, polygons: MultiPolygon): Placings {
    const placings = this.#made[index] ?? new Placings(polygons, this.#turnsRad, this.#ground);
    this.#made[index] = placings;
    return placings;
  }
}

function onePerCode(breaches: readonly Breach[]): Breach[] {
  const kept = new Map<string, Breach>();
  for (const breach of breaches) if (!kept.has(breach.code)) kept.set(breach.code, breach);
  return [...kept.values()];
}
