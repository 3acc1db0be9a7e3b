export { assumptions } from "./assumptions.js";
export type * from "./cost.js";
export { priceSchemes } from "./price-schemes.js";
