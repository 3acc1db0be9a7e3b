export { assumptions } from "./assumptions.js";
export type * from "./cost.js";
export { flatTwinQuantities } from "./flat-twin.js";
export { listQuantities } from "./list-quantities.js";
export { priceSchemes } from "./price-schemes.js";
