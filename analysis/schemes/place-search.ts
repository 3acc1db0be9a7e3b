/** Finds where, which way round and how high a kind of scheme costs least: many quick looks, then close ones near the best. */
import { areaFt2, boxOf, type MultiPolygon } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { TurnedGround } from "./admissible.js";
import { Ground } from "./contained.js";
import type { GroundGrid } from "./ground-grid.js";
import { CLOSE, type Effort, footprintRing, GLANCE, type Model, QUICK, type Trial } from "./model.js";
import type { Place } from "./sketch.js";

/** Step between the turns tried first. */
const TURN_STEP_DEG = 15;
/** Quick looks per shape and turn: at least so many, one more for each patch of ground of this size, at most so many. */
const LEAST_LOOKS = 16;
const GROUND_PER_LOOK_FT2 = 1000;
const MOST_LOOKS = 200;
/** A house that faces downhill may stand this far off the fall line. */
const OFF_FALL_LINE_DEG = 50;
/** Places kept after the glance, no two of one shape family nearer than this; of those refined, and of those refined closely. */
const KEPT = 32;
const APART_FT = 12;
const QUICKLY = 10;
const CLOSELY = 3;
const FALL_ARM_FT = 15;

export interface Found {
  /** The closely refined trials, best first. */
  readonly closest: readonly Trial[];
  readonly placesTried: number;
  /** Cheapest trial of each shape family, cheapest first. */
  readonly byFamily: readonly Trial[];
}

/** The ground a footprint may stand on: exact, and as turned masks shared by every kind and shape. */
export class Placings {
  readonly exact: Ground;
  readonly turns: readonly TurnedGround[];
  readonly groundFt2: number;

