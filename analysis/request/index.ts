export { checkPads } from "./check-pads.js";
export * from "./request.js";
export * from "./schema.js";
export { understandRequest } from "./understand.js";
