/** The moves of a lane search over the ground: each read once, then walked as the lane may lie on it. */
import type { LaneGround } from "./access.js";
import { DEEPEST_FT, type DriveRules } from "./drive-rules.js";
import type { BenchCosts } from "./lane-cost.js";
import type { LaneMove } from "./lane-moves.js";
import type { LanePlaces, NextPlace } from "./lane-places.js";
import { isOnApron } from "./lane-walk.js";

/** A lane that moves this share of what it may already makes for the street as fast as it can. */
const NEARLY_ALL = 0.999;

/** Numbers go from step to step in fields, not in arguments, which would put each into an object of its own. */
export class MoveWalk {
  readonly #ground: LaneGround;
  readonly #bench: BenchCosts;
  readonly #needFt: number;
  readonly #places: LanePlaces;
  readonly #next: NextPlace;
  // by step of the move read: ground, and its fall across the lane
  readonly #under: Float64Array;
  readonly #side: Float64Array;
  // where the moves begin
  #from = 0;
  #heading = 0;
  #onApron = false;
  #streetFt = 0;

  /** @param next where a walk ends up */
  constructor(
    ground: LaneGround,
    { halfBedFt }: DriveRules,
    bench: BenchCosts,
    moves: readonly LaneMove[],
    places: LanePlaces,
    next: NextPlace,
  ) {
    const mostSteps = Math.max(...moves.map(({ steps }) => steps));
    this.#ground = ground;
    this.#bench = bench;
    this.#needFt = halfBedFt - ground.grid.cellFt / 4; // clearances are known to half a cell
    this.#places = places;
    this.#next = next;
    this.#under = new Float64Array(mostSteps);
    this.#side = new Float64Array(mostSteps);
  }

  /** The moves that follow begin at this place, near which the street lies so high. */
  startAt(place: number, heading: number, streetFt: number): void {
    this.#from = place;
    this.#heading = heading;
    this.#onApron = isOnApron(this.#places.lengthFt[place]!);
    this.#streetFt = streetFt;
  }

  /** Reads the ground along a move as `GroundLook` does; false where the lane has no room or nobody surveyed. */
  reads({ steps, east, north, ahead, up }: LaneMove): boolean {
    const { grid, elevFt, clearanceFt } = this.#ground;
    const { cols, rows, cellFt, originEastFt, originNorthFt } = grid;
    const x = this.#places.x[this.#from]!;
    const y = this.#places.y[this.#from]!;
    const needFt = this.#needFt;
    const under = this.#under;
    const side = this.#side;
    for (let k = 0, n = this.#heading * steps; k < steps; k++, n++) {
      const u = (x + east[n]! - originEastFt) / cellFt - 0.5;
      const v = (y + north[n]! - originNorthFt) / cellFt - 0.5;
      const col = Math.floor(u);
      const row = Math.floor(v);
      if (col < 0 || row < 0 || col + 1 >= cols || row + 1 >= rows) return false;
      const i = row * cols + col;
      const j = i + cols;
      const fu = u - col;
      const fv = v - row;
      const c0 = clearanceFt[i]! + fu * (clearanceFt[i + 1]! - clearanceFt[i]!);
      const c1 = clearanceFt[j]! + fu * (clearanceFt[j + 1]! - clearanceFt[j]!);
      if (c0 + fv * (c1 - c0) < needFt) return false;
      const z00 = elevFt[i]!;
      const z01 = elevFt[j]!;
      const riseSouth = elevFt[i + 1]! - z00;
      const riseNorth = elevFt[j + 1]! - z01;
      const south = z00 + fu * riseSouth;
      const rise = z01 + fu * riseNorth - south;
      const groundFt = south + fv * rise;
      if (Number.isNaN(groundFt)) return false;
      under[k] = groundFt;
      side[k] = (rise / cellFt) * ahead[n]! - (((1 - fv) * riseSouth + fv * riseNorth) / cellFt) * up[n]!;
    }
    return true;
  }

  /** Walks the move read last: each step follows the ground, or makes for the street's height, as far as its limit lets it. False where the lane comes to lie too deep or too high. */
  walks(
    { piece, steps, stepFt, perFt, apronStepFt, mostStepFt, east, north }: LaneMove,
    toStreet: boolean,
  ): boolean {
    const places = this.#places;
    const next = this.#next;
    const from = this.#from;
    const under = this.#under;
    const side = this.#side;
    const bench = this.#bench;
    const streetFt = this.#streetFt;
    const mostFt = this.#onApron ? apronStepFt : mostStepFt;
    let elevFt = places.elevFt[from]!;
    let overFt = 0;
    let spent = places.spentFt[from]!;
    for (let k = 0; k < steps; k++) {
      const groundFt = under[k]!;
      elevFt += Math.max(-mostFt, Math.min(mostFt, (toStreet ? streetFt : groundFt) - elevFt));
      overFt = elevFt - groundFt;
      if (!(Math.abs(overFt) <= DEEPEST_FT)) return false;
      spent += stepFt * (perFt + bench.at(overFt, side[k]!));
    }
    const last = this.#heading * steps + steps - 1;
    next.x = places.x[from]! + east[last]!;
    next.y = places.y[from]! + north[last]!;
    next.elevFt = elevFt;
    next.overFt = overFt;
    next.spentFt = spent;
    next.climbFt = places.climbFt[from]! + mostFt * steps;
    next.ft = piece.lengthFt;
    return true;
  }

  /** Whether the walk before already made for the street's height as fast as the move's own limit lets it. */
  madeForStreet({ mostFt }: LaneMove): boolean {
    const fromFt = this.#places.elevFt[this.#from]!;
    const movedFt = this.#next.elevFt - fromFt;
    return Math.abs(movedFt) > NEARLY_ALL * mostFt && movedFt * (this.#streetFt - fromFt) > 0;
  }
}
