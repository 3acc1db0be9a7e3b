/** A quick price for getting a car to a door, from the look at the lot taken before anything was placed. */
import { ApproachLength, type Reach } from "../access/index.js";
import type { Point } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { toYd3 } from "../units.js";
import type { Door, FootprintShape } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import { onLot, type Place } from "./place.js";
import type { SitePrices } from "./site-cost.js";

/** Straight room before a door in which the drive still lies level with it. Common practice, no source. */
export const BEFORE_DOOR_FT = 20;
/** Cosine between a door's outlook and the way to the street above which a lane needs no turn on the lot. Judgement. */
const LOOKS_AT_STREET = 0.7;
/** Earth beside the lane of a raised or sunken approach, as a multiple of the lane's own. */
const LANE_WITH_BANKS = 1.5;

/** Ground that no drive reaches at the grade limit may still hold a house whose door one reaches. Judgement. */
const NO_WALK_FT = 500;

/** A door with a way to it. */
export interface Approach {
  readonly door: number;
  readonly part: Door["part"];
  readonly at: Point;
  readonly outward: Point;
  /** Along the ground from the street at the grade limit, and the ground before the door. */
  readonly walkedFt: number;
  readonly groundFt: number;
  /** With the turns of a lane; NaN until it is asked for. */
  drivenFt: number;
}

/** Floor the car must reach at a door, by the base level of the scheme and the part the door is in. */
export type DoorFloor = (levelFt: number, part: Door["part"]) => number;

export class DriveCost {
  readonly #reach: Reach;
  readonly #ground: GroundGrid;
  readonly #prices: SitePrices;
  readonly #request: StudyRequest;
  readonly #length: ApproachLength;
  readonly #laneUsdPerFt: number;
  /** Whether the way in is known at all: without it drives are not part of the comparison. */
  readonly known: boolean;

  constructor(reach: Reach, ground: GroundGrid, prices: SitePrices, request: StudyRequest) {
    this.#reach = reach;
    this.#ground = ground;
    this.#prices = prices;
    this.#request = request;
    this.#length = new ApproachLength(reach, request);
    this.#laneUsdPerFt = request.rules.driveway.widthFt * prices.driveFt2 + prices.trenchFt;
    this.known =
      reach.entry !== null &&
      Number.isFinite(reach.entryElevFt) &&
      reach.distanceFt.values.some((d) => !Number.isNaN(d));
  }

