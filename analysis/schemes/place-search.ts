/** Finds where, which way round and how high a kind of scheme costs least: many quick looks, then close ones near the best. */
import { areaFt2, boxOf, type MultiPolygon, type Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { TurnedGround } from "./admissible.js";
import { Ground } from "./contained.js";
import type { FootprintShape } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import {
  CLOSE,
  type Effort,
  footprintFlat,
  GLANCE,
  type Model,
  NEARER,
  outlineOfShape,
  QUICK,
  type Trial,
} from "./model.js";
import type { Place } from "./sketch.js";

/** Step between the turns tried first. */
const TURN_STEP_DEG = 10;
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

/** Rounds of refinement: how many go in, how closely they are looked at, how far they move, turn and lift. */
const ROUNDS: readonly Round[] = [
  { entrants: 40, effort: QUICK, moveFt: 6, turnDeg: 8, liftFt: 0.8 },
  { entrants: 16, effort: QUICK, moveFt: 3, turnDeg: 4, liftFt: 0.4 },
  { entrants: 16, effort: NEARER, moveFt: 2, turnDeg: 3, liftFt: 0.4, shakes: true },
  { entrants: 4, effort: CLOSE, moveFt: 1, turnDeg: 1.5, liftFt: 0.2 },
  { entrants: 2, effort: CLOSE, moveFt: 0.5, turnDeg: 0.7, liftFt: 0.1 },
  { entrants: 1, effort: CLOSE, moveFt: 0.25, turnDeg: 0.3, liftFt: 0.05 },
];
/** A quick answer to whether anything fits. */
const SHORT_ROUNDS: readonly Round[] = [
  { entrants: 8, effort: QUICK, moveFt: 6, turnDeg: 8, liftFt: 0.8 },
  { entrants: 3, effort: NEARER, moveFt: 2, turnDeg: 3, liftFt: 0.4 },
  { entrants: 1, effort: CLOSE, moveFt: 0.5, turnDeg: 1, liftFt: 0.1 },
];
/** Times a round may go over its moves before the next, finer one takes over. */
const MOST_SWEEPS = 6;

interface Round {
  readonly entrants: number;
  /** The best is knocked out of its place in several directions afterwards, and refined again from there. */
  readonly shakes?: boolean;
  readonly effort: Effort;
  readonly moveFt: number;
  readonly turnDeg: number;
  readonly liftFt: number;
}

export interface Found {
  readonly best: Trial;
  readonly placesTried: number;
  /** Trials that walked the real ground. */
  readonly closelyTried: number;
  /** Cheapest trial of each shape family, cheapest first. */
  readonly byFamily: readonly Trial[];
}

/** The ground a footprint may stand on: exact, and as turned masks shared by every kind and shape. */
export class Placings {
  readonly turns: readonly TurnedGround[];
  readonly groundFt2: number;
  readonly #exact: Ground;
  readonly #outlines = new Map<
    FootprintShape,
    { readonly corners: readonly Point[]; readonly placed: Float64Array }
  >();

  constructor(polygons: MultiPolygon, axisRad: number) {
    this.#exact = new Ground(polygons);
    this.groundFt2 = areaFt2(polygons);
    this.turns = this.#exact.isEmpty
      ? []
      : Array.from(
          { length: 180 / TURN_STEP_DEG },
          (_, i) => new TurnedGround(polygons, axisRad + (i * TURN_STEP_DEG * Math.PI) / 180),
        );
  }

  /** True when the placed footprint lies wholly on the ground. */
  holds(place: Place, shape: FootprintShape): boolean {
    let outline = this.#outlines.get(shape);
    if (!outline) {
      const corners = outlineOfShape(shape);
      outline = { corners, placed: new Float64Array(2 * corners.length) };
      this.#outlines.set(shape, outline);
    }
    return this.#exact.holds(footprintFlat(place, outline.corners, outline.placed));
  }
}

/** Direction the turns are counted from: along the contour of the mean slope; the longest lot line where the ground is level. It turns with the lot. */
export function searchAxisRad({ terrain, survey }: Site): number {
  const { grid, values } = terrain.elevation;
  let n = 0;
  let sx = 0;
  let sy = 0;
  for (let row = 0; row + 1 < grid.rows; row++)
    for (let col = 0; col + 1 < grid.cols; col++) {
      const i = row * grid.cols + col;
      const dx = values[i + 1]! - values[i]!;
      const dy = values[i + grid.cols]! - values[i]!;
      if (Number.isNaN(dx + dy)) continue;
      n++;
      sx += dx;
      sy += dy;
    }
  if (n > 0 && Math.hypot(sx, sy) > LEVEL_SLOPE * n * grid.cellFt) return Math.atan2(sy, sx) + Math.PI / 2;
  let longest = 0;
  let axis = 0;
  survey.boundary.forEach(([ax, ay], i) => {
    const [bx, by] = survey.boundary[(i + 1) % survey.boundary.length]!;
    if (Math.hypot(bx - ax, by - ay) > longest) {
      longest = Math.hypot(bx - ax, by - ay);
      axis = Math.atan2(by - ay, bx - ax);
    }
  });
  return axis;
}

/** Mean slopes below this have no direction worth following. */
const LEVEL_SLOPE = 0.01;

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

function byScore(a: Trial, b: Trial): number {
  return a.scoreUsd - b.scoreUsd;
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

/** Round after round the better part goes on, moved in finer steps as long as that lowers the score. */
function refine(
  seeds: readonly Trial[],
  rounds: readonly Round[],
  model: Model,
  placings: Placings,
  placesTried: number,
): Found | null {
  const cheapest = new Map<string, Trial>();
  let closelyTried = 0;
  let trials = seeds;
  let effort: Effort | null = null;
  for (const round of rounds) {
    let entrants: readonly Trial[] = trials.slice(0, round.entrants);
    if (effort !== null && round.effort !== effort)
      entrants = entrants
        .map((trial) => model.tryAt(trial.place, trial.shape, round.effort, { how: "near", like: trial }))
        .filter((trial) => trial !== null);
    effort = round.effort;
    const count = () => {
      if (round.effort.exact) closelyTried++;
    };
    trials = entrants.map((trial) => improve(trial, round, model, placings, count)).sort(byScore);
    if (round.shakes) trials = shaken(trials, round, model, placings, count);
    for (const trial of trials) {
      const known = cheapest.get(trial.shape.family);
      // a closer look replaces a quick one even where it finds more to pay for
      if (!known || round.effort.exact || trial.scoreUsd < known.scoreUsd)
        cheapest.set(trial.shape.family, trial);
    }
  }
  const [best] = trials;
  return best ? { best, placesTried, closelyTried, byFamily: [...cheapest.values()].sort(byScore) } : null;
}

/** Moves, turns, lifts and lowers the house in steps of one size as long as that lowers the score. */
function improve(
  start: Trial,
  { effort, moveFt, turnDeg, liftFt }: Round,
  model: Model,
  placings: Placings,
  count: () => void,
): Trial {
  let best = start;
  const take = (trial: Trial | null): boolean => {
    count();
    if (!trial || trial.scoreUsd >= best.scoreUsd) return false;
    best = trial;
    return true;
  };
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let better = false;
    for (const [du, dv, dt] of MOVES) {
      const place = moved(best.place, du * moveFt, dv * moveFt, (dt * turnDeg * Math.PI) / 180);
      if (!placings.holds(place, best.shape)) continue;
      if (take(model.tryAt(place, best.shape, effort, { how: "carry", like: best }))) better = true;
    }
    for (const up of [liftFt, -liftFt]) {
      const levelFt = best.levelFt + up;
      if (take(model.tryAt(best.place, best.shape, effort, { how: "set", like: best, levelFt })))
        better = true;
    }
    if (!better) break;
  }
  take(model.tryAt(best.place, best.shape, effort, { how: "near", like: best }));
  return best;
}

/** Knocks: feet along u and v, and degrees. */
const KNOCKS = [
  [4, 0, 0],
  [-4, 0, 0],
  [0, 4, 0],
  [0, -4, 0],
  [0, 0, 7],
  [0, 0, -7],
  [3, 3, 5],
  [-3, -3, 5],
  [3, -3, -5],
  [-3, 3, -5],
] as const;

/** The trials with their best knocked about: a lower score found from a knock takes the first place. */
function shaken(
  trials: readonly Trial[],
  round: Round,
  model: Model,
  placings: Placings,
  count: () => void,
): readonly Trial[] {
  const [first] = trials;
  if (!first) return trials;
  let best = first;
  for (const [du, dv, deg] of KNOCKS) {
    const place = moved(first.place, du, dv, (deg * Math.PI) / 180);
    if (!placings.holds(place, first.shape)) continue;
    const knocked = model.tryAt(place, first.shape, round.effort, { how: "near", like: first });
    if (!knocked) continue;
    const trial = improve(knocked, round, model, placings, count);
    if (trial.scoreUsd < best.scoreUsd) best = trial;
  }
  return best === first ? trials : [best, ...trials];
}

const MOVES: readonly (readonly [du: number, dv: number, turn: number])[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
  [1, 1, 0],
  [1, -1, 0],
  [-1, 1, 0],
  [-1, -1, 0],
];

function moved({ eastFt, northFt, turnRad }: Place, du: number, dv: number, turn: number): Place {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return {
    eastFt: eastFt + du * cos - dv * sin,
    northFt: northFt + du * sin + dv * cos,
    turnRad: turnRad + turn,
  };
}
