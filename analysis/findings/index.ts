import type { Assumption } from "../assumptions.js";

export { collectFindings } from "./collect-findings.js";
export type * from "./finding.js";
export { recommend } from "./recommend.js";

/** Thresholds stand beside each finding; nothing else is assumed here. */
export const assumptions: readonly Assumption[] = [];
