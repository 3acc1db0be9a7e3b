/** Requests and answers of the HTTP interface, for TypeScript callers. */
import type { z } from "zod";
import type { requestSchema } from "../analysis/request/index.js";
import type { jobSchema, listSchema, problemSchema, summarySchema } from "./schemas/answers.js";
import type { comparisonSchema, newComparisonSchema } from "./schemas/comparison.js";
import type { checkSchema, studySchema } from "./schemas/study.js";

export type LotRequest = z.input<typeof requestSchema>;
export type Study = z.infer<typeof studySchema>;
export type SurveyCheck = z.infer<typeof checkSchema>;
export type Job = z.infer<typeof jobSchema>;
export type LeadList = z.infer<typeof listSchema>;
export type Summary = z.infer<typeof summarySchema>;
export type NewComparison = z.input<typeof newComparisonSchema>;
export type Comparison = z.infer<typeof comparisonSchema>;
export type Problem = z.infer<typeof problemSchema>;
