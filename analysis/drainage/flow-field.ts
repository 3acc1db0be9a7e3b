/**
 * Where rain runs on the natural ground, cell by cell.
 * Depressions are filled by priority-flood (Barnes, Lehman & Mulla 2014); each cell then drains to its steepest lower
 * neighbour (D8, O'Callaghan & Mark 1984), flats to where the flood came from; areas are also gathered by D-infinity
 * (Tarboton 1997), which splits the flow between two neighbours.
 */
import FlatQueue from "flatqueue";
import { type Grid, NEIGHBOUR_COL, NEIGHBOUR_ROW, type Raster } from "../geometry/grid.js";

export interface FlowField {
  readonly grid: Grid;
  /** Ground with its depressions filled; NaN where unsurveyed. */
  readonly filledFt: Float64Array;
  /** Surveyed cells from the lowest outlet upward: every cell comes after the one it drains to. */
  readonly order: Int32Array;
  /** Cell each one drains to; −1 where water leaves the survey. */
  readonly receiver: Int32Array;
  /** 1 where the cell lies at the edge of the survey: water may come from beyond. */
  readonly edge: Uint8Array;
  /** Ground that drains through each cell, itself included, D8. */
  readonly upslopeFt2: Float64Array;
  /** The same by D-infinity. */
  readonly dInfinityFt2: Float64Array;
}

export function flowField({ grid, values }: Raster): FlowField {
  const { cols, rows, cellFt } = grid;
  const count = cols * rows;
  const filledFt = Float64Array.from(values);
  const edge = new Uint8Array(count);
  const parent = new Int32Array(count).fill(-1);
  const done = new Uint8Array(count);
  const order: number[] = [];
  const queue = new FlatQueue<number>();
  const neighbour = (cell: number, k: number): number => {
    const col = (cell % cols) + NEIGHBOUR_COL[k]!;
    const row = Math.floor(cell / cols) + NEIGHBOUR_ROW[k]!;
    return col < 0 || row < 0 || col >= cols || row >= rows ? -1 : row * cols + col;
  };

  // the flood begins at every cell on the edge of the survey
  for (let cell = 0; cell < count; cell++) {
    if (Number.isNaN(filledFt[cell]!)) continue;
    for (let k = 0; k < 8; k++) {
      const next = neighbour(cell, k);
      if (next >= 0 && !Number.isNaN(filledFt[next]!)) continue;
      edge[cell] = 1;
      done[cell] = 1;
      queue.push(cell, filledFt[cell]!);
      break;
    }
  }
  while (queue.length > 0) {
    const cell = queue.pop()!;
    order.push(cell);
    for (let k = 0; k < 8; k++) {
      const next = neighbour(cell, k);
      if (next < 0 || done[next] || Number.isNaN(filledFt[next]!)) continue;
      done[next] = 1;
      parent[next] = cell;
      if (filledFt[next]! < filledFt[cell]!) filledFt[next] = filledFt[cell]!;
      queue.push(next, filledFt[next]!);
    }
  }

  const receiver = new Int32Array(count).fill(-1);
  for (const cell of order) {
    let steepest = 0;
    for (let k = 0; k < 8; k++) {
      const next = neighbour(cell, k);
      if (next < 0 || Number.isNaN(filledFt[next]!)) continue;
      const fall = (filledFt[cell]! - filledFt[next]!) / (k % 2 === 0 ? 1 : Math.SQRT2);
      if (fall > steepest) {
        steepest = fall;
        receiver[cell] = next;
      }
    }
    if (steepest === 0) receiver[cell] = parent[cell]!;
  }

  const cellFt2 = cellFt * cellFt;
  const upslopeFt2 = new Float64Array(count);
  const dInfinityFt2 = new Float64Array(count);
  for (const cell of order) upslopeFt2[cell] = dInfinityFt2[cell] = cellFt2;
  for (let i = order.length - 1; i >= 0; i--) {
    const cell = order[i]!;
    const to = receiver[cell]!;
    if (to >= 0) upslopeFt2[to]! += upslopeFt2[cell]!;
    splitDownhill(cell, to, filledFt, dInfinityFt2, neighbour);
  }
  return { grid, filledFt, order: Int32Array.from(order), receiver, edge, upslopeFt2, dInfinityFt2 };
}

/** Hands a cell's area to the two neighbours beside its steepest direction, in proportion to the angle (Tarboton 1997, eq. 2 to 5). */
function splitDownhill(
  cell: number,
  d8: number,
  z: Float64Array,
  areaFt2: Float64Array,
  neighbour: (cell: number, k: number) => number,
): void {
  let steepest = 0;
  let share = 0;
  let straight = -1;
  let diagonal = -1;
  for (let facet = 0; facet < 8; facet++) {
    // each facet lies between a straight neighbour and a diagonal one
    const kStraight = facet % 2 === 0 ? facet : (facet + 1) % 8;
    const kDiagonal = facet % 2 === 0 ? facet + 1 : facet;
    const a = neighbour(cell, kStraight);
    const b = neighbour(cell, kDiagonal);
    if (a < 0 || b < 0 || Number.isNaN(z[a]!) || Number.isNaN(z[b]!)) continue;
    const s1 = z[cell]! - z[a]!;
    const s2 = z[a]! - z[b]!;
    let turn = Math.atan2(s2, s1);
    let slope = Math.hypot(s1, s2);
    if (turn < 0) {
      turn = 0;
      slope = s1;
    } else if (turn > Math.PI / 4) {
      turn = Math.PI / 4;
      slope = (z[cell]! - z[b]!) / Math.SQRT2;
    }
    if (slope > steepest) {
      steepest = slope;
      share = turn / (Math.PI / 4);
      straight = a;
      diagonal = b;
    }
  }
  if (steepest === 0) {
    if (d8 >= 0) areaFt2[d8]! += areaFt2[cell]!;
    return;
  }
  if (share < 1) areaFt2[straight]! += (1 - share) * areaFt2[cell]!;
  if (share > 0) areaFt2[diagonal]! += share * areaFt2[cell]!;
}
