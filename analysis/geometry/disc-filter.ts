/** Where discs fit, for all limits at once. */
import type { Grid, Raster } from "./grid.js";

/**
 * For every cell the least limit at which it lies in the opening, by a disc of the diameter, of the cells at or below
 * the limit: the least, over the discs that cover it, of the highest value a disc touches. The morphological
 * opening of every such mask in one. The grid's outside and cells without a value hold no disc. Infinity where none ever fits.
 */
export function openingLimits({ grid, values }: Raster, diameterFt: number): Float32Array {
  const radiusFt = diameterFt / 2;
  const out = new Float32Array(values.length).fill(Infinity);
  // the edge of the nearest outside cell is half a cell nearer than its centre
  const touched = discRows((apartFt) => apartFt - grid.cellFt / 2 < radiusFt, grid.cellFt);
  const covered = discRows((apartFt) => apartFt <= radiusFt, grid.cellFt);
  const reach = touched.length >> 1;
  const frame = frameOf(grid, values, reach);
  if (frame === null) return out;
  const { wide, high, fromCol, fromRow } = frame;
  const highest = highestInDisc(frame.values, wide, high, touched);
  for (let i = 0; i < highest.length; i++) highest[i] = -highest[i]!;
  const lowest = highestInDisc(highest, wide, high, covered);
  for (let row = reach; row < high - reach; row++)
    for (let col = reach; col < wide - reach; col++)
      out[(row + fromRow) * grid.cols + col + fromCol] = -lowest[row * wide + col]!;
  return out;
}

/** Half-widths, cells, of a disc's rows from its lowest to its highest. */
function discRows(isInside: (apartFt: number) => boolean, cellFt: number): number[] {
  const up: number[] = [];
  for (let row = 0; isInside(row * cellFt); row++) {
    let half = 0;
    while (isInside(Math.sqrt((half + 1) ** 2 + row ** 2) * cellFt)) half++;
    up.push(half);
  }
  return [...up.slice(1).reverse(), ...up];
}

/** The part of the raster with values, with `reach` cells of Infinity around; null when a disc of that reach fits nowhere in it. */
function frameOf({ cols, rows }: Grid, values: Float32Array, reach: number) {
  let [west, east, south, north] = [cols, -1, rows, -1];
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++)
      if (values[row * cols + col]! < Infinity) {
        if (col < west) west = col;
        if (col > east) east = col;
        if (row < south) south = row;
        north = row;
      }
  if (Math.min(east - west, north - south) < 2 * reach) return null;
  const wide = east - west + 1 + 2 * reach;
  const high = north - south + 1 + 2 * reach;
  const framed = new Float32Array(wide * high).fill(Infinity);
  for (let row = south; row <= north; row++)
    for (let col = west; col <= east; col++) {
      const value = values[row * cols + col]!;
      if (!Number.isNaN(value)) framed[(row - south + reach) * wide + col - west + reach] = value;
    }
  return { wide, high, values: framed, fromCol: west - reach, fromRow: south - reach };
}

/** Highest value in a disc about each cell; Infinity where the disc reaches beyond the rim. */
function highestInDisc(
  values: Float32Array,
  wide: number,
  high: number,
  halfWidths: readonly number[],
): Float32Array {
  const reach = halfWidths.length >> 1;
  const out = new Float32Array(values.length).fill(Infinity);
  for (let row = reach; row < high - reach; row++)
    out.fill(-Infinity, row * wide + reach, (row + 1) * wide - reach);
  let along = values.slice();
  let next = new Float32Array(values.length);
  const widest = halfWidths[reach]!;
  for (let half = 0; half <= widest; half++) {
    if (half > 0) {
      // the stretch of a half-width is two stretches of the one before, shifted one to the left and one to the right
      for (let i = 1; i + 1 < along.length; i++) {
        const both = Math.max(along[i - 1]!, along[i + 1]!);
        next[i] = half === 1 && along[i]! > both ? along[i]! : both;
      }
      [along, next] = [next, along];
    }
    for (let k = 0; k < halfWidths.length; k++) {
      if (halfWidths[k] !== half) continue;
      const shift = (k - reach) * wide;
      for (let row = reach; row < high - reach; row++)
        for (let i = row * wide + reach; i < (row + 1) * wide - reach; i++)
          if (along[i + shift]! > out[i]!) out[i] = along[i + shift]!;
    }
  }
  return out;
}
