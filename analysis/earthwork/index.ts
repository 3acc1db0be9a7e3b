import type { Assumption } from "../assumptions.js";
import { ENGINEER_ABOVE_FT, PROTECTED_FROM_FT } from "./basement-dig.js";
import { STOCKPILE_HEIGHT_FT } from "./soil-states.js";
import { COMMON_SHARE } from "./volume-uncertainty.js";
import { FOOTING_BELOW_GRADE_FT, LEAST_WALL_FT, SURCHARGE_SLOPE_PCT } from "./walls.js";

export { type Dig, digBasement } from "./basement-dig.js";
export type { Pad, Side } from "./batter-zones.js";
export type * from "./earthwork.js";
export { type Footprint, padCutFill, prepareFootprint } from "./footprint.js";
export { catchMultiplier, type GradedSurface, gradeSurface } from "./grade-surface.js";
export { gradedDepth, gradedGround } from "./graded-ground.js";
export { slopeTerracesFt, TERRACE_EVERY_FT } from "./slope-terraces.js";
export {
  balanceEarth,
  bankFromCompacted,
  compactedFromBank,
  looseFromBank,
  stockpileFt2,
  truckload,
  truckloads,
} from "./soil-states.js";
export { listStakes } from "./stakes.js";
export { averageEndAreaFt3, prismoidalFt3, sumStationsFt3 } from "./station-volumes.js";
export { type NoTerraces, terraceTallWalls, tieredWalls } from "./terraces.js";
export { volumeSigmaFt3 } from "./volume-uncertainty.js";
export { groundHeights, padWalls, retainingWall, sideOf } from "./walls.js";

const TRADE = "common practice, no source";

export const assumptions: readonly Assumption[] = [
  {
    name: "Corners of graded banks",
    value: "rounded: every point as far from the pad as its height asks",
    unit: "",
    origin: TRADE,
  },
  {
    name: "Bottom of a wall's footing below the lower ground",
    value: FOOTING_BELOW_GRADE_FT,
    unit: "ft",
    origin: TRADE,
  },
  { name: "Least retained height that counts as a wall", value: LEAST_WALL_FT, unit: "ft", origin: TRADE },
  {
    name: "Ground behind a wall that leans on it, steeper than",
    value: SURCHARGE_SLOPE_PCT,
    unit: "%",
    origin: TRADE,
  },
  {
    name: "Depth of cut from which workers are protected",
    value: PROTECTED_FROM_FT,
    unit: "ft",
    origin: "29 CFR 1926.652(a)(1)",
  },
  {
    name: "Depth of cut above which an engineer designs the protection",
    value: ENGINEER_ABOVE_FT,
    unit: "ft",
    origin: "29 CFR 1926 Subpart P",
  },
  { name: "Height of a stockpile on the hill", value: STOCKPILE_HEIGHT_FT, unit: "ft", origin: TRADE },
  {
    name: "Share of the doubt in ground heights that all shots have in common",
    value: COMMON_SHARE,
    unit: "× variance",
    origin: "judgement",
  },
];
