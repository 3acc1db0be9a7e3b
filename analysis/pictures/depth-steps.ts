/** How deep the cut and how high the fill, as nested outlines. */
import { contours } from "d3-contour";
import type { Raster } from "../geometry/grid.js";
import type { MultiPolygon, Point } from "../geometry/plane.js";
import type { SchemePicture } from "./pictures.js";
import { thinPolygons } from "./thin.js";

const STEPS_FT = [2, 4, 6, 8, 12, 16, 24] as const;
const SMALLEST_FT2 = 6;

export function depthSteps(depth: Raster, toleranceFt: number): SchemePicture["depthSteps"] {
  const window = touchedWindow(depth);
  if (!window) return [];
  return (["cut", "fill"] as const).flatMap((side) => {
    const sign = side === "cut" ? 1 : -1;
    const values = window.values.map((v) => (Number.isNaN(v) ? 0 : v * sign));
    const deepest = values.reduce((a, b) => Math.max(a, b), 0);
    const shapes = contours().size([window.cols, window.rows]);
    return STEPS_FT.filter((step) => step < deepest).map((depthFt) => ({
      side,
      depthFt,
      polygons: thinPolygons(
        placed(shapes.contour(values, depthFt).coordinates, window),
        Math.max(toleranceFt, window.cellFt / 6),
        SMALLEST_FT2,
      ),
    }));
  });
}

interface Window {
  readonly values: number[];
  readonly cols: number;
  readonly rows: number;
  readonly cellFt: number;
  readonly westFt: number;
  readonly southFt: number;
}

/** The part of the raster that is graded, with one empty cell around it; undefined when nothing is. */
function touchedWindow({ grid, values }: Raster): Window | undefined {
  let [west, south, east, north] = [grid.cols, grid.rows, -1, -1];
  for (let row = 0, i = 0; row < grid.rows; row++)
    for (let col = 0; col < grid.cols; col++, i++)
      if (!Number.isNaN(values[i]!)) {
        west = Math.min(west, col);
        east = Math.max(east, col);
        south = Math.min(south, row);
        north = Math.max(north, row);
      }
  if (east < 0) return undefined;
  const cols = east - west + 3;
  const rows = north - south + 3;
  const inside: number[] = [];
  for (let row = south - 1; row <= north + 1; row++)
    for (let col = west - 1; col <= east + 1; col++)
      inside.push(
        row < 0 || col < 0 || row >= grid.rows || col >= grid.cols ? NaN : values[row * grid.cols + col]!,
      );
  return {
    values: inside,
    cols,
    rows,
    cellFt: grid.cellFt,
    westFt: grid.originEastFt + (west - 1) * grid.cellFt,
    southFt: grid.originNorthFt + (south - 1) * grid.cellFt,
  };
}

/** From d3-contour's pixel coordinates (cell index + 0.5) to feet; its rings repeat the first point. */
function placed(polygons: number[][][][], { westFt, southFt, cellFt }: Window): MultiPolygon {
  return polygons.map((polygon) =>
    polygon.map((ring) =>
      ring.slice(0, -1).map(([x, y]): Point => [westFt + x! * cellFt, southFt + y! * cellFt]),
    ),
  );
}
