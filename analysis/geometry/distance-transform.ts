/** Exact Euclidean distances on a grid: Felzenszwalb & Huttenlocher, "Distance Transforms of Sampled Functions", Theory of Computing 8 (2012). */
import type { Mask } from "./grid.js";

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
