export type * from "./book.js";
export { ITEM_CODES } from "./codes.js";
export { checkOverrides, currentPrices, HOUSE_RATE_SPREAD, likelyPrices } from "./current-prices.js";
export { type BookReading, parseCostBook } from "./parse-cost-book.js";
