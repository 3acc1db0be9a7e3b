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
  const usablePct = withinMask(slope.values, scanPolygons(grid, usable).values);
  const usableFrom =
    minBuildableWidthFt > 0 ? openingLimits({ grid, values: usablePct }, minBuildableWidthFt) : usablePct;
  const limitsPct = [...new Set([...CURVE_LIMITS_PCT, slopeLimitPct])].sort((a, b) => a - b);
  const countedFt2 = countUpTo(usableFrom, limitsPct).map((cells) => cells * grid.cellFt ** 2);
  const here = countedFt2[limitsPct.indexOf(slopeLimitPct)]!;
  return limitsPct.map((limitPct, k) => {
    if (limitPct === slopeLimitPct) return { limitPct, areaFt2: exactFt2 };
    const counted = countedFt2[k]!;
    // in proportion below, so that nothing stays nothing; by the difference above, so that a small answer does not distort a large one
    const areaFt2 =
      limitPct > slopeLimitPct ? exactFt2 + counted - here : here > 0 ? (counted * exactFt2) / here : 0;
    return { limitPct, areaFt2 };
  });
}

/** The values where the mask is 1, Infinity elsewhere. */
function withinMask(values: Float32Array, mask: Uint8Array): Float32Array {
  const within = new Float32Array(values.length).fill(Infinity);
  for (let i = 0; i < within.length; i++) if (mask[i]) within[i] = values[i]!;
  return within;
}

/** How many cells lie at or below each of the rising limits. */
function countUpTo(values: Float32Array, limitsPct: readonly number[]): number[] {
  const counts = limitsPct.map(() => 0);
  for (let i = 0; i < values.length; i++)
    for (let k = limitsPct.length - 1; k >= 0 && values[i]! <= limitsPct[k]! + SLOPE_ROUNDING_PCT; k--)
      counts[k]!++;
  return counts;
}
