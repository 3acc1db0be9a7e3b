/** Ground no steeper than a limit. */
import { intersectionOf } from "../geometry/clip.js";
import { outlineAtLeast } from "../geometry/outlines.js";
import type { MultiPolygon } from "../geometry/plane.js";
import { facetSlopePct, outlineFacets, SLOPE_ROUNDING_PCT } from "../terrain/index.js";
import type { Terrain } from "../terrain/terrain.js";

/** Answers "which part of this ground is no steeper than …?" for one lot, limit after limit. */
export interface GentleGround {
  /** Part of `ground` at or below the limit, percent. Exact outlines of facets; on dense surveys outlines in the smoothed slope grid. */
  within(ground: MultiPolygon, limitPct: number): MultiPolygon;
  /** Number that stays the same between two limits when no ground lies between them. */
  rank(limitPct: number): number;
}

export function gentleGround({ tin, slope, summary }: Terrain): GentleGround {
  if (summary.method === "grid") {
    const gentleness = { grid: slope.grid, values: slope.values.map((pct) => -pct) };
    return {
      within: (ground, limitPct) => intersectionOf(ground, outlineAtLeast(gentleness, -limitPct)),
      rank: (limitPct) => limitPct,
    };
  }
  const facets: number[] = [];
  for (let f = 0; f < tin.facetCount; f++) if (tin.areaInLotFt2[f]! > 0) facets.push(f);
  const steepness = Float64Array.from(facets, (f) => facetSlopePct(tin, f));
  const isGentle = (k: number, limitPct: number) => steepness[k]! <= limitPct + SLOPE_ROUNDING_PCT;
  const rank = (limitPct: number) =>
    steepness.reduce((count, _, k) => count + (isGentle(k, limitPct) ? 1 : 0), 0);
  return {
    rank,
    within(ground, limitPct) {
      const count = rank(limitPct);
      if (count === 0) return [];
      if (count === facets.length) return ground;
      const chosen = new Uint8Array(tin.facetCount);
      facets.forEach((f, k) => {
        if (isGentle(k, limitPct)) chosen[f] = 1;
      });
      return intersectionOf(ground, outlineFacets(tin, chosen));
    },
  };
}
