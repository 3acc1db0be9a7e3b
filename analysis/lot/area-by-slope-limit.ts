/** How much the answer hangs on the slope limit, which differs from place to place. */
import { openingLimits } from "../geometry/disc-filter.js";
import type { Raster } from "../geometry/grid.js";
import type { MultiPolygon } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { StudyRequest } from "../request/request.js";
import { SLOPE_ROUNDING_PCT } from "../terrain/index.js";
import type { BuildableSummary } from "./lot.js";

/** Limits of the curve, percent; the request's own limit is added. */
const CURVE_LIMITS_PCT = [10, 15, 20, 25, 30, 35, 40, 50, 60];

/**
 * Buildable area for a row of slope limits, everything else as it is: counted on the grid of slopes, with narrow ground
 * taken by discs on cells, then fitted to the exact area at the request's limit. Never falls with the limit;
 * mostly within one percent of the lot.
 */
export function areaBySlopeLimit(
  usable: MultiPolygon,
  slope: Raster,
  { slopeLimitPct, minBuildableWidthFt }: StudyRequest["rules"],
  exactFt2: number,
): BuildableSummary["bySlopeLimit"] {
  const { grid } = slope;
  const mask = scanPolygons(grid, usable).values;
  const usablePct = slope.values.map((pct, i) => (mask[i] ? pct : Infinity));
  const usableFrom =
    minBuildableWidthFt > 0 ? openingLimits({ grid, values: usablePct }, minBuildableWidthFt) : usablePct;
  const countedFt2 = (limitPct: number) => {
    let cells = 0;
    for (let i = 0; i < usableFrom.length; i++) if (usableFrom[i]! <= limitPct + SLOPE_ROUNDING_PCT) cells++;
    return cells * grid.cellFt ** 2;
  };
  const here = countedFt2(slopeLimitPct);
  return [...new Set([...CURVE_LIMITS_PCT, slopeLimitPct])]
    .sort((a, b) => a - b)
    .map((limitPct) => {
      if (limitPct === slopeLimitPct) return { limitPct, areaFt2: exactFt2 };
      const counted = countedFt2(limitPct);
      // in proportion below, so that nothing stays nothing; by the difference above, so that a small answer does not distort a large one
      const areaFt2 =
        limitPct > slopeLimitPct ? exactFt2 + counted - here : here > 0 ? (counted * exactFt2) / here : 0;
      return { limitPct, areaFt2 };
    });
}
