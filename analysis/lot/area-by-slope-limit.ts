/** How much the answer hangs on the slope limit, which differs from place to place. */
import { openMask } from "../geometry/distance-transform.js";
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
 * taken by exact distance transform, then fitted to the exact area at the request's limit. Never falls with the limit;
 * mostly within one percent of the lot.
 */
export function areaBySlopeLimit(
  usable: MultiPolygon,
  slope: Raster,
  { slopeLimitPct, minBuildableWidthFt }: StudyRequest["rules"],
  exactFt2: number,
): BuildableSummary["bySlopeLimit"] {
  const { grid, values: slopePct } = slope;
  const mask = scanPolygons(grid, usable).values;
  const inside = new Int32Array(countOf(mask));
  for (let i = 0, k = 0; i < mask.length; i++) if (mask[i]) inside[k++] = i;
  // the same cells at another limit, as on gentle lots at all the steep ones, leave the same area
  const known = new Map<number, number>([[0, 0]]);
  const countedFt2 = (limitPct: number) => {
    const gentle = new Uint8Array(mask.length);
    let cells = 0;
    for (const i of inside)
      if (slopePct[i]! <= limitPct + SLOPE_ROUNDING_PCT) {
        gentle[i] = 1;
        cells++;
      }
    const kept =
      known.get(cells) ??
      (minBuildableWidthFt > 0
        ? countOf(openMask({ grid, values: gentle }, minBuildableWidthFt).values)
        : cells);
    known.set(cells, kept);
    return kept * grid.cellFt ** 2;
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

function countOf(mask: Uint8Array): number {
  let ones = 0;
  for (let i = 0; i < mask.length; i++) ones += mask[i]!;
  return ones;
}