  /** What the ground says about each door of a placed shape, the shortest walk first; doors without a way or without room to turn are left out. */
  approaches(place: Place, shape: FootprintShape): Approach[] {
    if (!this.known) return [];
    const approaches: Approach[] = [];
    const cos = Math.cos(place.turnRad);
    const sin = Math.sin(place.turnRad);
    for (let door = 0; door < shape.doors.length; door++) {
      const { at, outward, part } = shape.doors[door]!;
      const out: Point = [outward[0] * cos - outward[1] * sin, outward[0] * sin + outward[1] * cos];
      const stands = onLot(place, at);
      const east = stands[0] + BEFORE_DOOR_FT * out[0];
      const north = stands[1] + BEFORE_DOOR_FT * out[1];
      const walkedFt = this.#distanceAt(east, north) + BEFORE_DOOR_FT;
      if (Number.isNaN(walkedFt) || !this.#hasRoom(stands, out)) continue;
      const groundFt = this.#ground.elevationAt(east, north);
      let rank = approaches.length;
      while (rank > 0 && approaches[rank - 1]!.walkedFt > walkedFt) rank--;
      approaches.splice(rank, 0, { door, part, at: stands, outward: out, walkedFt, groundFt, drivenFt: NaN });
    }
    return approaches;
  }

  /** Price of the drive to the nearest door by the walk there alone, were its floor at this height. */
  outlookUsd({ eastFt, northFt, turnRad }: Place, { doors }: FootprintShape, floorFt: number): number {
    if (!this.known) return 0;
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    let walkedFt = NO_WALK_FT;
    for (const { at, outward } of doors) {
      const u = at[0] + BEFORE_DOOR_FT * outward[0];
      const v = at[1] + BEFORE_DOOR_FT * outward[1];
      const there = this.#distanceAt(eastFt + u * cos - v * sin, northFt + u * sin + v * cos);
      if (there + BEFORE_DOOR_FT < walkedFt) walkedFt = there + BEFORE_DOOR_FT;
    }
    return this.#usd(walkedFt, floorFt, floorFt);
  }

  /** The same with the turns of a lane, less what the walk alone promises. */
  turnsUsd(place: Place, shape: FootprintShape, floorFt: number): number {
    if (!this.known) return 0;
    const laneUsd = this.leastUsd(this.approaches(place, shape), () => floorFt, floorFt);
    return Math.min(laneUsd, NO_WALK_FT * this.#laneUsdPerFt) - this.outlookUsd(place, shape, floorFt);
  }

  /** Room to turn before a door: on the lot as far out as the apron and a turn reach, unless the door looks at the street. */
  #hasRoom([x, y]: Point, [ox, oy]: Point): boolean {
    const entry = this.#reach.entry;
    if (!entry) return true;
    const [sx, sy] = [entry[0] - x, entry[1] - y];
    if (ox * sx + oy * sy > LOOKS_AT_STREET * Math.sqrt(sx * sx + sy * sy)) return true;
    const { minInsideRadiusFt, widthFt } = this.#request.rules.driveway;
    const out = BEFORE_DOOR_FT + minInsideRadiusFt + widthFt;
    return this.#ground.ownGroundAt(x + out * ox, y + out * oy);
  }

  /**
   * Price of the drive to the door a car reaches for least; Infinity where it reaches none, 0 where no street is known.
   * With `walked` the lane is taken as long as the walk, which it never is shorter than: enough to rule a place out.
   */
  leastUsd(approaches: readonly Approach[], floorFt: DoorFloor, levelFt: number, walked = false): number {
    if (!this.known) return 0;
    let least = Infinity;
    for (const approach of approaches) {
      const floor = floorFt(levelFt, approach.part);
      const atLeast = this.#usd(approach.walkedFt, floor, approach.groundFt);
      if (atLeast >= least) continue;
      least = Math.min(
        least,
        walked ? atLeast : this.#usd(this.#laneFt(approach, floor), floor, approach.groundFt),
      );
    }
    return least;
  }

  /** Index of that door; 0 where none is reached. */
  bestDoor(approaches: readonly Approach[], floorFt: DoorFloor, levelFt: number): number {
    const least = this.leastUsd(approaches, floorFt, levelFt);
    const best = approaches.find((approach) => {
      const floor = floorFt(levelFt, approach.part);
      return this.#usd(this.#laneFt(approach, floor), floor, approach.groundFt) <= least;
    });
    return best?.door ?? 0;
  }

  /** Lane with its turns and climb, measured once per approach at the first floor asked for. */
  #laneFt(approach: Approach, floorFt: number): number {
    if (Number.isNaN(approach.drivenFt)) {
      const { at, outward, walkedFt } = approach;
      const door = { x: at[0], y: at[1], ahead: outward[0], up: outward[1] };
      const driven = this.#length.ft(door, floorFt);
      // no entry near enough to turn out of says nothing against walking there
      approach.drivenFt = Number.isNaN(driven) ? walkedFt : Math.max(driven, walkedFt);
    }
    return approach.drivenFt;
  }

  /** Shortest way from the street at the grade limit, ft, between cell centres where all four are reached; NaN where there is none. */
  distanceAt([eastFt, northFt]: Point): number {
    return this.#distanceAt(eastFt, northFt);
  }

  #distanceAt(eastFt: number, northFt: number): number {
    const { grid, values } = this.#reach.distanceFt;
    const c = (eastFt - grid.originEastFt) / grid.cellFt - 0.5;
    const r = (northFt - grid.originNorthFt) / grid.cellFt - 0.5;
    const col = Math.floor(c);
    const row = Math.floor(r);
    if (col >= 0 && row >= 0 && col + 1 < grid.cols && row + 1 < grid.rows) {
      const i = row * grid.cols + col;
      const south = values[i]! + (c - col) * (values[i + 1]! - values[i]!);
      const north =
        values[i + grid.cols]! + (c - col) * (values[i + grid.cols + 1]! - values[i + grid.cols]!);
      const between = south + (r - row) * (north - south);
      if (!Number.isNaN(between)) return between;
    }
    const nearCol = Math.round(c);
    const nearRow = Math.round(r);
    const inside = nearCol >= 0 && nearRow >= 0 && nearCol < grid.cols && nearRow < grid.rows;
    return inside ? values[nearRow * grid.cols + nearCol]! : NaN;
  }

  /**
   * Lane and services by length; a lane too short for its rise at the grade limit is priced as long as it must be;
   * the step between ground and floor before the door is a wedge of earth run out at the grade limit.
   */
  #usd(lengthFt: number, floorFt: number, groundFt: number): number {
    const { maxGradePct, widthFt } = this.#request.rules.driveway;
    const grade = maxGradePct / 100;
    const rise = Math.abs(floorFt - this.#reach.entryElevFt);
    const laneFt = Math.max(lengthFt, rise / grade);
    const step = Number.isNaN(groundFt) ? 0 : Math.abs(floorFt - groundFt);
    const wedgeFt3 = ((step * step) / (2 * grade)) * widthFt * LANE_WITH_BANKS;
    const earth =
      floorFt < groundFt
        ? this.#prices.cutYd3 + this.#prices.loosePerBank * this.#prices.exportLooseYd3
        : this.#prices.importYd3;
    return laneFt * this.#laneUsdPerFt + toYd3(wedgeFt3) * earth;
  }
}
