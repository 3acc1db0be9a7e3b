import type { Assumption } from "../assumptions.js";

export { collectFindings, RULES } from "./collect-findings.js";
export { bestScheme } from "./facts.js";
export type * from "./finding.js";
export { recommend, VERDICTS } from "./recommend.js";

/** Thresholds stand beside each finding; nothing else is assumed here. */
export const assumptions: readonly Assumption[] = [];
