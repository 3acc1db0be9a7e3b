import type { Assumption } from "../assumptions.js";
import { measure } from "../measure.js";
import { DRIVE_C, GRASS_N, LEAST_CONCENTRATION_MIN, P2_IN, RATIONAL_K, ROOF_C } from "./hydrology.js";
import { PIPE_N, SWALE_N } from "./pipes.js";
import { INVERT_BELOW_FT } from "./plan-drainage.js";
import { GRASS_HOLDS_FT_PER_S, SWALE_SLOPE } from "./swale.js";

export type * from "./drainage.js";
export { routeLotWater } from "./lot-water.js";
export { planDrainage } from "./plan-drainage.js";

const TRADE = "common practice, no source";

export const assumptions: readonly Assumption[] = [
  {
    name: "Rational method Q = k·C·i·A, k",
    value: RATIONAL_K,
    unit: "",
    origin: "43,560 ÷ (12 × 3,600), acres and in/h",
  },
  {
    name: "Runoff share of roofs / drives",
    value: `${ROOF_C} / ${DRIVE_C}`,
    unit: "",
    origin: "ASCE runoff coefficients, as published in drainage manuals",
  },
  {
    name: "Runoff share of the ground, by soil and slope",
    value: "0.10 to 0.60",
    unit: "",
    origin: "ASCE rural table for pasture; flat and rolling rows from memory",
  },
  {
    name: "Least time until a catchment answers",
    value: LEAST_CONCENTRATION_MIN,
    unit: "min",
    origin: TRADE,
  },
  {
    name: "Day's rain of every other year / roughness n of grass, for the time until a catchment answers",
    value: `${measure(P2_IN, "in")} / ${GRASS_N}`,
    unit: "",
    origin: "rain from memory, order of magnitude; NRCS TR-55 (1986), table 3-1, short grass",
  },
  {
    name: "Roughness n of pipes / swales (Manning)",
    value: `${PIPE_N} / ${SWALE_N}`,
    unit: "",
    origin: "common handbook values",
  },
  { name: "Fall of the swale above the house", value: SWALE_SLOPE * 100, unit: "%", origin: TRADE },
  {
    name: "Fastest water a grass ditch holds",
    value: GRASS_HOLDS_FT_PER_S,
    unit: "ft/s",
    origin: `common practice: ${measure([5, 6], "ft")} a second`,
  },
  {
    name: "Drains below the basement floor: under the slab / at the wall",
    value: `${INVERT_BELOW_FT["under-slab"]} / ${INVERT_BELOW_FT.wall}`,
    unit: "ft",
    origin: TRADE,
  },
];
