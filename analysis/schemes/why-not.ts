/** What would free a scheme that does not fit: found by changing one rule at a time and searching again. */

import { type Reach, surveyReach } from "../access/index.js";
import { kept } from "../chance/kept.js";
import { findBuildable } from "../lot/index.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { Rules, Setbacks, StudyRequest } from "../request/request.js";
import { judgeFor } from "./judge.js";
import { KINDS } from "./kinds.js";
import type { Breach } from "./limits.js";
import { CLOSE, type Judge, type Model, type Trial } from "./model.js";
import { placeQuickly } from "./place-search.js";
import { Placings, searchTurnsRad } from "./placings.js";
import type { FreedRule, SchemeKind, SchemeProblem } from "./scheme.js";
import type { Prices } from "./site-cost.js";

/** One change of one rule, and what to call it when it works. */
interface Change {
  readonly rule: FreedRule;
  readonly value: number;
  readonly words: string;
  readonly scale?: number;
  readonly rules?: Partial<Rules>;
}

/** Footprint tried when the house is too large, slope limit raised by, and the other rules eased by. */
const SMALLER_SHARE = 0.8;
const SLOPE_MORE_PCT = 5;
const SETBACK_LESS_FT = 5;
const WALL_MORE_FT = 2;
const HEIGHT_MORE_FT = 5;
const GRADE_MORE_PCT = 3;

/** Which changes are worth trying against which broken limit, the mildest first. */
const TRIES: Readonly<Record<string, readonly FreedRule[]>> = {
  buildable: ["slope-limit", "setback", "footprint"],
  "site-wall": ["site-wall", "footprint"],
  "basement-wall": ["footprint"],
  height: ["height", "footprint"],
  "fill-too-steep": ["footprint"],
  "too-steep-to-bury": ["footprint"],
  "batter-leaves-lot": ["setback", "footprint"],
  "no-drive": ["drive-grade"],
  "garage-stair": ["footprint"],
};

/** What a lot is searched with: the judge of its trials, and the ground a house may stand on. */
interface Search {
  readonly judge: Judge;
  readonly placings: Placings;
}

/** The scheme that breaks a rule. */
interface Chosen {
  readonly model: Model;
  readonly trial: Trial;
}

export class WhyNot {
  readonly #site: Site;
  readonly #reach: Reach;
  readonly #prices: Prices;
  readonly #asked: Search;
  /** Ground and judge under a change, prepared once for all kinds. */
  readonly #eased = new Map<FreedRule, Search>();
  readonly #known = new Map<string, boolean>();

  /** `asked`: the search under the rules given, of which changes keep what they do not touch. */
  constructor(site: Site, reach: Reach, prices: Prices, asked: Search) {
    this.#site = site;
    this.#reach = reach;
    this.#prices = prices;
    this.#asked = asked;
  }

