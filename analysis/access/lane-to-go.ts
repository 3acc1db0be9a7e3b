/** What a lane from the street to each place is likely to cost, before any turn is known. Method: docs/methods/access.md */
import FlatQueue from "flatqueue";
import { NEIGHBOURS } from "../geometry/grid.js";
import type { LaneGround, StreetEntry } from "./access.js";
import type { DriveRules } from "./drive-rules.js";
import type { BenchCosts } from "./lane-cost.js";

/** Moves on the grid: to the eight neighbours and by a knight's leap. */
const MOVES = [
  ...NEIGHBOURS,
  [2, 1],
  [1, 2],
  [-1, 2],
  [-2, 1],
  [-2, -1],
  [-1, -2],
  [1, -2],
  [2, -1],
] as const;
const OVER_COLS = MOVES.map(([dc]) => dc);
const OVER_ROWS = MOVES.map(([, dr]) => dr);
const CELLS = MOVES.map(([dc, dr]) => Math.hypot(dc, dr));

/** What a move between two cells counts: at least its plan length. */
export interface MoveCosts {
  of(from: number, to: number, planFt: number, riseFt: number): number;
}

/**
 * Least sum of moves from the street to each cell (Dijkstra); NaN where lanes have no room or nobody surveyed. From an
 * entry to the first cell behind it, plan length or rise ÷ limit, whichever is longer.
 */
export function fromStreet(
  { grid, elevFt, clearanceFt }: LaneGround,
  entries: readonly StreetEntry[],
  { limit, widthFt }: Pick<DriveRules, "limit" | "widthFt">,
  costs: MoveCosts,
): Float32Array {
  const { cols, rows, cellFt, originEastFt, originNorthFt } = grid;
  const roomFt = widthFt / 2 - cellFt / 4; // clearances are known to half a cell
  // no way into a closed cell is shorter than the one it has
  const best = new Float64Array(cols * rows).fill(Number.NEGATIVE_INFINITY);
  for (let i = 0; i < best.length; i++)
    if (clearanceFt[i]! >= roomFt && !Number.isNaN(elevFt[i]!)) best[i] = Infinity;
  const queue = new FlatQueue<number>();
  for (const { at, inward, elevFt: streetFt } of entries) {
    // the first cell whose centre lies inside the lot line
    const col = Math.floor((at[0] + cellFt * inward[0] - originEastFt) / cellFt);
    const row = Math.floor((at[1] + cellFt * inward[1] - originNorthFt) / cellFt);
    if (col < 0 || row < 0 || col >= cols || row >= rows) continue;
    const cell = row * cols + col;
    const away = Math.hypot(
      originEastFt + (col + 0.5) * cellFt - at[0],
      originNorthFt + (row + 0.5) * cellFt - at[1],
    );
    const ft = Math.max(away, Math.abs(elevFt[cell]! - streetFt) / limit);
    if (!(ft < best[cell]!)) continue;
    best[cell] = ft;
    queue.push(cell, ft);
  }
  for (;;) {
    const soFar = queue.peekValue();
    const cell = queue.pop();
    if (cell === undefined || soFar === undefined) break;
    if (soFar > best[cell]!) continue;
    const row = Math.floor(cell / cols);
    const col = cell - row * cols;
    for (let m = 0; m < CELLS.length; m++) {
      const c = col + OVER_COLS[m]!;
      const r = row + OVER_ROWS[m]!;
      if (c < 0 || r < 0 || c >= cols || r >= rows) continue;
      const next = r * cols + c;
      const planFt = CELLS[m]! * cellFt;
      if (best[next]! <= soFar + planFt) continue;
      const ft = soFar + costs.of(cell, next, planFt, Math.abs(elevFt[next]! - elevFt[cell]!));
      if (!(ft < best[next]!)) continue;
      best[next] = ft;
      queue.push(next, ft);
    }
  }
  const reached = new Float32Array(best.length);
  for (let i = 0; i < best.length; i++) reached[i] = Number.isFinite(best[i]!) ? best[i]! : NaN;
  return reached;
}

/**
 * Cost from the street to each cell of a lane on the ground, in feet of plain lane: the length a climb asks for, and the
 * bench it cuts into what side slope is left when it climbs at most at the limit. Turns come on top.
 */
export function costFromStreet(
  ground: LaneGround,
  entries: readonly StreetEntry[],
  rules: DriveRules,
  bench: BenchCosts,
): Float32Array {
  return fromStreet(ground, entries, rules, new BenchedMoves(ground, rules.limit, bench));
}

/** Moves with the bench that a lane on the ground needs: the fall of a cell is shared between it and the lane. */
class BenchedMoves implements MoveCosts {
  readonly #limit: number;
  readonly #bench: BenchCosts;
  /** Of each cell, fall of the ground squared. */
  readonly #fall2: Float32Array;

  constructor({ grid, elevFt }: LaneGround, limit: number, bench: BenchCosts) {
    const { cols, rows, cellFt } = grid;
    this.#limit = limit;
    this.#bench = bench;
    this.#fall2 = new Float32Array(cols * rows);
    for (let row = 1; row + 1 < rows; row++)
      for (let col = 1; col + 1 < cols; col++) {
        const i = row * cols + col;
        const east = (elevFt[i + 1]! - elevFt[i - 1]!) / (2 * cellFt);
        const north = (elevFt[i + cols]! - elevFt[i - cols]!) / (2 * cellFt);
        const sum = east * east + north * north;
        this.#fall2[i] = Number.isNaN(sum) ? limit * limit : sum;
      }
  }

  of(from: number, to: number, planFt: number, riseFt: number): number {
    const limit = this.#limit;
    const steep = riseFt > limit * planFt;
    const lengthFt = steep ? riseFt / limit : planFt;
    const grade = steep ? limit : riseFt / planFt;
    return lengthFt * (1 + (this.#perFt(from, grade) + this.#perFt(to, grade)) / 2);
  }

  /** Bench cost of a foot of lane that climbs at a grade on the ground of a cell. */
  #perFt(cell: number, grade: number): number {
    return this.#bench.at(0, Math.sqrt(Math.max(0, this.#fall2[cell]! - grade * grade)));
  }
}
