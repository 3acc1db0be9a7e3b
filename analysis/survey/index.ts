/** Intake: two surveys as sent, read into one. */
export { assumptions } from "./assumptions.js";
export { readSurvey } from "./read-survey.js";
export * from "./survey.js";
