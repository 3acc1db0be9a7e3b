/** Grid values to polygons, by d3-contour. */
import { contours } from "d3-contour";
import type { Grid, Raster } from "./grid.js";
import type { Box, MultiPolygon, Point, Ring } from "./plane.js";
import { signedAreaFt2 } from "./plane.js";

/**
 * Ground where the raster is at least `threshold`, outlined through cell centres by linear interpolation; cells
 * without a value count as below. Outlines hold as far as the box reaches, where one is given: beyond it less is read.
 * For drawing and for dense surveys: each outline is good to a fraction of a cell.
 */
export function outlineAtLeast({ grid, values }: Raster, threshold: number, within?: Box): MultiPolygon {
  const part = within ? cellsAround(grid, within) : grid;
  const { cols, rows } = part;
  const firstCol = Math.round((part.originEastFt - grid.originEastFt) / grid.cellFt);
  const firstRow = Math.round((part.originNorthFt - grid.originNorthFt) / grid.cellFt);
  // one empty cell around, so that ground reaching the grid's edge is closed there
  const framed = new Float64Array((cols + 2) * (rows + 2)).fill(-Infinity);
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const value = values[(row + firstRow) * grid.cols + col + firstCol]!;
      if (!Number.isNaN(value)) framed[(row + 1) * (cols + 2) + col + 1] = value;
    }
  const shape = contours()
    .size([cols + 2, rows + 2])
    .smooth(true)
    .contour(framed as unknown as number[], threshold);
  return shape.coordinates.map((polygon) =>
    polygon.map((ring, i) => toRing(part, ring as [number, number][], i === 0)),
  );
}

/** The part of a grid that a box reaches into, and two cells around it. */
function cellsAround(grid: Grid, box: Box): Grid {
  const { originEastFt, originNorthFt, cellFt } = grid;
  const first = (from: number, origin: number) => Math.max(0, Math.floor((from - origin) / cellFt) - 2);
  const end = (to: number, origin: number, most: number) =>
    Math.min(most, Math.floor((to - origin) / cellFt) + 3);
  const col = first(box.minEastFt, originEastFt);
  const row = first(box.minNorthFt, originNorthFt);
  return {
    originEastFt: originEastFt + col * cellFt,
    originNorthFt: originNorthFt + row * cellFt,
    cellFt,
    cols: Math.max(0, end(box.maxEastFt, originEastFt, grid.cols) - col),
    rows: Math.max(0, end(box.maxNorthFt, originNorthFt, grid.rows) - row),
  };
}

/** d3-contour's coordinates: cell (0, 0) of the framed grid spans 0 to 1; its rings repeat the first point. */
function toRing(grid: Grid, ring: readonly [number, number][], outer: boolean): Ring {
  const points = ring
    .slice(0, -1)
    .map(
      ([x, y]): Point => [
        grid.originEastFt + (x - 1) * grid.cellFt,
        grid.originNorthFt + (y - 1) * grid.cellFt,
      ],
    );
  return signedAreaFt2(points) > 0 === outer ? points : points.reverse();
}