  /** Per code of a broken limit, the first change under which a scheme of this kind keeps every rule; nothing where none of those tried does. */
  whatFrees(
    kind: SchemeKind,
    breaches: readonly Breach[],
    chosen: Chosen,
  ): Map<string, Pick<SchemeProblem, "freedBy" | "freed">> {
    const freeing = new Map<string, Pick<SchemeProblem, "freedBy" | "freed">>();
    for (const { code } of breaches)
      for (const rule of TRIES[code] ?? []) {
        const change = changeOf(rule, this.#site.request);
        if (!kept(this.#known, `${kind} ${rule}`, () => this.#works(kind, change, chosen))) continue;
        freeing.set(code, { freedBy: change.words, freed: { rule, value: change.value } });
        break;
      }
    return freeing;
  }

  /** The place already found is looked at first: where it keeps every rule nothing need be sought. */
  #works(kind: SchemeKind, change: Change, chosen: Chosen): boolean {
    const { judge, placings } = this.#underChange(change);
    const models = KINDS.find((k) => k.kind === kind)?.models(judge, change.scale ?? 1) ?? [];
    return (
      models.some((model) => model.name === chosen.model.name && standsAt(chosen, model, placings)) ||
      models.some((model) => placeQuickly(model, placings, judge)?.breaches.length === 0)
    );
  }

  #underChange(change: Change): Search {
    let eased = this.#eased.get(change.rule);
    if (!eased) {
      const request = { ...this.#site.request, rules: { ...this.#site.request.rules, ...change.rules } };
      eased = MOVES_GROUND_OR_DRIVE.has(change.rule)
        ? this.#prepared({ ...this.#site, request }, change.rule)
        : { judge: { ...this.#asked.judge, request }, placings: this.#asked.placings };
      this.#eased.set(change.rule, eased);
    }
    return eased;
  }

  #prepared(asked: Site, rule: FreedRule): Search {
    const { survey, terrain, request } = asked;
    const drives = rule === "drive-grade";
    const site = drives ? asked : { ...asked, lot: findBuildable(survey, terrain, request) };
    const reach = drives ? surveyReach(site) : this.#reach;
    const judge = judgeFor(site, reach, this.#prices);
    return {
      judge,
      placings: new Placings(site.lot.buildablePolygons, searchTurnsRad(site, reach), judge.ground),
    };
  }
}

/** Changes that move the ground a house may stand on, or the drives to it. */
const MOVES_GROUND_OR_DRIVE: ReadonlySet<FreedRule> = new Set(["slope-limit", "setback", "drive-grade"]);

/** True when a model, its footprints in the order of the chosen one's, keeps every rule at the chosen place. */
function standsAt({ model: before, trial }: Chosen, model: Model, placings: Placings): boolean {
  const shape = model.shapes[before.shapes.indexOf(trial.shape)];
  if (!shape || !placings.holds(trial.place, shape)) return false;
  return model.tryAt(trial.place, shape, CLOSE, { how: "search" })?.breaches.length === 0;
}

function changeOf(rule: FreedRule, { rules }: StudyRequest): Change {
  switch (rule) {
    case "footprint":
      return {
        rule,
        value: 100 * SMALLER_SHARE,
        scale: SMALLER_SHARE,
        words: `fits with ${100 * SMALLER_SHARE} % of the floor area`,
      };
    case "slope-limit": {
      const value = rules.slopeLimitPct + SLOPE_MORE_PCT;
      return { rule, value, rules: { slopeLimitPct: value }, words: `fits with a slope limit of ${value} %` };
    }
    case "setback":
      return {
        rule,
        value: SETBACK_LESS_FT,
        rules: { setbacksFt: lessened(rules.setbacksFt) },
        words: `fits with every setback ${measure(SETBACK_LESS_FT, "ft")} smaller`,
      };
    case "site-wall": {
      const value = rules.maxSiteWallFt + WALL_MORE_FT;
      return {
        rule,
        value,
        rules: { maxSiteWallFt: value },
        words: `fits with site walls up to ${measure(value, "ft")}`,
      };
    }
    case "height": {
      const value = rules.heightLimitFt + HEIGHT_MORE_FT;
      return {
        rule,
        value,
        rules: { heightLimitFt: value },
        words: `fits with a height limit of ${measure(value, "ft")}`,
      };
    }
    case "drive-grade": {
      const value = rules.driveway.maxGradePct + GRADE_MORE_PCT;
      return {
        rule,
        value,
        rules: { driveway: { ...rules.driveway, maxGradePct: value } },
        words: `fits with a driveway of up to ${value} %`,
      };
    }
  }
}

function lessened(setbacks: Setbacks): Setbacks {
  const less = (ft: number) => Math.max(0, ft - SETBACK_LESS_FT);
  if ("all" in setbacks) return { all: less(setbacks.all) };
  if ("edges" in setbacks) return { edges: setbacks.edges.map(less) };
  return { front: less(setbacks.front), side: less(setbacks.side), rear: less(setbacks.rear) };
}
