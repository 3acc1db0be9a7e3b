import type { Assumption } from "../assumptions.js";
import { BETWEEN_SHOTS_SHARE } from "./build-terrain.js";
import { SLOPE_BASE_FT } from "./grid-slope.js";
import { DENSE_SPACING_FT } from "./shape-ground.js";
import { ALWAYS_SUPPORTED_FT, LONGEST_TO_USUAL } from "./supported-facets.js";

export { buildTerrain } from "./build-terrain.js";
export { elevationAt, facetSlopePct, facetsInBox } from "./facet-index.js";
export { facetsWithin } from "./facet-outlines.js";
export { shapeGround } from "./shape-ground.js";
export { SLOPE_ROUNDING_PCT } from "./slope-bands.js";
export type * from "./terrain.js";

export const assumptions: readonly Assumption[] = [
  {
    name: "Facet side that always counts as surveyed ground, up to",
    value: ALWAYS_SUPPORTED_FT,
    unit: "ft",
    origin: "common practice, no source",
  },
  {
    name: "Longest facet side that counts as surveyed, times the usual longest side",
    value: LONGEST_TO_USUAL,
    unit: "×",
    origin: "common practice, no source",
  },
  {
    name: "Shots closer than this are smoothed before slopes are taken",
    value: DENSE_SPACING_FT,
    unit: "ft",
    origin: "judgement",
  },
  {
    name: "Length over which dense ground is smoothed",
    value: SLOPE_BASE_FT,
    unit: "ft",
    origin: "judgement",
  },
  {
    name: "Error of the ground between shots, share of the leave-one-out error",
    value: BETWEEN_SHOTS_SHARE,
    unit: "×",
    origin: "judgement",
  },
];
