/** A trial computed exactly: graded surface, walls, terraces, and what they cost in place of the sampled ones. */
import {
  type GradedSurface,
  gradeSurface,
  type NoTerraces,
  padWalls,
  terraceTallWalls,
  tieredWalls,
  type Wall,
} from "../earthwork/index.js";
import { flatten } from "../geometry/convex-clip.js";
import type { Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { Ground } from "./contained.js";
import type { Judge, Model, Trial } from "./model.js";
import { type PlannedPad, planSurface } from "./plan-surface.js";
import { earthUsd, keyFt3, type SitePrices, siteWallUsd } from "./site-cost.js";
import { LEAST_WALL_FT, LOADED_WALL_FACTOR, WALL_CODES, WALL_ROUNDING_FT } from "./wall-rule.js";

/** A trial with everything exact that ranking needs. */
export interface ExactTrial {
  readonly trial: Trial;
  readonly model: Model;
  /** A garage of its own beside the house, graded with it. */
  readonly apart: Trial | null;
  readonly keyFt3: number;
  readonly surface: GradedSurface | null;
  /** Whether walls too tall for the rule given were set back in tiers, or why not; null where none is too tall. */
  readonly terraces: "stand" | NoTerraces | null;
  readonly walls: readonly Wall[];
  /** Likely site cost with exact volumes and walls in place of the sampled ones. */
  readonly costUsd: number;
}

/** Downhill at the house as a unit vector; east on level ground. */
export function downhillUnit({ place }: Trial, { ground }: Judge): Point {
  const [dx, dy] = ground.downhillAt([place.eastFt, place.northFt], 20);
  const length = Math.hypot(dx, dy);
  return length > 0 ? [dx / length, dy / length] : [1, 0];
}

export function computeExactly(
  trial: Trial,
  model: Model,
  site: Site,
  judge: Judge,
  apart: Trial | null = null,
): ExactTrial {
  const { terrain, request, survey } = site;
  const { rules } = request;
  const plans = (apart ? [trial, apart] : [trial])
    // a raised house alone grades nothing
    .filter(({ layout }) => layout.tiles.length > 0)
    .map((part) => planSurface(part, judge));
  const planned = plans.flatMap((plan) => plan.pads);
  const downhill = downhillUnit(trial, judge);
  const terraces = terracedPads(planned, site);
  const terraced = terraces && typeof terraces !== "string" ? terraces : null;
  const pads = terraced?.pads ?? planned;
  const surface =
    pads.length > 0
      ? gradeSurface(terrain.tin, {
          pads,
          cutBatter: rules.cutBatter,
          fillBatter: rules.fillBatter,
          limit: survey.boundary,
        })
      : null;
  const standing = surface
    ? padWalls(terrain.tin, pads, downhill).filter(({ retainedFt }) => retainedFt > LEAST_WALL_FT)
    : [];
  const walls = terraced ? tieredWalls(standing, terraced.tiers, downhill) : standing;
  const keyed = { keyFt: 0, benchedFt2: 0 };
  let costUsd = trial.costUsd + (apart?.costUsd ?? 0);
  for (const { sketched } of plans) {
    keyed.keyFt += sketched.keyFt;
    keyed.benchedFt2 += sketched.benchedFt2;
    if (surface) costUsd -= earthUsd(sketched, judge.prices) + siteWallUsd(sketched, judge.prices);
  }
  if (surface) costUsd += earthUsd({ ...keyed, ...surface }, judge.prices) + wallsUsd(walls, judge.prices);
  return {
    trial,
    model,
    apart,
    keyFt3: surface ? keyFt3(keyed) : 0,
    surface,
    terraces: terraced ? "stand" : (terraces as NoTerraces | null),
    walls,
    costUsd,
  };
}

/** Walls over the height given set back in tiers where the usable ground has room for them. */
function terracedPads(
  pads: readonly PlannedPad[],
  { terrain, request, lot }: Site,
): ReturnType<typeof terraceTallWalls> {
  const { maxSiteWallFt } = request.rules;
  if (!(maxSiteWallFt > LEAST_WALL_FT)) return null;
  const usable = new Ground(lot.usable);
  return terraceTallWalls(terrain.tin, pads, {
    mostFt: maxSiteWallFt,
    tallFromFt: maxSiteWallFt + WALL_ROUNDING_FT,
    cutBatter: request.rules.cutBatter,
    fillBatter: request.rules.fillBatter,
    hasRoom: (ring) => usable.holds(flatten(ring)),
  });
}

export function wallsUsd(walls: readonly Wall[], prices: SitePrices): number {
  let usd = 0;
  for (const { classes, surcharge } of walls)
    classes.forEach(({ faceFt2 }, i) => {
      usd +=
        faceFt2 *
        prices.wallFaceFt2[Math.min(i, WALL_CODES.length - 1)]! *
        (surcharge ? LOADED_WALL_FACTOR : 1);
    });
  return usd;
}
