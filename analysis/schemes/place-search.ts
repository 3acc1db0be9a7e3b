/** Finds where, which way round and how high a kind of scheme costs least: many glances, then rounds of refinement. */
import { boxOf } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { GroundGrid } from "./ground-grid.js";
import { GLANCE, type Model, QUICK, type Trial } from "./model.js";
import type { Place } from "./place.js";
import { type Placings, searchAxisRad } from "./placings.js";
import { byScore, type Found, ROUNDS, refine, SHORT_ROUNDS } from "./refine.js";

/** Glances in all on ground up to this size, more in proportion on larger ground; per shape and turn at least and at most so many. */
const GLANCES = 2400;
const GLANCED_GROUND_FT2 = 30_000;
const MOST_GROUND_FACTOR = 8;
const LEAST_GLANCES = 12;
const MOST_GLANCES = 200;
/** A house that faces downhill may stand this far off the fall line. */
const OFF_FALL_LINE_DEG = 50;
const FALL_ARM_FT = 15;
/** The glances are thinned to the best of each patch of ground this wide and each of so many turns of a half circle. */
const PATCH_FT = 8;
const PATCH_TURNS = 8;
/** Offers after which the limit for keeping is looked at again. */
const OFFERS_PER_LIMIT = 100;
/** Trials kept after the glances, and how far apart (or turned, as a sine) two of one shape family must be to be refined side by side. */
const KEPT = 120;
const APART_FT = 8;
const APART_SINE = 0.4;

/** Null where no placement of any shape was found on admissible, surveyed ground. */
export function searchPlaces(model: Model, placings: Placings, ground: GroundGrid): Found | null {
  const { seeds, placesTried } = glance(model, placings, ground);
  return refine(seeds, ROUNDS, model, placings, placesTried);
}

/** A good trial, not the best: enough to tell whether anything fits. */
export function placeQuickly(model: Model, placings: Placings, ground: GroundGrid): Trial | null {
  const { seeds, placesTried } = glance(model, placings, ground);
  return refine(seeds, SHORT_ROUNDS, model, placings, placesTried)?.best ?? null;
}

/** A glance at all shapes in all turns all over the ground; the best exactly admissible ones, looked at again, spread out, cheapest first. */
function glance(
  model: Model,
  placings: Placings,
  ground: GroundGrid,
): { seeds: Trial[]; placesTried: number } {
  const kept = new Shortlist();
  const larger = Math.min(MOST_GROUND_FACTOR, Math.max(1, placings.groundFt2 / GLANCED_GROUND_FT2));
  const perShapeAndTurn = (GLANCES * larger) / (model.shapes.length * placings.turns.length);
  const glances = Math.min(MOST_GLANCES, Math.max(LEAST_GLANCES, perShapeAndTurn));
  let placesTried = 0;
  for (const turned of placings.turns)
    for (const shape of model.shapes)
      for (const upright of turned.places(shape, glances)) {
        const place = model.facesDownhill ? facingDownhill(upright, ground) : upright;
        if (place === null) continue;
        placesTried++;
        const trial = model.tryAt(place, shape, GLANCE, { how: "search", belowUsd: kept.limitUsd });
        if (trial) kept.offer(trial);
      }
  const again = kept.cheapest
    .map((trial) => settle(trial, model, placings))
    .filter((trial) => trial !== null)
    .sort(byScore);
  const seeds: Trial[] = [];
  for (const trial of again) if (!seeds.some((seed) => areAlike(seed, trial))) seeds.push(trial);
  return { seeds, placesTried };
}

/** Close enough that both would be refined into the same place. */
function areAlike(a: Trial, b: Trial): boolean {
  return (
    a.shape.family === b.shape.family &&
    Math.hypot(a.place.eastFt - b.place.eastFt, a.place.northFt - b.place.northFt) < APART_FT &&
    Math.abs(Math.sin(a.place.turnRad - b.place.turnRad)) < APART_SINE
  );
}

