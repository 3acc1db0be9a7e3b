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

/** Neighbours (numbers of NEIGHBOUR_COL) beside each of the eight facets round a cell: the straight one and the diagonal one. */
const STRAIGHT = [0, 2, 2, 4, 4, 6, 6, 0] as const;
const DIAGONAL = [1, 1, 3, 3, 5, 5, 7, 7] as const;

export function flowField({ grid, values }: Raster): FlowField {
  const { cols, rows, cellFt } = grid;
  const count = cols * rows;
  // with an empty cell around, so that every cell has eight neighbours; from here on cells are those of the framed grid
  const wide = cols + 2;
  const z = new Float64Array(wide * (rows + 2)).fill(NaN);
  for (let row = 0; row < rows; row++)
    z.set(values.subarray(row * cols, (row + 1) * cols), (row + 1) * wide + 1);
  const steps = Int32Array.from(NEIGHBOUR_COL, (col, k) => NEIGHBOUR_ROW[k]! * wide + col);
  const edge = new Uint8Array(z.length);
  const { order, parent } = flood(z, steps, edge);

  const receiver = new Int32Array(z.length).fill(-1);
  const upslopeFt2 = new Float64Array(z.length);
  const dInfinityFt2 = new Float64Array(z.length);
  const cellFt2 = cellFt * cellFt;
  for (let i = 0; i < order.length; i++) {
    const cell = order[i]!;
    receiver[cell] = steepestDown(cell, z, steps, parent[cell]!);
    upslopeFt2[cell] = cellFt2;
    dInfinityFt2[cell] = cellFt2;
  }
  for (let i = order.length - 1; i >= 0; i--) {
    const cell = order[i]!;
    const to = receiver[cell]!;
    if (to >= 0) upslopeFt2[to]! += upslopeFt2[cell]!;
    splitDownhill(cell, to, z, dInfinityFt2, steps);
  }

  const inner = <T extends Float64Array | Int32Array | Uint8Array>(framed: T, out: T): T => {
    for (let row = 0; row < rows; row++)
      out.set(framed.subarray((row + 1) * wide + 1, (row + 1) * wide + 1 + cols), row * cols);
    return out;
  };
  unframe(order, wide);
  unframe(receiver, wide);
  return {
    grid,
    filledFt: inner(z, new Float64Array(count)),
    order,
    receiver: inner(receiver, new Int32Array(count)),
    edge: inner(edge, new Uint8Array(count)),
    upslopeFt2: inner(upslopeFt2, new Float64Array(count)),
    dInfinityFt2: inner(dInfinityFt2, new Float64Array(count)),
  };
}

/** Numbers cells as without the frame; −1 stays. */
function unframe(cells: Int32Array, wide: number): void {
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i]!;
    if (cell >= 0) cells[i] = cell - wide - 1 - 2 * (Math.floor(cell / wide) - 1);
  }
}

/** Fills the depressions of `z` from the edge of the survey, which it marks: the order in which water reached the cells, and from where. */
function flood(
  z: Float64Array,
  steps: Int32Array,
  edge: Uint8Array,
): { order: Int32Array; parent: Int32Array } {
  const parent = new Int32Array(z.length).fill(-1);
  const done = new Uint8Array(z.length);
  const order = new Int32Array(z.length);
  const queue = new FlatQueue<number>();
  for (let cell = 0; cell < z.length; cell++) {
    if (Number.isNaN(z[cell]!)) {
      done[cell] = 1;
      continue;
    }
    for (let k = 0; k < 8; k++)
      if (Number.isNaN(z[cell + steps[k]!]!)) {
        edge[cell] = 1;
        done[cell] = 1;
        queue.push(cell, z[cell]!);
        break;
      }
  }
  let reached = 0;
  while (queue.length > 0) {
    const cell = queue.pop()!;
    order[reached++] = cell;
    for (let k = 0; k < 8; k++) {
      const next = cell + steps[k]!;
      if (done[next]) continue;
      done[next] = 1;
      parent[next] = cell;
      if (z[next]! < z[cell]!) z[next] = z[cell]!;
      queue.push(next, z[next]!);
    }
  }
  return { order: order.slice(0, reached), parent };
}

/** The neighbour steepest below a cell; `otherwise` where none is lower. */
function steepestDown(cell: number, z: Float64Array, steps: Int32Array, otherwise: number): number {
  let steepest = 0;
  let to = otherwise;
  for (let k = 0; k < 8; k++) {
    const next = cell + steps[k]!;
    const fallFt = z[cell]! - z[next]!;
    const fall = k % 2 === 0 ? fallFt : fallFt / Math.SQRT2;
    // never so where the neighbour has no ground
    if (fall > steepest) {
      steepest = fall;
      to = next;
    }
  }
  return to;
}

/** Hands a cell's area to the two neighbours beside its steepest direction, in proportion to the angle (Tarboton 1997, eq. 2 to 5). */
function splitDownhill(
  cell: number,
  d8: number,
  z: Float64Array,
  areaFt2: Float64Array,
  steps: Int32Array,
): void {
  let steepest = 0;
  let best = -1;
  for (let facet = 0; facet < 8; facet++) {
    const za = z[cell + steps[STRAIGHT[facet]!]!]!;
    const zb = z[cell + steps[DIAGONAL[facet]!]!]!;
    const s1 = z[cell]! - za;
    const s2 = za - zb;
    // beyond the facet's sides the flow runs along the nearer one
    const slope = s2 < 0 ? s1 : s2 > s1 ? (z[cell]! - zb) / Math.SQRT2 : Math.sqrt(s1 * s1 + s2 * s2);
    // never so where a neighbour has no ground
    if (slope > steepest) {
      steepest = slope;
      best = facet;
    }
  }
  if (best < 0) {
    if (d8 >= 0) areaFt2[d8]! += areaFt2[cell]!;
    return;
  }
  const straight = cell + steps[STRAIGHT[best]!]!;
  const diagonal = cell + steps[DIAGONAL[best]!]!;
  const turn = Math.atan2(z[straight]! - z[diagonal]!, z[cell]! - z[straight]!);
  const share = Math.min(1, Math.max(0, turn / (Math.PI / 4)));
  if (share < 1) areaFt2[straight]! += (1 - share) * areaFt2[cell]!;
  if (share > 0) areaFt2[diagonal]! += share * areaFt2[cell]!;
}
