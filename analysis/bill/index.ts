export type * from "./bill.js";
export { flatTwinQuantities } from "./flat-twin.js";
export { listQuantities } from "./list-quantities.js";
export { needsLimitedRig } from "./list-walls-and-foundation.js";
export type * from "./scheme-parts.js";
