/** Tries every way to build and answers with the best of each kind, whether it fits or not. */
import type { Reach } from "../access/access.js";
import type { MultiPolygon } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { asDraft, bestDraft, type Candidate, type Draft, otherDrafts } from "./draft.js";
import { fixedPad } from "./fixed-pad.js";
import type { GroundGrid } from "./ground-grid.js";
import { judgeFor } from "./judge.js";
import { KINDS } from "./kinds.js";
import type { Breach } from "./limits.js";
import type { Judge, Model } from "./model.js";
import { anywhere, searchPlaces } from "./place-search.js";
import { Placings, searchTurnsRad } from "./placings.js";
import type { Found } from "./refine.js";
import type { SchemeDesign } from "./scheme.js";
import type { Prices } from "./site-cost.js";
import { WhyNot } from "./why-not.js";

export interface SchemeInputs {
  readonly reach: Reach;
  /** Likely unit price per cost-book code. */
  readonly prices: Prices;
}

/** A way to build where it costs least, and the same at the next best places where it keeps every rule, cheapest first: each drawn when it is asked for. */
export interface Proposal {
  readonly best: Draft;
  readonly others: () => Iterable<Draft>;
}

/**
 * With `request.brief.pads` one fixed-pad scheme for each, computed as given. Otherwise one scheme of every kind the brief
 * allows, placed where its likely site cost is least; one that breaks a rule says which and what would free it.
 */
export function proposeSchemes(site: Site, inputs: SchemeInputs): readonly SchemeDesign[] {
  return proposals(site, inputs).map(({ best }) => best.finished());
}

/** The schemes of `proposeSchemes` with other places for each. */
export function proposals(site: Site, { reach, prices }: SchemeInputs): readonly Proposal[] {
  const { request } = site;
  const judge = judgeFor(site, reach, prices);
  if (request.brief.pads)
    return request.brief.pads.map((pad) => ({
      best: asDraft(fixedPad(pad, site, judge)),
      others: () => [],
    }));
  const grounds = new Grounds(site, reach, judge);
  const whyNot = new WhyNot(site, reach, prices, { judge, placings: grounds.buildable });
  const inputs = { site, judge, whyNot };
  return KINDS.filter(({ kind }) => request.brief.basement !== "none" || !kind.endsWith("basement")).map(
    ({ models }) => {
      const candidates = models(judge, 1).map((model) => bestOf(model, grounds, site, judge));
      const chosen = candidates.reduce((a, b) => (b.scoreUsd < a.scoreUsd ? b : a));
      return { best: bestDraft(chosen, inputs), others: () => otherDrafts(chosen, inputs) };
    },
  );
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