  constructor(polygons: MultiPolygon, axisRad: number) {
    this.exact = new Ground(polygons);
    this.groundFt2 = areaFt2(polygons);
    this.turns = this.exact.isEmpty
      ? []
      : Array.from(
          { length: 180 / TURN_STEP_DEG },
          (_, i) => new TurnedGround(polygons, axisRad + (i * TURN_STEP_DEG * Math.PI) / 180),
        );
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
  const quick = refineQuickly(seeds.slice(0, QUICKLY), model, placings);
  const closest: Trial[] = [];
  for (const trial of quick.slice(0, CLOSELY)) {
    const close = model.tryAt(trial.place, trial.shape, CLOSE, { how: "near", like: trial });
    if (close) closest.push(refine(close, model, placings.exact, CLOSE, 1, 2));
  }
  if (closest.length === 0) return null;
  closest.sort(byScore);
  return { closest, placesTried, byFamily: cheapestByFamily([...closest, ...quick]) };
}

/** A good trial, not the best: enough to tell whether anything fits. Starts from a place known to be near. */
export function placeQuickly(
  model: Model,
  placings: Placings,
  ground: GroundGrid,
  near: Trial,
): Trial | null {
  const closely = (trial: Trial | undefined) => {
    const close = trial && model.tryAt(trial.place, trial.shape, CLOSE, { how: "near", like: trial });
    return close ? refine(close, model, placings.exact, CLOSE, 1, 2) : null;
  };
  const here = model.shapes
    .filter(
      ({ family }) =>
        family === near.shape.family || model.shapes.every((s) => s.family !== near.shape.family),
    )
    .map((shape) => model.tryAt(near.place, shape, QUICK, SEARCH))
    .filter((trial) => trial !== null && placings.exact.holds(footprintRing(trial.place, trial.shape)))
    .map((trial) => refine(trial!, model, placings.exact, QUICK, 8, 6))
    .sort(byScore);
  const first = closely(here[0]);
  if (first?.breaches.length === 0) return first;
  const { seeds } = glance(model, placings, ground);
  return closely(refineQuickly(seeds.slice(0, CLOSELY), model, placings)[0]);
}

/** A coarse look at all shapes in all turns all over the ground; the best exactly admissible ones, cheapest first. */
function glance(
  model: Model,
  placings: Placings,
  ground: GroundGrid,
): { seeds: Trial[]; placesTried: number } {
  const kept = new Shortlist();
  const looks = Math.min(MOST_LOOKS, Math.max(LEAST_LOOKS, placings.groundFt2 / GROUND_PER_LOOK_FT2));
  let placesTried = 0;
  for (const turned of placings.turns)
    for (const shape of model.shapes)
      for (const upright of turned.places(shape, looks)) {
        const place = model.facesDownhill ? facingDownhill(upright, ground) : upright;
        if (place === null) continue;
        placesTried++;
        const trial = model.tryAt(place, shape, GLANCE, SEARCH);
        if (trial) kept.offer(trial);
      }
  const seeds = kept.best
    .map((trial) => settle(trial, model, placings.exact))
    .filter((trial) => trial !== null)
    .sort(byScore);
  return { seeds, placesTried };
}

function refineQuickly(seeds: readonly Trial[], model: Model, placings: Placings): Trial[] {
  return seeds.map((trial) => refine(trial, model, placings.exact, QUICK, 8, 6)).sort(byScore);
}

/** Where nothing fits at all: in the middle of the lot, along the search axis, on whatever ground the survey shows. */
export function anywhere(model: Model, site: Site): Found {
  const place: Place = { ...middleOf(site), turnRad: searchAxisRad(site) };
  for (const shape of model.shapes) {
    const trial = model.tryAt(place, shape, { ...CLOSE, lenient: true }, SEARCH);
    if (trial) return { closest: [trial], placesTried: 1, byFamily: [trial] };
  }
  throw new RangeError("a site has surveyed ground on its lot");
}

function middleOf({ survey }: Site): { eastFt: number; northFt: number } {
  const box = boxOf(survey.boundary);
  return { eastFt: (box.minEastFt + box.maxEastFt) / 2, northFt: (box.minNorthFt + box.maxNorthFt) / 2 };
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

/** The cheapest trials so far, spread over the lot. */
class Shortlist {
  best: Trial[] = [];

  offer(trial: Trial): void {
    const last = this.best[this.best.length - 1];
    if (this.best.length >= KEPT && last && trial.scoreUsd >= last.scoreUsd) return;
    const near = this.best.findIndex(
      (b) =>
        b.shape.family === trial.shape.family &&
        Math.hypot(b.place.eastFt - trial.place.eastFt, b.place.northFt - trial.place.northFt) < APART_FT,
    );
    if (near >= 0) {
      if (this.best[near]!.scoreUsd <= trial.scoreUsd) return;
      this.best.splice(near, 1);
    }
    const at = this.best.findIndex((b) => b.scoreUsd > trial.scoreUsd);
    this.best.splice(at < 0 ? this.best.length : at, 0, trial);
    if (this.best.length > KEPT) this.best.pop();
  }
}

/** A trial whose footprint lies exactly on the ground: itself, or moved by up to a few feet; null when that does not help. */
function settle(trial: Trial, model: Model, exact: Ground): Trial | null {
  const look = (place: Place) => model.tryAt(place, trial.shape, QUICK, SEARCH);
  if (exact.holds(footprintRing(trial.place, trial.shape))) return look(trial.place);
  for (const radius of [0.5, 1, 2, 3])
    for (let i = 0; i < 8; i++) {
      const angle = trial.place.turnRad + (i * Math.PI) / 4;
      const place = {
        ...trial.place,
        eastFt: trial.place.eastFt + radius * Math.cos(angle),
        northFt: trial.place.northFt + radius * Math.sin(angle),
      };
      if (exact.holds(footprintRing(place, trial.shape))) return look(place);
    }
  return null;
}

const SEARCH = { how: "search" } as const;
/** Smallest move and change of level that still count. */
const LAST_MOVE_FT = 0.25;
const LAST_LEVEL_FT = 0.1;

/** Moves, turns, lifts and lowers the house as long as that lowers the score, in steps halved down to a quarter of a foot. */
function refine(
  start: Trial,
  model: Model,
  exact: Ground,
  effort: Effort,
  moveFt: number,
  turnDeg: number,
): Trial {
  let best = start;
  let move = moveFt;
  let turn = (turnDeg * Math.PI) / 180;
  let lift = moveFt / 4;
  const take = (trial: Trial | null): boolean => {
    if (!trial || trial.scoreUsd >= best.scoreUsd) return false;
    best = trial;
    return true;
  };
  while (move >= LAST_MOVE_FT) {
    let better = false;
    for (const [du, dv, dt] of MOVES) {
      const place = moved(best.place, du * move, dv * move, dt * turn);
      if (
        exact.holds(footprintRing(place, best.shape)) &&
        take(model.tryAt(place, best.shape, effort, { how: "carry", like: best }))
      )
        better = true;
    }
    for (const up of [lift, -lift])
      if (
        take(
          model.tryAt(best.place, best.shape, effort, { how: "set", like: best, levelFt: best.levelFt + up }),
        )
      )
        better = true;
    if (better) continue;
    move /= 2;
    turn /= 2;
    lift = Math.max(LAST_LEVEL_FT, lift / 2);
    take(model.tryAt(best.place, best.shape, effort, { how: "near", like: best }));
  }
  return best;
}

const MOVES: readonly (readonly [du: number, dv: number, turn: number])[] = [
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
  [0, 0, 1],
  [0, 0, -1],
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

function cheapestByFamily(trials: readonly Trial[]): Trial[] {
  const byFamily = new Map<string, Trial>();
  for (const trial of trials) {
    const known = byFamily.get(trial.shape.family);
    if (!known || trial.scoreUsd < known.scoreUsd) byFamily.set(trial.shape.family, trial);
  }
  return [...byFamily.values()].sort(byScore);
}
