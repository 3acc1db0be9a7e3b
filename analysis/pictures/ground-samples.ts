/** Heights read off the terrain's grid, between cell centres. */
import { cellCentre, type Grid, type Raster } from "../geometry/grid.js";
import type { Box } from "../geometry/plane.js";
import type { PictureGrid } from "./pictures.js";
import { to01 } from "./thin.js";

/** Bilinear between the four nearest cell centres; NaN unless every centre with weight has a value. */
export function heightAt({ grid, values }: Raster, eastFt: number, northFt: number): number {
  const x = (eastFt - grid.originEastFt) / grid.cellFt - 0.5;
  const y = (northFt - grid.originNorthFt) / grid.cellFt - 0.5;
  const col = Math.min(Math.max(Math.floor(x), 0), grid.cols - 2);
  const row = Math.min(Math.max(Math.floor(y), 0), grid.rows - 2);
  const u = x - col;
  const v = y - row;
  // Half a cell beyond the outermost centres still lies in a cell; farther out there is nothing.
  if (!(u >= -0.5 && u <= 1.5 && v >= -0.5 && v <= 1.5)) return NaN;
  const i = row * grid.cols + col;
  const south = mix(values[i]!, values[i + 1]!, u);
  const north = mix(values[i + grid.cols]!, values[i + grid.cols + 1]!, u);
  return mix(south, north, v);
}

function mix(a: number, b: number, t: number): number {
  if (t <= 0.001) return a;
  if (t >= 0.999) return b;
  return a + (b - a) * t;
}

/** The value of the cell a place lies in; NaN outside. */
export function cellAt({ grid, values }: Raster, eastFt: number, northFt: number): number {
  const col = Math.floor((eastFt - grid.originEastFt) / grid.cellFt);
  const row = Math.floor((northFt - grid.originNorthFt) / grid.cellFt);
  return col >= 0 && row >= 0 && col < grid.cols && row < grid.rows ? values[row * grid.cols + col]! : NaN;
}

/** A coarse copy over a box: at most `mostCells` cells along its longer side, never finer than the raster itself. */
export function coarse(raster: Raster, box: Box, mostCells: number, read: typeof heightAt): PictureGrid {
  const widthFt = box.maxEastFt - box.minEastFt;
  const heightFt = box.maxNorthFt - box.minNorthFt;
  const cellFt = Math.max(raster.grid.cellFt, Math.max(widthFt, heightFt) / mostCells);
  const grid: Grid = {
    originEastFt: box.minEastFt,
    originNorthFt: box.minNorthFt,
    cellFt,
    cols: Math.max(1, Math.ceil(widthFt / cellFt)),
    rows: Math.max(1, Math.ceil(heightFt / cellFt)),
  };
  const values: (number | null)[] = [];
  for (let row = 0; row < grid.rows; row++)
    for (let col = 0; col < grid.cols; col++) {
      const value = read(raster, ...cellCentre(grid, col, row));
      values.push(Number.isNaN(value) ? null : to01(value));
    }
  return { grid, values };
}
