/** The moves of a lane search over the ground: each read once, then walked as the lane may lie on it. */
import type { LaneGround } from "./access.js";
import { DEEPEST_FT, type DriveRules } from "./drive-rules.js";
import type { BenchCosts } from "./lane-cost.js";
import type { LaneMove } from "./lane-moves.js";

export class MoveWalk {
  /** Of the lane at the end of the move walked: height, how far over the ground, and cost so far in feet of plain lane. */
  elevFt = 0;
  overFt = 0;
  spentFt = 0;
  readonly #ground: LaneGround;
  readonly #bench: BenchCosts;
  readonly #needFt: number;
  // by step of the move read: ground, and its fall across the lane
  readonly #under: Float64Array;
  readonly #side: Float64Array;

  constructor(ground: LaneGround, { halfBedFt }: DriveRules, bench: BenchCosts, moves: readonly LaneMove[]) {
    const mostSteps = Math.max(...moves.map(({ steps }) => steps));
    this.#ground = ground;
    this.#bench = bench;
    this.#needFt = halfBedFt - ground.grid.cellFt / 4; // clearances are known to half a cell
    this.#under = new Float64Array(mostSteps);
    this.#side = new Float64Array(mostSteps);
  }

  /** Reads the ground along a move as `GroundLook` does; false where the lane has no room or nobody surveyed. */
  reads({ steps, east, north, ahead, up }: LaneMove, x: number, y: number, heading: number): boolean {
    const { grid, elevFt, clearanceFt } = this.#ground;
    const { cols, rows, cellFt, originEastFt, originNorthFt } = grid;
    const under = this.#under;
    const side = this.#side;
    for (let k = 0, n = heading * steps; k < steps; k++, n++) {
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
      if (c0 + fv * (c1 - c0) < this.#needFt) return false;
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

  /**
   * Walks the move read last from a height: each step follows the ground (`towardFt` NaN) or makes for a height, by at
   * most `mostFt`. False where the lane comes to lie too deep or too high.
   */
  walks(
    { steps, stepFt }: LaneMove,
    fromFt: number,
    spentFt: number,
    towardFt: number,
    mostFt: number,
    perFt: number,
  ): boolean {
    const under = this.#under;
    const side = this.#side;
    const follows = Number.isNaN(towardFt);
    let elevFt = fromFt;
    let overFt = 0;
    let spent = spentFt;
    for (let k = 0; k < steps; k++) {
      const groundFt = under[k]!;
      elevFt += Math.max(-mostFt, Math.min(mostFt, (follows ? groundFt : towardFt) - elevFt));
      overFt = elevFt - groundFt;
      if (!(Math.abs(overFt) <= DEEPEST_FT)) return false;
      spent += stepFt * (perFt + this.#bench.at(overFt, side[k]!));
    }
    this.elevFt = elevFt;
    this.overFt = overFt;
    this.spentFt = spent;
    return true;
  }
}
