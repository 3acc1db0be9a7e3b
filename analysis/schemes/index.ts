import type { Assumption } from "../assumptions.js";
import { measure } from "../measure.js";
import { LEAST_BURIED_FT, LEAST_DAYLIGHT_SHARE } from "./daylight-basement.js";
import { GARAGE_DEPTH_FT, garageWidthFt, LEAST_LEVEL_DEPTH_FT } from "./footprints.js";
import { MOST_FALL_FOR_BURIED_FT } from "./full-basement.js";
import { STAIR_TO_DRIVE } from "./garage-apart.js";
import { KEY_SLOPE_PCT } from "./judge.js";
import { FLOOR_OVER_GRADE_FT, ROOF_RISE_FT } from "./model.js";
import { CRAWL_FT, FLOOR_FRAMING_FT } from "./pier-raised.js";
import { STRADDLE_FILL_FT } from "./piers.js";
import { CLEARLY_LESS_USD, DEAR_DRIVE_USD, MORE_GARAGE_SHARE } from "./settle-garages.js";
import { BENCH_DEPTH_FT, KEY_DEPTH_FT, KEY_WIDTH_FT } from "./site-cost.js";
import { DIG_BELOW_FLOOR_FT } from "./sketch.js";
import { LEAST_RISERS, MOST_RISERS, RISER_FT } from "./stepped-pad.js";
import { CATCH_TO_EDGE, LOADED_WALL_FACTOR } from "./wall-rule.js";

export { GARAGE_DEPTH_FT, garageWidthFt } from "./footprints.js";
export { walkAsDriveFt2 } from "./garage-apart.js";
export { proposeReachable } from "./propose-reachable.js";
export { proposeSchemes } from "./propose-schemes.js";
export type * from "./scheme.js";
export { MORE_GARAGE_SHARE, settleGarages } from "./settle-garages.js";
export { STRADDLE_FILL_FT };

const PRACTICE = "common practice, no source";

export const assumptions: readonly Assumption[] = [
  {
    name: "In choosing a place, a level house is taken to need piers where fill under it is deeper than",
    value: STRADDLE_FILL_FT,
    unit: "ft",
    origin: PRACTICE,
  },
  {
    name: "A garage apart is tried where pavement, earth and walls of the drive to the house cost at least",
    value: DEAR_DRIVE_USD,
    unit: "USD",
    origin: "judgement",
  },
  {
    name: "A garage apart is chosen where it saves at least",
    value: CLEARLY_LESS_USD,
    unit: "USD",
    origin: "judgement",
  },
  {
    name: "A garage apart costs more than one at the house by",
    value: 100 * MORE_GARAGE_SHARE,
    unit: "%",
    origin: "from memory, order of magnitude",
  },
  {
    name: "A square foot of outside stairs over one of driveway",
    value: STAIR_TO_DRIVE,
    unit: "×",
    origin: "from memory, order of magnitude",
  },
  {
    name: "Garage for two cars",
    value: `${garageWidthFt(2)} × ${GARAGE_DEPTH_FT}`,
    unit: "ft",
    origin: PRACTICE,
    changeWith: "brief.garageCars",
  },
  {
    name: "Floor over the finished ground beside it",
    value: FLOOR_OVER_GRADE_FT,
    unit: "ft",
    origin: "IRC R404.1.6 and R317.1, from memory",
  },
  {
    name: "Roof over the top floor, for the height limit",
    value: ROOF_RISE_FT,
    unit: "ft",
    origin: PRACTICE,
  },
  {
    name: "A wall replaces a graded slope that would climb more than",
    value: CATCH_TO_EDGE,
    unit: "× the edge's own height",
    origin: "judgement",
  },
  {
    name: "Wall price where ground above it climbs",
    value: LOADED_WALL_FACTOR,
    unit: "×",
    origin: "from memory, order of magnitude",
  },
  {
    name: "Fill gets a key and benches on ground steeper than",
    value: KEY_SLOPE_PCT,
    unit: "%",
    origin: "IBC Appendix J107.3, where adopted, from memory",
  },
  {
    name: "Key under fill, wide × deep, and benches",
    value: `${KEY_WIDTH_FT} × ${KEY_DEPTH_FT}, ${BENCH_DEPTH_FT}`,
    unit: "ft",
    origin: "judgement",
  },
  {
    name: "Step between levels of a stepped house",
    value: `${LEAST_RISERS} to ${MOST_RISERS} risers of ${measure(12 * RISER_FT, "in")}`,
    unit: "",
    origin: PRACTICE,
  },
  { name: "Least depth of a floor on one level", value: LEAST_LEVEL_DEPTH_FT, unit: "ft", origin: PRACTICE },
  {
    name: "Bottom of a basement dig below its floor",
    value: DIG_BELOW_FLOOR_FT,
    unit: "ft",
    origin: PRACTICE,
  },
  {
    name: "Downhill wall of a lower level that must stand open",
    value: 100 * LEAST_DAYLIGHT_SHARE,
    unit: "%",
    origin: PRACTICE,
  },
  {
    name: "Earth against the uphill wall that makes a lower level worth digging",
    value: LEAST_BURIED_FT,
    unit: "ft",
    origin: PRACTICE,
  },
  {
    name: "Most fall across a house with a wholly buried floor",
    value: MOST_FALL_FOR_BURIED_FT,
    unit: "ft",
    origin: PRACTICE,
  },
  {
    name: "Clear space under a raised floor, and its framing",
    value: `${CRAWL_FT} + ${FLOOR_FRAMING_FT}`,
    unit: "ft",
    origin: "IRC R317.1, from memory",
  },
];
