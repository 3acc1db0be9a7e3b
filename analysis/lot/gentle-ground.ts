/** Ground no steeper than a limit. */
import { intersectionOf } from "../geometry/clip.js";
import { outlineAtLeast } from "../geometry/outlines.js";
import { boxOf, type MultiPolygon } from "../geometry/plane.js";
import { facetSlopePct, facetsWithin, SLOPE_ROUNDING_PCT } from "../terrain/index.js";
import type { Terrain } from "../terrain/terrain.js";

/**
 * The part of `ground` (inside the lot) at or below the limit, percent: exact outlines of facets; on dense surveys
 * outlines in the smoothed slope grid, by d3-contour.
 */
export function gentlePart(
  ground: MultiPolygon,
  { tin, slope, summary }: Terrain,
  limitPct: number,
): MultiPolygon {
  if (summary.method === "grid") {
    const gentleness = { grid: slope.grid, values: slope.values.map((pct) => -pct) };
    return intersectionOf(ground, outlineAtLeast(gentleness, -limitPct, boxOf(ground.flat(2))));
  }
  const gentle = new Uint8Array(tin.facetCount);
  let allGentle = true;
  for (let f = 0; f < tin.facetCount; f++) {
    if (!(tin.areaInLotFt2[f]! > 0)) continue;
    if (facetSlopePct(tin, f) <= limitPct + SLOPE_ROUNDING_PCT) gentle[f] = 1;
    else allGentle = false;
  }
  return allGentle ? ground : facetsWithin(tin, gentle, ground);
}
