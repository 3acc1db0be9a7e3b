/** Grid values to polygons, by d3-contour. */
import { contours } from "d3-contour";
import type { Grid, Raster } from "./grid.js";
import type { Box, MultiPolygon, Point, Ring } from "./plane.js";
import { signedAreaFt2 } from "./plane.js";

/**
 * Ground where the raster is at least `threshold`, outlined through cell centres by linear interpolation; cells
 * without a value count as below. Outlines hold as far as the box reaches, where one is given: beyond it less is read.
 * For dense surveys: each outline is good to a fraction of a cell.
 */
export function outlineAtLeast({ grid, values }: Raster, threshold: number, within?: Box): MultiPolygon {
  const window = windowAtLeast(grid, values, threshold, within ? cellsAround(grid, within) : wholeOf(grid));
  if (!window) return [];
  const { west, south, cols, rows, part } = window;
  const framed = new Float64Array(cols * rows).fill(-Infinity);
  for (let row = Math.max(part.south, south); row < Math.min(part.north, south + rows); row++)
    for (let col = Math.max(part.west, west); col < Math.min(part.east, west + cols); col++) {
      const value = values[row * grid.cols + col]!;
      if (!Number.isNaN(value)) framed[(row - south) * cols + col - west] = value;
    }
  const shape = contours()
    .size([cols, rows])
    .smooth(true)
    .contour(framed as unknown as number[], threshold);
  return shape.coordinates.map((polygon) =>
    polygon.map((ring, i) => toRing(grid, window, ring as [number, number][], i === 0)),
  );
}

/** Columns and rows of a grid, from the first to before the last. */
interface Cells {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

function wholeOf({ cols, rows }: Grid): Cells {
  return { west: 0, south: 0, east: cols, north: rows };
}

/** The part of a grid that a box reaches into, and two cells around it. */
function cellsAround({ originEastFt, originNorthFt, cellFt, cols, rows }: Grid, box: Box): Cells {
  const first = (from: number, origin: number) => Math.max(0, Math.floor((from - origin) / cellFt) - 2);
  const end = (to: number, origin: number, most: number) =>
    Math.min(most, Math.floor((to - origin) / cellFt) + 3);
  return {
    west: first(box.minEastFt, originEastFt),
    south: first(box.minNorthFt, originNorthFt),
    east: end(box.maxEastFt, originEastFt, cols),
    north: end(box.maxNorthFt, originNorthFt, rows),
  };
}

interface Window {
  readonly west: number;
  readonly south: number;
  readonly cols: number;
  readonly rows: number;
  readonly part: Cells;
}

/** The cells of a part at or over a threshold with one around them, so that ground reaching the part's edge is closed there; null where there are none. */
function windowAtLeast(
  { cols }: Grid,
  values: ArrayLike<number>,
  threshold: number,
  part: Cells,
): Window | null {
  let [west, east, south, north] = [part.east, -1, -1, -1];
  for (let row = part.south; row < part.north; row++)
    for (let col = part.west; col < part.east; col++) {
      if (!(values[row * cols + col]! >= threshold)) continue;
      if (col < west) west = col;
      if (col > east) east = col;
      if (south < 0) south = row;
      north = row;
    }
  if (east < 0) return null;
  return { west: west - 1, south: south - 1, cols: east - west + 3, rows: north - south + 3, part };
}

/** d3-contour's coordinates: the window's first cell spans 0 to 1; its rings repeat the first point. */
function toRing(
  { originEastFt, originNorthFt, cellFt }: Grid,
  { west, south }: Window,
  ring: readonly [number, number][],
  outer: boolean,
): Ring {
  const points = ring
    .slice(0, -1)
    .map(([x, y]): Point => [originEastFt + (x + west) * cellFt, originNorthFt + (y + south) * cellFt]);
  return signedAreaFt2(points) > 0 === outer ? points : points.reverse();
}
