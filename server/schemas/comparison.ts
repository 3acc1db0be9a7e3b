/** Shapes of a comparison. */
import { z } from "zod";
import { requestSchema } from "../../analysis/request/index.js";
import { RANKING_KEYS, type RankingKey } from "../ranking.js";
import { problemSchema, summarySchema } from "./answers.js";

export const MOST_PARCELS = 1000;
const status = z.enum(["accepted", "running", "successful", "failed", "dismissed"]);

const webhook = z.strictObject({
  url: z.url({ protocol: /^https?$/ }).max(2000),
  secret: z.string().min(16).max(200).describe("The message is signed with it"),
});

/** As documented. Parcels are checked one by one after the defaults were laid under them, so that a bad one fails alone. */
export const newComparisonSchema = z.strictObject({
  name: z.string().max(200).optional(),
  defaults: requestSchema.partial().optional(),
  parcels: z.array(requestSchema).min(1).max(MOST_PARCELS),
  webhook: webhook.optional(),
});

/** What is checked at once. */
export const comparisonEnvelope = z.strictObject({
  name: z.string().max(200).optional(),
  defaults: z.record(z.string(), z.unknown()).optional(),
  parcels: z.array(z.record(z.string(), z.unknown())).min(1).max(MOST_PARCELS),
  webhook: webhook.optional(),
});

export const rankingKey = z.enum(Object.keys(RANKING_KEYS) as [RankingKey, ...RankingKey[]]);

export const comparisonSchema = z.object({
  id: z.string(),
  name: z.string(),
  createdAt: z.string(),
  finishedAt: z.string().nullable(),
  status,
  progress: z.object({ done: z.int(), failed: z.int(), total: z.int() }),
  parcels: z.array(
    z.object({
      ref: z.string(),
      name: z.string(),
      status,
      studyId: z.string().nullable(),
      surveyId: z.string().nullable(),
      problem: problemSchema.nullable(),
      summary: summarySchema.nullable(),
      request: z
        .record(z.string(), z.unknown())
        .describe("Defaults and the parcel's own request laid over each other, without surveys"),
    }),
  ),
  ranking: z.object({
    key: rankingKey,
    order: z.array(z.string()).describe("References, best first"),
    unrankable: z.array(z.object({ ref: z.string(), reason: z.string() })),
  }),
  failures: z.record(z.string(), z.int()).describe("How often each kind of problem occurred"),
  links: z.object({
    self: z.string(),
    events: z.string(),
    report: z.string(),
    table: z.string(),
    retry: z.string(),
  }),
});
