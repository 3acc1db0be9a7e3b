import type { Assumption } from "../assumptions.js";
import { NEAR_STREET_FT } from "./edge-roles.js";

export { checkLineNumbers } from "./check-line-numbers.js";
export { findBuildable } from "./find-buildable.js";
export type * from "./lot.js";
export { describeLot } from "./lot-line.js";
export type * from "./site.js";

export const assumptions: readonly Assumption[] = [
  {
    name: "A lot line is taken for the frontage when the car's entry or street shots lie within",
    value: NEAR_STREET_FT,
    unit: "ft",
    origin: "judgement",
    changeWith: "access.frontage",
  },
];
