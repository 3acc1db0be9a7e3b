export type * from "./access.js";
export { ApproachLength } from "./approach-length.js";
export { assumptions, shortestRunFt } from "./drive-rules.js";
export type { DriveTarget } from "./drive-target.js";
export { type Drive, Drives, layDriveway } from "./lay-driveway.js";
export { surveyReach } from "./survey-reach.js";
