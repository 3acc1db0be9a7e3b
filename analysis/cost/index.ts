export { assumptions } from "./assumptions.js";
export type * from "./cost.js";
export { MoneyDraws } from "./money-draws.js";
export { priceSchemes } from "./price-schemes.js";
