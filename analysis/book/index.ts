export type * from "./book.js";
export { checkOverrides, currentPrices, likelyPrices } from "./current-prices.js";
export { parseCostBook } from "./parse-cost-book.js";
