/** Exact Euclidean distances on a grid: Felzenszwalb & Huttenlocher, "Distance Transforms of Sampled Functions", Theory of Computing 8 (2012). */
import type { Grid, Mask } from "./grid.js";

/**
 * Distance, in feet between cell centres, from each cell to the nearest cell where the mask is 1 (0 on those cells,
 * Infinity when there is none). Along the rows two sweeps, which are exact for a mask; along the columns lower
 * envelopes of parabolas: linear in the cells.
 */
export function distanceToMask(mask: Mask): Float64Array {
  const { cols, rows, cellFt } = mask.grid;
  const field = new Float64Array(cols * rows);
  for (let row = 0; row < rows; row++) sweepRow(mask.values, field, row * cols, cols);
  const line = new Float64Array(rows);
  const result = new Float64Array(rows);
  const apex = new Int32Array(rows);
  const border = new Float64Array(rows + 1);
  for (let col = 0; col < cols; col++) pass(field, col, cols, rows, line, result, apex, border);
  for (let i = 0; i < field.length; i++) field[i] = Math.sqrt(field[i]!) * cellFt;
  return field;
}

/** Squared distance along one row to its nearest 1, cells. */
function sweepRow(values: Mask["values"], field: Float64Array, start: number, cols: number): void {
  let away = Infinity;
  for (let i = start; i < start + cols; i++) {
    away = values[i] ? 0 : away + 1;
    field[i] = away * away;
  }
  away = Infinity;
  for (let i = start + cols - 1; i >= start; i--) {
    away = values[i] ? 0 : away + 1;
    field[i] = Math.min(field[i]!, away * away);
  }
}

/** Squared distance along one column: result[q] = min over p of (q − p)² + line[p]. */
function pass(
  field: Float64Array,
  start: number,
  step: number,
  count: number,
  line: Float64Array,
  result: Float64Array,
  apex: Int32Array,
  border: Float64Array,
): void {
  let last = -1;
  for (let q = 0; q < count; q++) {
    const f = field[start + q * step]!;
    line[q] = f;
    if (f === Infinity) continue;
    let from = -Infinity;
    while (last >= 0) {
      const p = apex[last]!;
      from = (f + q * q - line[p]! - p * p) / (2 * (q - p));
      if (from > border[last]!) break;
      last--;
    }
    last++;
    apex[last] = q;
    border[last] = last === 0 ? -Infinity : from;
  }
  if (last < 0) return;
  border[last + 1] = Infinity;
  let k = 0;
  for (let q = 0; q < count; q++) {
    while (border[k + 1]! < q) k++;
    const p = apex[k]!;
    result[q] = (q - p) ** 2 + line[p]!;
  }
  for (let q = 0; q < count; q++) field[start + q * step] = result[q]!;
}

/**
 * Morphological opening of a mask by a disc: cells covered by some disc of the diameter that lies wholly on the mask.
 * The grid's outside counts as 0.
 */
export function openMask(mask: Mask, diameterFt: number): Mask {
  const values = new Uint8Array(mask.values.length);
  const framed = frame(mask);
  if (framed === null) return { grid: mask.grid, values };
  const { grid, fromCol, fromRow } = framed;
  const radiusFt = diameterFt / 2;
  const outside = new Uint8Array(framed.values.length);
  for (let i = 0; i < outside.length; i++) outside[i] = framed.values[i] ? 0 : 1;
  const clearance = distanceToMask({ grid, values: outside });
  // the edge of the nearest outside cell is half a cell nearer than its centre
  const centres = new Uint8Array(outside.length);
  for (let i = 0; i < outside.length; i++) centres[i] = clearance[i]! - grid.cellFt / 2 >= radiusFt ? 1 : 0;
  const near = distanceToMask({ grid, values: centres });
  for (let row = 1; row + 1 < grid.rows; row++)
    for (let col = 1; col + 1 < grid.cols; col++) {
      const i = row * grid.cols + col;
      if (framed.values[i] && near[i]! <= radiusFt)
        values[(row + fromRow) * mask.grid.cols + col + fromCol] = 1;
    }
  return { grid: mask.grid, values };
}

/** The part of the mask that holds ones, with one empty cell around it; cell (col, row) of it is (col + fromCol, row + fromRow) of the mask. */
function frame({ grid, values }: Mask): (Mask & { fromCol: number; fromRow: number }) | null {
  let west = grid.cols;
  let east = -1;
  let south = grid.rows;
  let north = -1;
  for (let row = 0; row < grid.rows; row++)
    for (let col = 0; col < grid.cols; col++)
      if (values[row * grid.cols + col]) {
        if (col < west) west = col;
        if (col > east) east = col;
        if (row < south) south = row;
        north = row;
      }
  if (north < 0) return null;
  const framed: Grid = {
    originEastFt: grid.originEastFt + (west - 1) * grid.cellFt,
    originNorthFt: grid.originNorthFt + (south - 1) * grid.cellFt,
    cellFt: grid.cellFt,
    cols: east - west + 3,
    rows: north - south + 3,
  };
  const out = new Uint8Array(framed.cols * framed.rows);
  for (let row = south; row <= north; row++)
    out.set(
      values.subarray(row * grid.cols + west, row * grid.cols + east + 1),
      (row - south + 1) * framed.cols + 1,
    );
  return { grid: framed, values: out, fromCol: west - 1, fromRow: south - 1 };
}
