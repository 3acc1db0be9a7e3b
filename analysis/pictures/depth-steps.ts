/** How deep the cut and how high the fill, as nested outlines. */
import type { Raster } from "../geometry/grid.js";
import { nestedOutlines } from "../geometry/nested-outlines.js";
import type { SchemePicture } from "./pictures.js";
import { thinPolygons } from "./thin.js";

const STEPS_FT = [2, 4, 6, 8, 12, 16, 24] as const;
const SMALLEST_FT2 = 6;

export function depthSteps({ grid, values }: Raster, toleranceFt: number): SchemePicture["depthSteps"] {
  const tolerance = Math.max(toleranceFt, grid.cellFt / 6);
  return (["cut", "fill"] as const).flatMap((side) => {
    const depths = depthsOf(values, side === "cut" ? 1 : -1);
    const deepest = highestOf(depths);
    const reached = STEPS_FT.filter((step) => step < deepest);
    return nestedOutlines({ grid, values: depths }, reached).map((outline, i) => ({
      side,
      depthFt: reached[i]!,
      polygons: thinPolygons(outline, tolerance, SMALLEST_FT2),
    }));
  });
}

/** Depths of one side; ground left as it is has none: outlines run between its cells and the others. */
function depthsOf(values: ArrayLike<number>, sign: 1 | -1): Float32Array {
  const depths = new Float32Array(values.length);
  for (let i = 0; i < values.length; i++) {
    const depth = sign * values[i]!;
    if (!Number.isNaN(depth)) depths[i] = depth;
  }
  return depths;
}

function highestOf(depths: Float32Array): number {
  let highest = 0;
  for (let i = 0; i < depths.length; i++) if (depths[i]! > highest) highest = depths[i]!;
  return highest;
}
