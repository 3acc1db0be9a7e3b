/** A quick price for getting a car to a door, from the look at the lot taken before anything was placed. */
import { ApproachLength, type Reach } from "../access/index.js";
import type { Point } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { toYd3 } from "../units.js";
import type { Door, FootprintShape } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import type { Place } from "./place.js";
import type { SitePrices } from "./site-cost.js";

/** Straight room before a door in which the drive still lies level with it. Common practice, no source. */
export const BEFORE_DOOR_FT = 20;
/** Cosine between a door's outlook and the way to the street above which a lane needs no turn on the lot. Judgement. */
const LOOKS_AT_STREET = 0.7;
/** Earth beside the lane of a raised or sunken approach, as a multiple of the lane's own. */
const LANE_WITH_BANKS = 1.5;

/** Ground that no drive reaches at the grade limit may still hold a house whose door one reaches. Judgement. */
const NO_WALK_FT = 500;

/** Most doors of a shape. */
const MOST_DOORS = 16;
const floats = () => new Float64Array(MOST_DOORS);

/** Doors with a way to them, as columns, the shortest walk first. */
export class Approaches {
  count = 0;
  /** Index among the shape's doors, and the part of the house it leads into. */
  readonly door = new Uint8Array(MOST_DOORS);
  readonly part: Door["part"][] = [];
  readonly east = floats();
  readonly north = floats();
  readonly outEast = floats();
  readonly outNorth = floats();
  /** Along the ground from the street at the grade limit, and the ground before the door. */
  readonly walkedFt = floats();
  readonly groundFt = floats();
  /** With the turns of a lane; NaN until it is asked for. */
  readonly drivenFt = floats();

  /** Makes room for a door where its walk ranks. */
  insert(walkedFt: number): number {
    let rank = this.count++;
    for (; rank > 0 && this.walkedFt[rank - 1]! > walkedFt; rank--) {
      this.part[rank] = this.part[rank - 1]!;
      for (const column of [
        this.door,
        this.east,
        this.north,
        this.outEast,
        this.outNorth,
        this.walkedFt,
        this.groundFt,
      ])
        column[rank] = column[rank - 1]!;
    }
    this.walkedFt[rank] = walkedFt;
    return rank;
  }
}

/** Floor the car must reach at a door, by the base level of the scheme and the part the door is in. */
export interface DoorFloors {
  doorFloorFt(levelFt: number, part: Door["part"]): number;
}

export class DriveCost {
  readonly #reach: Reach;
  readonly #ground: GroundGrid;
  readonly #prices: SitePrices;
  readonly #request: StudyRequest;
  readonly #length: ApproachLength;
  readonly #laneUsdPerFt: number;
  readonly #ways = new Approaches();
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

