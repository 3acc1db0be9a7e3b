/** Steepness of dense surveys: on ground smoothed to the size of a house corner, by Horn's formula. */
import type { Grid, Raster } from "../geometry/grid.js";

/** Length over which dense ground is smoothed before its slope is taken: about what a footing or a driveway feels. Judgement. */
export const SLOPE_BASE_FT = 10;

/**
 * Mean over a square of about 10 ft, taken symmetrically about each cell: where surveyed ground ends on one side the
 * window shrinks on both, so a plane stays a plane. NaN stays NaN.
 */
export function smoothGround({ grid, values }: Raster): Raster {
  const reach = Math.round((SLOPE_BASE_FT / grid.cellFt - 1) / 2);
  if (reach < 1) return { grid, values };
  const longest = Math.max(grid.cols, grid.rows);
  const sums = new Float64Array(longest + 1);
  const run = new Int32Array(longest);
  const out = Float32Array.from(values);
  for (let row = 0; row < grid.rows; row++) smoothLine(out, row * grid.cols, 1, grid.cols, reach, sums, run);
  for (let col = 0; col < grid.cols; col++) smoothLine(out, col, grid.cols, grid.rows, reach, sums, run);
  return { grid, values: out };
}

function smoothLine(
  field: Float32Array,
  start: number,
  step: number,
  count: number,
  reach: number,
  sums: Float64Array,
  run: Int32Array,
): void {
  // run[q]: cells with ground up to q on its near side, then the smaller of both sides
  for (let q = 0; q < count; q++) {
    const z = field[start + q * step]!;
    const hole = Number.isNaN(z);
    run[q] = hole ? 0 : q === 0 ? 1 : run[q - 1]! + 1;
    sums[q + 1] = sums[q]! + (hole ? 0 : z);
  }
  let after = 0;
  for (let q = count - 1; q >= 0; q--) {
    after = run[q] === 0 ? 0 : after + 1;
    if (after < run[q]!) run[q] = after;
  }
  for (let q = 0; q < count; q++) {
    if (run[q] === 0) continue;
    const r = Math.min(reach, run[q]! - 1);
    field[start + q * step] = (sums[q + r + 1]! - sums[q - r]!) / (2 * r + 1);
  }
}

/**
 * Rise per foot east and north at the middle of a 3 × 3 window, a b c / d e f / g h i from the north-west corner:
 * east = ((c + 2f + i) − (a + 2d + g)) / 8w, north = ((a + 2b + c) − (g + 2h + i)) / 8w.
 * Horn, "Hill shading and the reflectance map", Proc. IEEE 69 (1981) 14–47.
 */
export function hornGradient(
  [a, b, c, d, f, g, h, i]: readonly [number, number, number, number, number, number, number, number],
  cellFt: number,
): [number, number] {
  return [rise(c, f, i, a, d, g, cellFt), rise(a, b, c, g, h, i, cellFt)];
}

/** Weighted mean rise per foot from one side of the window, middle second, to the other. */
function rise(
  to1: number,
  to2: number,
  to3: number,
  from1: number,
  from2: number,
  from3: number,
  cellFt: number,
): number {
  return (to1 + 2 * to2 + to3 - (from1 + 2 * from2 + from3)) / (8 * cellFt);
}

/**
 * Horn's gradient for every cell with ground. A missing neighbour is replaced by the point that makes the window
 * straight across the middle (2e − opposite); a corner without an opposite by the plane of its two sides; with neither,
 * by the middle. Exact on planes.
 */
export function gridGradients({ grid, values }: Raster): { east: Float32Array; north: Float32Array } {
  const { cols, rows, cellFt } = grid;
  const east = new Float32Array(values.length).fill(NaN);
  const north = new Float32Array(values.length).fill(NaN);
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const cell = row * cols + col;
      if (Number.isNaN(values[cell]!)) continue;
      if (col > 0 && row > 0 && col + 1 < cols && row + 1 < rows) {
        const a = values[cell + cols - 1]!;
        const b = values[cell + cols]!;
        const c = values[cell + cols + 1]!;
        const d = values[cell - 1]!;
        const f = values[cell + 1]!;
        const g = values[cell - cols - 1]!;
        const h = values[cell - cols]!;
        const i = values[cell - cols + 1]!;
        east[cell] = rise(c, f, i, a, d, g, cellFt);
        north[cell] = rise(a, b, c, g, h, i, cellFt);
        if (!Number.isNaN(east[cell]! + north[cell]!)) continue;
      }
      [east[cell], north[cell]] = gradientByTheRim(grid, values, col, row);
    }
  return { east, north };
}

function gradientByTheRim(
  { cols, rows, cellFt }: Grid,
  values: Float32Array,
  col: number,
  row: number,
): [number, number] {
  const e = values[row * cols + col]!;
  const at = (c: number, r: number) =>
    c < 0 || r < 0 || c >= cols || r >= rows ? NaN : values[r * cols + c]!;
  const z = (dx: number, dy: number): number => {
    const near = at(col + dx, row + dy);
    if (!Number.isNaN(near)) return near;
    const far = at(col - dx, row - dy);
    if (!Number.isNaN(far)) return 2 * e - far;
    return dx !== 0 && dy !== 0 ? z(dx, 0) + z(0, dy) - e : e;
  };
  return hornGradient([z(-1, 1), z(0, 1), z(1, 1), z(-1, 0), z(1, 0), z(-1, -1), z(0, -1), z(1, -1)], cellFt);
}
