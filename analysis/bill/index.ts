export type * from "./bill.js";
export { EVENT_ODDS } from "./cost-event.js";
export { flatTwinQuantities } from "./flat-twin.js";
export { flatTwinEvents, listEvents } from "./list-events.js";
export { houseSizes } from "./list-house.js";
export { listQuantities } from "./list-quantities.js";
export { needsLimitedRig } from "./list-walls-and-foundation.js";
export type * from "./scheme-parts.js";