  /** What the ground says about each door of a placed shape; doors without a way or without room to turn are left out. Good until the next place is asked about. */
  approaches({ eastFt, northFt, turnRad }: Place, { doors }: FootprintShape): Approaches {
    const ways = this.#ways;
    ways.count = 0;
    if (!this.known) return ways;
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    for (let door = 0; door < doors.length; door++) {
      const { at, outward, part } = doors[door]!;
      const outEast = outward[0] * cos - outward[1] * sin;
      const outNorth = outward[0] * sin + outward[1] * cos;
      const east = eastFt + at[0] * cos - at[1] * sin;
      const north = northFt + at[0] * sin + at[1] * cos;
      const beforeEast = east + BEFORE_DOOR_FT * outEast;
      const beforeNorth = north + BEFORE_DOOR_FT * outNorth;
      const walkedFt = this.#distanceAt(beforeEast, beforeNorth) + BEFORE_DOOR_FT;
      if (Number.isNaN(walkedFt) || !this.#hasRoom(east, north, outEast, outNorth)) continue;
      const rank = ways.insert(walkedFt);
      ways.door[rank] = door;
      ways.part[rank] = part;
      ways.east[rank] = east;
      ways.north[rank] = north;
      ways.outEast[rank] = outEast;
      ways.outNorth[rank] = outNorth;
      ways.groundFt[rank] = this.#ground.elevationAt(beforeEast, beforeNorth);
    }
    ways.drivenFt.fill(NaN);
    return ways;
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
    const laneUsd = this.leastUsd(this.approaches(place, shape), { doorFloorFt: () => floorFt }, floorFt);
    return Math.min(laneUsd, NO_WALK_FT * this.#laneUsdPerFt) - this.outlookUsd(place, shape, floorFt);
  }

  /** Room to turn before a door: on the lot as far out as the apron and a turn reach, unless the door looks at the street. */
  #hasRoom(x: number, y: number, outEast: number, outNorth: number): boolean {
    const entry = this.#reach.entry;
    if (!entry) return true;
    const sx = entry[0] - x;
    const sy = entry[1] - y;
    if (outEast * sx + outNorth * sy > LOOKS_AT_STREET * Math.sqrt(sx * sx + sy * sy)) return true;
    const { minInsideRadiusFt, widthFt } = this.#request.rules.driveway;
    const out = BEFORE_DOOR_FT + minInsideRadiusFt + widthFt;
    return this.#ground.ownGroundAt(x + out * outEast, y + out * outNorth);
  }

  /**
   * Price of the drive to the door a car reaches for least; Infinity where it reaches none, 0 where no street is known.
   * With `walked` the lane is taken as long as the walk, which it never is shorter than: enough to rule a place out.
   */
  leastUsd(ways: Approaches, floors: DoorFloors, levelFt: number, walked = false): number {
    if (!this.known) return 0;
    let least = Infinity;
    for (let i = 0; i < ways.count; i++) {
      const floor = floors.doorFloorFt(levelFt, ways.part[i]!);
      const groundFt = ways.groundFt[i]!;
      const atLeast = this.#usd(ways.walkedFt[i]!, floor, groundFt);
      if (atLeast >= least) continue;
      least = Math.min(least, walked ? atLeast : this.#usd(this.#laneFt(ways, i, floor), floor, groundFt));
    }
    return least;
  }

  /** Index of that door; 0 where none is reached. */
  bestDoor(ways: Approaches, floors: DoorFloors, levelFt: number): number {
    const least = this.leastUsd(ways, floors, levelFt);
    for (let i = 0; i < ways.count; i++) {
      const floor = floors.doorFloorFt(levelFt, ways.part[i]!);
      if (this.#usd(this.#laneFt(ways, i, floor), floor, ways.groundFt[i]!) <= least) return ways.door[i]!;
    }
    return 0;
  }

  /** Lane with its turns and climb, measured once per approach at the first floor asked for. */
  #laneFt(
    { drivenFt, walkedFt, east, north, outEast, outNorth }: Approaches,
    i: number,
    floorFt: number,
  ): number {
    if (Number.isNaN(drivenFt[i]!)) {
      const door = { x: east[i]!, y: north[i]!, ahead: outEast[i]!, up: outNorth[i]! };
      const driven = this.#length.ft(door, floorFt, walkedFt[i]!);
      // no entry near enough to turn out of says nothing against walking there
      drivenFt[i] = Number.isNaN(driven) ? walkedFt[i]! : Math.max(driven, walkedFt[i]!);
    }
    return drivenFt[i]!;
  }

  /** Shortest way from the street at the grade limit, ft, between cell centres where all four are reached; NaN where there is none. */
  distanceAt([eastFt, northFt]: Point): number {
    return this.#distanceAt(eastFt, northFt);
  }

  #distanceAt(eastFt: number, northFt: number): number {
    const { grid, values } = this.#reach.distanceFt;
    const c = (eastFt - grid.originEastFt) / grid.cellFt - 0.5;
    const r = (northFt - grid.originNorthFt) / grid.cellFt - 0.5;
    if (c >= 0 && r >= 0 && c < grid.cols - 1 && r < grid.rows - 1) {
      const col = c | 0;
      const row = r | 0;
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
