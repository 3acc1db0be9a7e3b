/** Exact Euclidean distances on a grid: Felzenszwalb & Huttenlocher, "Distance Transforms of Sampled Functions", Theory of Computing 8 (2012). */
import type { Grid, Mask } from "./grid.js";

/**
 * Distance, in feet between cell centres, from each cell to the nearest cell where the mask is 1 (0 on those cells,
 * Infinity when there is none). Two passes of one-dimensional lower envelopes of parabolas: linear in the cells.
 */
export function distanceToMask(mask: Mask): Float64Array {
  const { cols, rows, cellFt } = mask.grid;
  const field = new Float64Array(cols * rows);
  for (let i = 0; i < field.length; i++) field[i] = mask.values[i] ? 0 : Infinity;
  const longest = Math.max(cols, rows);
  const line = new Float64Array(longest);
  const result = new Float64Array(longest);
  const apex = new Int32Array(longest);
  const border = new Float64Array(longest + 1);
  for (let row = 0; row < rows; row++) pass(field, row * cols, 1, cols, line, result, apex, border);
  for (let col = 0; col < cols; col++) pass(field, col, cols, rows, line, result, apex, border);
  for (let i = 0; i < field.length; i++) field[i] = Math.sqrt(field[i]!) * cellFt;
  return field;
}

/** Squared distance along one row or column: result[q] = min over p of (q − p)² + line[p]. */
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

/** Morphological opening of a mask by a disc: cells covered by some disc of the diameter that lies wholly on the mask. The grid's outside counts as 0. */
export function openMask(mask: Mask, diameterFt: number): Mask {
  const framed = frame(mask);
  const radiusFt = diameterFt / 2;
  const outside = distanceToMask(invert(framed));
  // a cell centre's clearance to the edge of the nearest outside cell is half a cell less than to its centre
  const centres = Uint8Array.from(outside, (d) => (d - framed.grid.cellFt / 2 >= radiusFt ? 1 : 0));
  const near = distanceToMask({ grid: framed.grid, values: centres });
  const values = new Uint8Array(mask.values.length);
  const { cols, rows } = mask.grid;
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const i = row * cols + col;
      values[i] = mask.values[i] && near[(row + 1) * (cols + 2) + col + 1]! <= radiusFt ? 1 : 0;
    }
  return { grid: mask.grid, values };
}

function invert(mask: Mask): Mask {
  return { grid: mask.grid, values: mask.values.map((v) => (v ? 0 : 1)) };
}

/** The mask with one empty cell around it. */
function frame({ grid, values }: Mask): Mask {
  const framed: Grid = {
    ...grid,
    originEastFt: grid.originEastFt - grid.cellFt,
    originNorthFt: grid.originNorthFt - grid.cellFt,
    cols: grid.cols + 2,
    rows: grid.rows + 2,
  };
  const out = new Uint8Array(framed.cols * framed.rows);
  for (let row = 0; row < grid.rows; row++)
    out.set(values.subarray(row * grid.cols, (row + 1) * grid.cols), (row + 1) * framed.cols + 1);
  return { grid: framed, values: out };
}
