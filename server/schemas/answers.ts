/** Shapes of the answers that are not a study. */
import { z } from "zod";
import { STAGES } from "../store/studies.js";

/** An answer of a schema, as our readonly types hold it. */
export type AnswerOf<S extends z.ZodType> = Frozen<z.infer<S>>;
type Frozen<T> = T extends readonly (infer E)[]
  ? readonly Frozen<E>[]
  : T extends object
    ? { readonly [K in keyof T]: Frozen<T[K]> }
    : T;

const fieldError = z.object({
  code: z.string().optional(),
  where: z.string().describe("File, request path, header or query the entry speaks of"),
  row: z.int().optional().describe("1-based line of the file, header included"),
  column: z.string().optional(),
  message: z.string(),
  remedy: z.string(),
});

export const problemSchema = z
  .object({
    type: z.string().describe("Absolute path of the page that describes this kind of problem"),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    instance: z.string(),
    errors: z.array(fieldError),
  })
  .describe("RFC 9457 problem details");

/** Response entries for the problems a route answers with. */
export function problems(...statuses: readonly number[]) {
  return Object.fromEntries(
    statuses.map((status) => [
      status,
      {
        description: PROBLEM_WORDS[status] ?? "Problem",
        content: { "application/problem+json": { schema: problemSchema } },
      },
    ]),
  );
}

const PROBLEM_WORDS: Readonly<Record<number, string>> = {
  400: "The request cannot be read",
  401: "The builder's key is needed",
  404: "There is nothing at this address",
  406: "No form of the answer matches Accept",
  409: "It does not fit the state the thing is in",
  413: "The request is too large",
  415: "The media type is not taken here",
  422: "Some values, or the survey, cannot be used",
  429: "Too many requests",
  501: "Not set up here",
  503: "Busy",
};

const percentiles = z.object({ p10: z.number(), p50: z.number(), p90: z.number() });
export const verdictCode = z.enum(["good-fit", "hard-dear", "specialist-first", "no-room", "cannot-tell"]);
export const severity = z.enum(["info", "watch", "concern", "stop"]);

export const summarySchema = z
  .object({
    verdictCode,
    flags: z.array(z.string()),
    worstFinding: z.object({ code: z.string(), severity, title: z.string() }).nullable(),
    schemeId: z.string().nullable(),
    schemeName: z.string().nullable(),
    premiumUsd: percentiles.nullable(),
    totalUsd: percentiles.nullable(),
    allInUsd: percentiles.nullable(),
    askingUsd: z.number().nullable(),
    areaFt2: z.number(),
    averageSlopePct: z.number(),
    buildableFt2: z.number(),
    slopeUnderPadPct: z.number().nullable(),
    truckloads: z.number().nullable(),
    monthsTotal: z.number().nullable(),
    coveragePct: z.number(),
    assumed: z.array(z.string()),
  })
  .describe("Flat; null where unknown, never 0");

const contact = z.object({
  name: z.string().optional(),
  email: z.string().optional(),
  phone: z.string().optional(),
  message: z.string().optional(),
});

export const linksSchema = z.object({
  self: z.string(),
  report: z.string(),
  share: z.string(),
  pdf: z.string(),
  layers: z.record(z.string(), z.string()),
  quantities: z.string(),
  stakes: z.string(),
  variants: z.string(),
});

export const studyListItem = z.object({
  id: z.string(),
  token: z.string(),
  createdAt: z.string(),
  name: z.string(),
  ref: z.string().nullable(),
  parent: z.string().nullable(),
  contact: contact.nullable(),
  stage: z.enum(STAGES),
  summary: summarySchema,
  used: z.record(z.string(), z.unknown()),
  links: linksSchema,
  history: z
    .array(z.object({ at: z.string(), stage: z.enum(STAGES).nullable(), note: z.string().nullable() }))
    .optional(),
});

export const listSchema = z.object({
  studies: z.array(studyListItem),
  next: z.string().nullable().describe("Cursor of the next page; null on the last"),
});

export const jobSchema = z.object({
  id: z.string(),
  status: z.enum(["accepted", "running", "successful", "failed", "dismissed"]),
  progress: z.int().min(0).max(100).describe("Percent of the steps done"),
  message: z.string(),
  createdAt: z.string(),
  studyId: z.string().nullable(),
  problem: problemSchema.nullable(),
  links: z.object({
    self: z.string(),
    events: z.string(),
    study: z.string().nullable(),
    report: z.string().nullable(),
    share: z.string().nullable(),
  }),
});

export const feature = z.object({
  type: z.literal("Feature"),
  geometry: z.looseObject({ type: z.string(), coordinates: z.array(z.unknown()) }).nullable(),
  properties: z.record(z.string(), z.unknown()),
});
export const featureCollection = z.object({
  type: z.literal("FeatureCollection"),
  frame: z
    .literal("local")
    .optional()
    .describe("Present when coordinates are survey coordinates, not longitude and latitude"),
  features: z.array(feature),
});
