/** How long a way from the street to each place must be. Method: docs/methods/access.md */
import FlatQueue from "flatqueue";
import { NEIGHBOURS } from "../geometry/grid.js";
import type { Site } from "../lot/site.js";
import type { LaneGround, Reach, StreetEntry } from "./access.js";
import { laneGround } from "./lane-ground.js";
import { findEntries } from "./street-entries.js";

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

/**
 * Shortest way from the street to each place a lane has room, ft: every move counts its plan length, or rise ÷ grade
 * limit where that is longer, so that a way straight up a steep face is as long as the zigzag that climbs it. A lower
 * bound: turning room and transitions come on top. NaN where lanes have no room or nobody surveyed.
 */
export function surveyReach(site: Site): Reach {
  const { origin, all, main, openEdges } = findEntries(site);
  const lanes = laneGround(site, openEdges);
  const values = main
    ? distances(lanes, all, site.request.rules.driveway)
    : new Float32Array(lanes.grid.cols * lanes.grid.rows).fill(NaN);
  return {
    entry: main?.at ?? null,
    entryElevFt: main?.elevFt ?? NaN,
    entryOrigin: main ? origin : "unknown",
    distanceFt: { grid: lanes.grid, values },
    entries: all,
    lanes,
  };
}

function distances(
  { grid, elevFt, clearanceFt }: LaneGround,
  entries: readonly StreetEntry[],
  { maxGradePct, widthFt }: { readonly maxGradePct: number; readonly widthFt: number },
): Float32Array {
  const { cols, rows, cellFt, originEastFt, originNorthFt } = grid;
  const perRiseFt = 100 / maxGradePct;
  const roomFt = widthFt / 2 - cellFt / 4; // clearances are known to half a cell
  const best = new Float64Array(cols * rows).fill(NaN);
  const queue = new FlatQueue<number>();
  const offer = (cell: number, ft: number) => {
    if (!(clearanceFt[cell]! >= roomFt) || Number.isNaN(elevFt[cell]!) || best[cell]! <= ft) return;
    best[cell] = ft;
    queue.push(cell, ft);
  };
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
    offer(cell, Math.max(away, Math.abs(elevFt[cell]! - streetFt) * perRiseFt));
  }
  const plan = MOVES.map(([dc, dr]) => Math.hypot(dc, dr) * cellFt);
  for (;;) {
    const soFar = queue.peekValue();
    const cell = queue.pop();
    if (cell === undefined || soFar === undefined) return Float32Array.from(best);
    if (soFar > best[cell]!) continue;
    const row = Math.floor(cell / cols);
    const col = cell - row * cols;
    for (let m = 0; m < MOVES.length; m++) {
      const c = col + MOVES[m]![0];
      const r = row + MOVES[m]![1];
      if (c < 0 || r < 0 || c >= cols || r >= rows) continue;
      const next = r * cols + c;
      offer(next, soFar + Math.max(plan[m]!, Math.abs(elevFt[next]! - elevFt[cell]!) * perRiseFt));
    }
  }
}
