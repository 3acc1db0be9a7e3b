/** Grid values to polygons, by d3-contour. */
import { contours } from "d3-contour";
import type { Grid, Raster } from "./grid.js";
import type { MultiPolygon, Point, Ring } from "./plane.js";
import { signedAreaFt2 } from "./plane.js";

/**
 * Ground where the raster is at least `threshold`, outlined through cell centres by linear interpolation; cells
 * without a value count as below. For drawing and for dense surveys: each outline is good to a fraction of a cell.
 */
export function outlineAtLeast({ grid, values }: Raster, threshold: number): MultiPolygon {
  const { cols, rows } = grid;
  // one empty cell around, so that ground reaching the grid's edge is closed there
  const framed = new Array<number>((cols + 2) * (rows + 2)).fill(-Infinity);
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const value = values[row * cols + col]!;
      if (!Number.isNaN(value)) framed[(row + 1) * (cols + 2) + col + 1] = value;
    }
  const shape = contours()
    .size([cols + 2, rows + 2])
    .smooth(true)
    .contour(framed, threshold);
  return shape.coordinates.map((polygon) =>
    polygon.map((ring, i) => toRing(grid, ring as [number, number][], i === 0)),
  );
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