/** Places looked at along each side of the lot's box where nothing fits. */
const PLACES_ANYWHERE = 9;

/** Where nothing fits at all: the least bad of places all over the lot, along the search axis, on whatever ground the survey shows. */
export function anywhere(model: Model, site: Site): Found {
  const { minEastFt, maxEastFt, minNorthFt, maxNorthFt } = boxOf(site.survey.boundary);
  const turnRad = searchAxisRad(site);
  let best: Trial | null = null;
  for (let j = 0; j < PLACES_ANYWHERE; j++)
    for (let i = 0; i < PLACES_ANYWHERE; i++) {
      const eastFt = minEastFt + ((i + 0.5) / PLACES_ANYWHERE) * (maxEastFt - minEastFt);
      const northFt = minNorthFt + ((j + 0.5) / PLACES_ANYWHERE) * (maxNorthFt - minNorthFt);
      const effort = { ...QUICK, lenient: true };
      const trial = model.tryAt({ eastFt, northFt, turnRad }, model.shapes[0]!, effort, SEARCH);
      if (trial && (!best || trial.scoreUsd < best.scoreUsd)) best = trial;
    }
  if (!best) throw new RangeError("a site has surveyed ground on its lot");
  return { best, placesTried: PLACES_ANYWHERE ** 2, closelyTried: 0, byFamily: [best] };
}

/** A house must look downhill along v: the same place turned half round where that helps, null where it lies too far across. */
function facingDownhill(place: Place, ground: GroundGrid): Place | null {
  const [dx, dy] = ground.downhillAt([place.eastFt, place.northFt], FALL_ARM_FT);
  const cosine = (-dx * Math.sin(place.turnRad) + dy * Math.cos(place.turnRad)) / Math.hypot(dx, dy);
  if (!(Math.abs(cosine) >= Math.cos((OFF_FALL_LINE_DEG * Math.PI) / 180))) return null;
  return cosine > 0 ? place : { ...place, turnRad: place.turnRad + Math.PI };
}

/** The cheapest trial of every small patch of ground, eighth of a half circle and shape family. */
class Shortlist {
  readonly #byPatch = new Map<string, Trial>();

  /** Score that a trial must come below to be kept; lowered now and then as better ones come in. */
  limitUsd = Infinity;
  #offered = 0;

  offer(trial: Trial): void {
    const { eastFt, northFt, turnRad } = trial.place;
    const eighth = Math.floor((turnRad / Math.PI) * PATCH_TURNS) % PATCH_TURNS;
    const patch = `${Math.floor(eastFt / PATCH_FT)} ${Math.floor(northFt / PATCH_FT)} ${eighth} ${trial.shape.family}`;
    const known = this.#byPatch.get(patch);
    if (!known || trial.scoreUsd < known.scoreUsd) this.#byPatch.set(patch, trial);
    if (++this.#offered % OFFERS_PER_LIMIT === 0)
      this.limitUsd = this.cheapest[KEPT - 1]?.scoreUsd ?? Infinity;
  }

  get cheapest(): Trial[] {
    return [...this.#byPatch.values()].sort(byScore).slice(0, KEPT);
  }
}

/** A trial whose footprint lies exactly on the ground: itself, or moved by up to a few feet; null when that does not help. */
function settle(trial: Trial, model: Model, placings: Placings): Trial | null {
  const look = (place: Place) => model.tryAt(place, trial.shape, QUICK, SEARCH);
  if (placings.holds(trial.place, trial.shape)) return look(trial.place);
  for (const radius of [0.5, 1, 2, 3])
    for (let i = 0; i < 8; i++) {
      const angle = trial.place.turnRad + (i * Math.PI) / 4;
      const place = {
        ...trial.place,
        eastFt: trial.place.eastFt + radius * Math.cos(angle),
        northFt: trial.place.northFt + radius * Math.sin(angle),
      };
      if (placings.holds(place, trial.shape)) return look(place);
    }
  return null;
}

const SEARCH = { how: "search" } as const;
