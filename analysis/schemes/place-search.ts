/** Finds where, which way round and how high a kind of scheme costs least: every place by its outlook, the best at a glance, then rounds of refinement. */
import FlatQueue from "flatqueue";
import { boxOf, type Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { DriveCost } from "./drive-cost.js";
import { boxOfShape, type FootprintShape } from "./footprints.js";
import { GLANCE, type Judge, type Model, QUICK, type Trial } from "./model.js";
import { areNear, NearPlaces } from "./near-places.js";
import { onLot, type Place } from "./place.js";
import { type Placings, searchAxisRad } from "./placings.js";
import { byScore, type Found, ROUNDS, refine, SHORT_ROUNDS } from "./refine.js";
import type { Relief, TurnedGround } from "./turned-ground.js";

/** Places whose outlook is weighed, on ground up to this size, more in proportion on larger ground; and of each shape and turn at least. */
const OUTLOOKS = 6_000;
const WEIGHED_GROUND_FT2 = 30_000;
const MOST_GROUND_FACTOR = 2;
const LEAST_OUTLOOKS = 12;
/** Places glanced at, the best by their outlook: in all, for a quick answer, and the share of each shape at least; this far apart (or turned, as a sine) for one shape. */
const GLANCES = 240;
const QUICK_GLANCES = 100;
const LEAST_GLANCES_SHARE = 0.075;
const GLANCED_APART_FT = 10;
const GLANCED_APART_SINE = 0.25;
/** Places ranked for each that is glanced at, so that clusters can be passed over, and places whose drive is looked at with its turns. */
const RANKED = 12;
const DRIVEN = 2;
/** A house that faces downhill may stand this far off the fall line. */
const FACING_COSINE = Math.cos((50 * Math.PI) / 180);
/** Trials kept after the glances, and how far apart (or turned, as a sine) two of one shape family must be to be refined side by side. */
const KEPT = 40;
/** Glances that come out dearer than so many others are given up half-way: room for those near one another to be passed over. */
const GLANCES_KEPT = 150;
const APART_FT = 8;
const APART_SINE = 0.4;

/** Null where no placement of any shape was found on admissible, surveyed ground. */
export function searchPlaces(model: Model, placings: Placings, judge: Judge): Found | null {
  const { seeds, placesTried } = glance(model, placings, judge, GLANCES);
  return refine(seeds, ROUNDS, model, placings, placesTried);
}

/** A good trial, not the best: enough to tell whether anything fits. */
export function placeQuickly(model: Model, placings: Placings, judge: Judge): Trial | null {
  const { seeds, placesTried } = glance(model, placings, judge, QUICK_GLANCES);
  return refine(seeds, SHORT_ROUNDS, model, placings, placesTried)?.best ?? null;
}

/** A glance at the places of best outlook; the best exactly admissible ones, looked at again, spread out, cheapest first. */
function glance(
  model: Model,
  placings: Placings,
  judge: Judge,
  glances: number,
): { seeds: Trial[]; placesTried: number } {
  const kept: Trial[] = [];
  const { outlooks, weighed } = placesByOutlook(model, placings, judge, glances);
  // largest first: what a glance must not come out dearer than
  const cheapest = new FlatQueue<null>();
  for (const { place, shape } of outlooks) {
    const giveUpUsd = cheapest.length < GLANCES_KEPT ? Infinity : -cheapest.peekValue()!;
    const trial = model.tryAt(place, shape, GLANCE, { how: "search", giveUpUsd });
    if (!trial) continue;
    kept.push(trial);
    cheapest.push(null, -trial.scoreUsd);
    if (cheapest.length > GLANCES_KEPT) cheapest.pop();
  }
  const apart: Trial[] = [];
  const seeds: Trial[] = [];
  for (const trial of kept.sort(byScore)) {
    if (apart.length >= KEPT) break;
    if (apart.some((other) => areAlike(other, trial))) continue;
    const place = settled(trial.place, trial.shape, placings);
    if (!place) continue;
    apart.push(trial);
    const seed = model.tryAt(place, trial.shape, QUICK, SEARCH);
    if (seed) seeds.push(seed);
  }
  seeds.sort(byScore);
  return { seeds, placesTried: weighed };
}

interface Seen {
  readonly place: Place;
  readonly meanFt: number;
  readonly usd: number;
}

/** Places of one shape whose outlook was weighed, as columns: most of them are never heard of again. */
class Weighed {
  count = 0;
  readonly usd: Float64Array;
  readonly meanFt: Float64Array;
  readonly cell: Int32Array;
  readonly turn: Uint8Array;
  readonly about: Int8Array;

  constructor(room: number) {
    this.usd = new Float64Array(room);
    this.meanFt = new Float64Array(room);
    this.cell = new Int32Array(room);
    this.turn = new Uint8Array(room);
    this.about = new Int8Array(room);
  }

  /** The cheapest, cheapest first. */
  cheapest(most: number, turns: readonly TurnedGround[]): Seen[] {
    const { usd, meanFt, cell, turn, about } = this;
    const order = new FlatQueue<number>();
    for (let i = 0; i < this.count; i++) {
      // largest first: what others must be cheaper than
      if (order.length === most && -usd[i]! <= order.peekValue()!) continue;
      order.push(i, -usd[i]!);
      if (order.length > most) order.pop();
    }
    const seen: Seen[] = [];
    while (order.length > 0) {
      const i = order.pop()!;
      const place = turns[turn[i]!]!.placeOf(cell[i]!, about[i] === 1 ? 1 : -1);
      seen.push({ place, meanFt: meanFt[i]!, usd: usd[i]! });
    }
    return seen.reverse();
  }
}

interface Outlook {
  readonly place: Place;
  readonly shape: FootprintShape;
}

/** All shapes in all turns all over the ground, weighed by relief and way in alone; the best of them, not too near one another. */
function placesByOutlook(
  model: Model,
  placings: Placings,
  { drive }: Judge,
  glances: number,
): { outlooks: Outlook[]; weighed: number } {
  const { turns, groundFt2 } = placings;
  const larger = Math.min(MOST_GROUND_FACTOR, Math.max(1, groundFt2 / WEIGHED_GROUND_FT2));
  const most = Math.max(LEAST_OUTLOOKS, (OUTLOOKS * larger) / (model.shapes.length * turns.length));
  const share = Math.ceil(Math.max(LEAST_GLANCES_SHARE, 1 / model.shapes.length) * glances);
  const outlooks: Outlook[] = [];
  let weighed = 0;
  for (const shape of model.shapes) {
    const box = boxOfShape(shape);
    const found = turns.map((turned) => turned.cellsFor(shape, most));
    const seen = new Weighed(found.reduce((sum, cells) => sum + cells.length, 0));
    for (let turn = 0; turn < turns.length; turn++) {
      const turned = turns[turn]!;
      const cells = found[turn]!;
      for (let i = 0; i < cells.length; i++) {
        const cell = cells[i]!;
        turned.lookAt(cell, 1);
        const relief = turned.under(box);
        const about = model.facesDownhill ? facing(relief) : 1;
        if (about === 0) continue;
        const { meanFt } = relief;
        const k = seen.count++;
        seen.cell[k] = cell;
        seen.turn[k] = turn;
        seen.about[k] = about;
        seen.meanFt[k] = meanFt;
        turned.lookAt(cell, about);
        seen.usd[k] = model.outlookUsd(turned, shape, box) + drive.outlookUsd(turned.place, shape, meanFt);
      }
    }
    weighed += seen.count;
    const ranked = seen.cheapest(RANKED * share, turns);
    const spread = spreadOut(ranked, drive.known ? DRIVEN * share : share);
    for (const place of cheapestDriven(spread, shape, share, drive)) outlooks.push({ place, shape });
  }
  return { outlooks, weighed };
}

/** Of places in the order of their outlook the `most` cheapest with the turns of a lane, which never make one cheaper. */
function cheapestDriven(
  seen: readonly Seen[],
  shape: FootprintShape,
  most: number,
  drive: DriveCost,
): Place[] {
  const cheapest = new FlatQueue<Place>();
  for (const { place, meanFt, usd } of seen) {
    if (cheapest.length === most && usd >= -cheapest.peekValue()!) continue;
    cheapest.push(place, -(usd + drive.turnsUsd(place, shape, meanFt)));
    if (cheapest.length > most) cheapest.pop();
  }
  const places: Place[] = [];
  while (cheapest.length > 0) places.push(cheapest.pop()!);
  return places.reverse();
}

/** The first `most` of the places that are not near an earlier one; where there are fewer, those less far apart as well. */
function spreadOut(ranked: readonly Seen[], most: number): Seen[] {
  const taken: Seen[] = [];
  let left = ranked;
  for (const apart of [1, 0.5]) {
    const passed: Seen[] = [];
    const near = new NearPlaces(apart * GLANCED_APART_FT, apart * GLANCED_APART_SINE);
    for (const { place } of taken) near.add(place);
    for (const seen of left) {
      if (taken.length >= most) return taken;
      if (near.hasNear(seen.place)) passed.push(seen);
      else {
        near.add(seen.place);
        taken.push(seen);
      }
    }
    left = passed;
  }
  return taken;
}

/** Close enough that both would be refined into the same place. */
function areAlike(a: Trial, b: Trial): boolean {
  return a.shape.family === b.shape.family && areNear(a.place, b.place, APART_FT, APART_SINE);
}

/** Places looked at along each side of the lot's box where nothing fits. */
const PLACES_ANYWHERE = 9;

/**
 * Where nothing fits at all: the least bad of places all over the lot, along the search axis, on whatever ground the survey
 * shows. The middle of the house lies there, or that of its garage: of a raised house longer than the lot only that is graded.
 */
export function anywhere(model: Model, site: Site): Found {
  const { minEastFt, maxEastFt, minNorthFt, maxNorthFt } = boxOf(site.survey.boundary);
  const turnRad = searchAxisRad(site);
  const shape = model.shapes[0]!;
  const { garage } = shape;
  const middles: Point[] = [[0, 0]];
  if (garage) middles.push([(garage.u0 + garage.u1) / 2, (garage.v0 + garage.v1) / 2]);
  let best: Trial | null = null;
  for (let j = 0; j < PLACES_ANYWHERE; j++)
    for (let i = 0; i < PLACES_ANYWHERE; i++) {
      const eastFt = minEastFt + ((i + 0.5) / PLACES_ANYWHERE) * (maxEastFt - minEastFt);
      const northFt = minNorthFt + ((j + 0.5) / PLACES_ANYWHERE) * (maxNorthFt - minNorthFt);
      const effort = { ...QUICK, lenient: true };
      for (const middle of middles) {
        const [u, v] = onLot({ eastFt: 0, northFt: 0, turnRad }, middle);
        const place = { eastFt: eastFt - u, northFt: northFt - v, turnRad };
        const trial = model.tryAt(place, shape, effort, SEARCH);
        if (trial && (!best || trial.scoreUsd < best.scoreUsd)) best = trial;
      }
    }
  if (!best) throw new RangeError("a site has surveyed ground on its lot");
  return {
    best,
    placesTried: middles.length * PLACES_ANYWHERE ** 2,
    closelyTried: 0,
    byFamily: [best],
    others: [],
  };
}

/** A house must look downhill along v: as it stands (1) or turned half round (−1); 0 where it lies too far across. */
function facing({ riseU, riseV }: Relief): 1 | -1 | 0 {
  if (!(Math.abs(riseV) >= FACING_COSINE * Math.sqrt(riseU * riseU + riseV * riseV))) return 0;
  return riseV <= 0 ? 1 : -1;
}

/** Feet that a place may be shifted, in eight directions each, to lie exactly on the ground. */
const SHIFTS_FT = [0.5, 1, 2.5];

/** A place whose footprint lies exactly on the ground: itself, or moved by up to a few feet; null when that does not help. */
function settled(place: Place, shape: FootprintShape, placings: Placings): Place | null {
  if (placings.holds(place, shape)) return place;
  for (const shiftFt of SHIFTS_FT)
    for (let i = 0; i < 8; i++) {
      const angle = place.turnRad + (i * Math.PI) / 4;
      const shifted = {
        ...place,
        eastFt: place.eastFt + shiftFt * Math.cos(angle),
        northFt: place.northFt + shiftFt * Math.sin(angle),
      };
      if (placings.holds(shifted, shape)) return shifted;
    }
  return null;
}

const SEARCH = { how: "search" } as const;
