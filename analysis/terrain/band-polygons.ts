/** Slope bands as polygons, for drawing and for layers. */
import { differenceOf, intersectionOf } from "../geometry/clip.js";
import type { Raster } from "../geometry/grid.js";
import { outlineAtLeast } from "../geometry/outlines.js";
import { boxOf, type MultiPolygon } from "../geometry/plane.js";
import { facetSlopePct } from "./facet-index.js";
import { facetsWithin } from "./facet-outlines.js";
import { OUTSIDE } from "./facets-in-lot.js";
import { bandOf } from "./slope-bands.js";
import type { Terrain, Tin } from "./terrain.js";

/** Exact outlines of the facets of each band, cut at the surveyed lot; from the slope grid (by d3-contour) on dense surveys. */
export function outlineBands(
  tin: Tin,
  place: Uint8Array,
  surveyed: MultiPolygon,
  denseSlope: Raster | null,
  lowerEdgesPct: readonly number[],
): Terrain["bandPolygons"] {
  const bands = denseSlope
    ? gridBands(denseSlope, surveyed, lowerEdgesPct)
    : facetBands(tin, place, surveyed, lowerEdgesPct);
  return lowerEdgesPct.map((fromPct, i) => ({
    fromPct,
    toPct: lowerEdgesPct[i + 1] ?? null,
    polygons: bands[i]!,
  }));
}

function facetBands(
  tin: Tin,
  place: Uint8Array,
  surveyed: MultiPolygon,
  lowerEdgesPct: readonly number[],
): MultiPolygon[] {
  const bandOfFacet = Uint8Array.from(place, (side, f) =>
    side !== OUTSIDE && tin.areaInLotFt2[f]! > 0 ? bandOf(facetSlopePct(tin, f), lowerEdgesPct) : 255,
  );
  return lowerEdgesPct.map((_, band) =>
    facetsWithin(
      tin,
      bandOfFacet.map((its) => (its === band ? 1 : 0)),
      surveyed,
    ),
  );
}

function gridBands(slope: Raster, surveyed: MultiPolygon, lowerEdgesPct: readonly number[]): MultiPolygon[] {
  const box = boxOf(surveyed.flat(2));
  const atLeast = lowerEdgesPct.map((edge, i) =>
    i === 0 ? surveyed : intersectionOf(outlineAtLeast(slope, edge, box), surveyed),
  );
  return atLeast.map((ground, i) =>
    i + 1 < atLeast.length ? differenceOf(ground, atLeast[i + 1]!) : ground,
  );
}
