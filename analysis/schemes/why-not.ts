/** What would free a scheme that does not fit: found by changing one rule at a time and searching again. */

import { type Reach, surveyReach } from "../access/index.js";
import { findBuildable } from "../lot/index.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { Rules, Setbacks, StudyRequest } from "../request/request.js";
import { judgeFor } from "./judge.js";
import { KINDS } from "./kinds.js";
import type { Breach } from "./limits.js";
import type { Judge } from "./model.js";
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

export class WhyNot {
  readonly #site: Site;
  readonly #reach: Reach;
  readonly #prices: Prices;
  /** Ground and judge under a change, prepared once for all kinds. */
  readonly #eased = new Map<FreedRule, { readonly judge: Judge; readonly placings: Placings }>();

  constructor(site: Site, reach: Reach, prices: Prices) {
    this.#site = site;
    this.#reach = reach;
    this.#prices = prices;
  }

  /** Per code of a broken limit, the first change under which a scheme of this kind keeps every rule; nothing where none of those tried does. */
  whatFrees(
    kind: SchemeKind,
    breaches: readonly Breach[],
  ): Map<string, Pick<SchemeProblem, "freedBy" | "freed">> {
    const freeing = new Map<string, Pick<SchemeProblem, "freedBy" | "freed">>();
    const known = new Map<FreedRule, boolean>();
    for (const { code } of breaches)
      for (const rule of TRIES[code] ?? []) {
        const change = changeOf(rule, this.#site.request);
        let works = known.get(rule);
        if (works === undefined) {
          works = this.#works(kind, change);
          known.set(rule, works);
        }
        if (!works) continue;
        freeing.set(code, { freedBy: change.words, freed: { rule, value: change.value } });
        break;
      }
    return freeing;
  }

  #works(kind: SchemeKind, change: Change): boolean {
    const { judge, placings } = this.#underChange(change);
    const models = KINDS.find((k) => k.kind === kind)?.models(judge, change.scale ?? 1) ?? [];
    return models.some((model) => placeQuickly(model, placings, judge)?.breaches.length === 0);
  }

  #underChange(change: Change): { readonly judge: Judge; readonly placings: Placings } {
    let eased = this.#eased.get(change.rule);
    if (!eased) {
      const request = { ...this.#site.request, rules: { ...this.#site.request.rules, ...change.rules } };
      const moved = change.rule === "slope-limit" || change.rule === "setback";
      const { survey, terrain } = this.#site;
      const site: Site = {
        ...this.#site,
        request,
        lot: moved ? findBuildable(survey, terrain, request) : this.#site.lot,
      };
      const reach = change.rule === "drive-grade" ? surveyReach(site) : this.#reach;
      const judge = judgeFor(site, reach, this.#prices);
      eased = {
        judge,
        placings: new Placings(site.lot.buildablePolygons, searchTurnsRad(site, reach), judge.ground),
      };
      this.#eased.set(change.rule, eased);
    }
    return eased;
  }
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
