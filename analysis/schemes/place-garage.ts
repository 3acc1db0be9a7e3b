/** Where a garage apart stands: places ranked by drive and walk alone, the best of them tried closely. */
import type { StreetEntry } from "../access/access.js";
import { boxOf, distanceToRingFt, type MultiPolygon, type Point } from "../geometry/plane.js";
import { Ground } from "./contained.js";
import { BEFORE_DOOR_FT } from "./drive-cost.js";
import { footprintFlat, outlineOfShape } from "./footprint-outline.js";
import type { Entrance } from "./garage-apart.js";
import { GLANCE, type Judge, type Model, NEARER, QUICK, type Trial } from "./model.js";
import { onLot, type Place } from "./place.js";

/** Spacing of the places looked at, and turns of a half circle beside the one square to the street. */
const GRID_FT = 8;
const TURNS = 4;
/** So many are glanced at, apart by at least so much; so many of them are moved about. */
const GLANCED = 48;
const APART_FT = 6;
const MOVED = 4;
/** Moves from coarse to fine: feet, and degrees to either side. */
const MOVES = [
  [4, 8],
  [2, 3],
  [1, 1],
] as const;
const SEARCH = { how: "search" } as const;

export interface GarageGround {
  readonly buildable: MultiPolygon;
  readonly entries: readonly StreetEntry[];
  /** Direction along the contour of the lot. */
  readonly axisRad: number;
  readonly entrances: readonly Entrance[];
}

/** The cheapest place found for a garage model whose shapes have their doors on the v faces; null where none fits. */
export function placeGarage(model: Model, site: GarageGround, judge: Judge): Trial | null {
  const ground = new Ground(site.buildable);
  if (ground.isEmpty) return null;
  const flat = new Float64Array(8);
  const shape = model.shapes[0]!;
  const outline = outlineOfShape(shape);
  const fits = (place: Place) => ground.holds(footprintFlat(place, outline, flat));
  let best: Trial | null = null;
  const tried: Trial[] = [];
  for (const place of ranked(site, judge, fits)) {
    if (tried.length >= GLANCED) break;
    if (tried.some((t) => isNear(t.place, place))) continue;
    for (const one of model.shapes) {
      const trial = model.tryAt(place, one, GLANCE, SEARCH);
      if (trial) tried.push(trial);
    }
  }
  for (const seed of tried.sort((a, b) => a.scoreUsd - b.scoreUsd).slice(0, MOVED)) {
    let here = model.tryAt(seed.place, seed.shape, QUICK, SEARCH) ?? seed;
    for (const [stepFt, deg] of MOVES)
      for (const place of around(here.place, stepFt, deg)) {
        if (!fits(place)) continue;
        const trial = model.tryAt(place, here.shape, QUICK, {
          how: "near",
          like: here,
          giveUpUsd: here.scoreUsd,
        });
        if (trial && trial.scoreUsd < here.scoreUsd) here = trial;
      }
    const close = model.tryAt(here.place, here.shape, NEARER, SEARCH);
    if (close && (!best || close.scoreUsd < best.scoreUsd)) best = close;
  }
  return best;
}

/** Places on the ground, the least lane and walk first. */
function ranked(
  { buildable, entries, axisRad, entrances }: GarageGround,
  { drive, prices, request }: Judge,
  fits: (place: Place) => boolean,
): Place[] {
  const box = boxOf(buildable.flat(2));
  const laneUsd = request.rules.driveway.widthFt * prices.driveFt2 + prices.trenchFt;
  const found: { place: Place; usd: number }[] = [];
  for (let northFt = box.minNorthFt; northFt <= box.maxNorthFt; northFt += GRID_FT)
    for (let eastFt = box.minEastFt; eastFt <= box.maxEastFt; eastFt += GRID_FT) {
      const at: Point = [eastFt, northFt];
      const { inward } = nearestEntry(entries, at);
      const walkFt = Math.min(...entrances.map(({ ring }) => distanceToRingFt(ring, at)));
      const toStreet = Math.atan2(inward[1], inward[0]) + Math.PI / 2;
      for (let k = -1; k < TURNS; k++) {
        const turnRad = k < 0 ? toStreet : axisRad + (k * Math.PI) / TURNS;
        const place: Place = { eastFt, northFt, turnRad };
        let laneFt = Infinity;
        for (const side of [1, -1]) {
          const before = drive.distanceAt(onLot(place, [0, side * (BEFORE_DOOR_FT + 11)]));
          if (before < laneFt) laneFt = before;
        }
        if (laneFt === Infinity || !fits(place)) continue;
        found.push({ place, usd: laneFt * laneUsd + walkFt * prices.trenchFt });
      }
    }
  return found.sort((a, b) => a.usd - b.usd).map(({ place }) => place);
}

function nearestEntry(entries: readonly StreetEntry[], [east, north]: Point): StreetEntry {
  let nearest = entries[0]!;
  let least = Infinity;
  for (const entry of entries) {
    const off = (entry.at[0] - east) ** 2 + (entry.at[1] - north) ** 2;
    if (off >= least) continue;
    least = off;
    nearest = entry;
  }
  return nearest;
}

function around({ eastFt, northFt, turnRad }: Place, stepFt: number, deg: number): Place[] {
  const turn = (deg * Math.PI) / 180;
  return [
    { eastFt: eastFt + stepFt, northFt, turnRad },
    { eastFt: eastFt - stepFt, northFt, turnRad },
    { eastFt, northFt: northFt + stepFt, turnRad },
    { eastFt, northFt: northFt - stepFt, turnRad },
    { eastFt, northFt, turnRad: turnRad + turn },
    { eastFt, northFt, turnRad: turnRad - turn },
  ];
}

function isNear(a: Place, b: Place): boolean {
  return (
    apartFt([a.eastFt, a.northFt], [b.eastFt, b.northFt]) < APART_FT &&
    Math.abs(Math.sin(a.turnRad - b.turnRad)) < 0.5
  );
}

function apartFt(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
