export { assumptions } from "./assumptions.js";
export { planSchedules } from "./plan-schedules.js";
export type * from "./schedule.js";
