/** Studies: made by anybody, read by whoever holds the id, listed and changed by the builder. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { requestSchema } from "../../analysis/request/index.js";
import { weightOf } from "../accept.js";
import { answerStudy } from "../answer-study.js";
import { needKey } from "../builder-key.js";
import type { Deps } from "../deps.js";
import { HttpProblem, notFound, wrongMediaType } from "../errors.js";
import { forgetStudy } from "../forget.js";
import { idempotent, submissionFingerprint } from "../idempotent.js";
import { isId } from "../ids.js";
import { listItem, readCursor, writeCursor } from "../list-item.js";
import { mergeRequest } from "../merge-request.js";
import { prefersAsync } from "../prefer.js";
import { jobSchema, listSchema, problems, studyListItem, verdictCode } from "../schemas/answers.js";
import { studySchema } from "../schemas/study.js";
import { sendPacked } from "../send-document.js";
import type { Store } from "../store/store.js";
import { SORTS, type Sort, STAGES, type StudyRow } from "../store/studies.js";
import { INLINE_PARTS } from "../store/surveys.js";
import { linksOf } from "../study-document.js";
import { checkRequest, readSubmission } from "../submission.js";

export const idParams = z.object({ id: z.string() });

/** The body is read by the handler: it may be multipart, and its problems name more than a schema knows. */
export const bodyReadByHandler = () => (value: unknown) => ({ value });

export const patchSchema = z.strictObject({
  stage: z.enum(STAGES).optional(),
  note: z.string().min(1).max(10_000).optional(),
});

export const listQuery = z.strictObject({
  stage: z.enum(STAGES).optional(),
  verdict: verdictCode.optional(),
  q: z.string().max(200).optional().describe("Words that all occur in name, contact or notes"),
  sort: z.enum(Object.keys(SORTS) as [Sort, ...Sort[]]).default("newest"),
  limit: z.coerce.number().int().min(1).max(200).default(50),
  cursor: z.string().max(400).optional(),
});

export async function studyOf({ studies }: Pick<Store, "studies">, id: string): Promise<StudyRow> {
  const row = isId(id) ? await studies.byId(id) : undefined;
  if (!row) throw notFound("The study");
  return row;
}

export function registerStudies(app: FastifyInstance, deps: Deps): void {
  const { store, key, config } = deps;

  app.route({
    method: "POST",
    url: "/v1/studies",
    schema: {
      operationId: "createStudy",
      tags: ["studies"],
      summary: "Study one lot",
      description:
        "Send files as multipart/form-data, or everything as JSON. A survey uploaded first is named by `surveyId`. With `Prefer: respond-async`, or where the survey is very large, the answer is 202 and a job. `Idempotency-Key` makes a repeated request return the first answer.",
      body: requestSchema,
      response: { 201: studySchema, 202: jobSchema, ...problems(400, 409, 413, 415, 422, 429, 503) },
    },
    validatorCompiler: bodyReadByHandler,
    handler: async (request, reply) => {
      const submission = await readSubmission(request);
      const later = prefersAsync(request.headers.prefer);
      if (later) reply.header("preference-applied", "respond-async");
      return idempotent(
        request,
        reply,
        store,
        () => submissionFingerprint(submission),
        () => answerStudy(deps, { submission, later: later || submission.surveyBytes > config.answerBytes }),
      );
    },
  });

  app.route({
    method: "POST",
    url: "/v1/studies/:id/variants",
    schema: {
      operationId: "createVariant",
      tags: ["studies"],
      summary: "Study the same survey under another request",
      description:
        "The body is laid over the first request: objects merge, arrays replace, null takes a value away. The answer is a new study whose `parent` is this one.",
      params: idParams,
      body: requestSchema,
      response: { 201: studySchema, 202: jobSchema, ...problems(400, 404, 409, 415, 422, 429, 503) },
    },
    validatorCompiler: bodyReadByHandler,
    handler: async (request, reply) => {
      const parent = await studyOf(store, (request.params as { id: string }).id);
      if (request.isMultipart()) throw wrongMediaType(request);
      const submission = await variantOf(deps, parent, request.body);
      const later = prefersAsync(request.headers.prefer);
      if (later) reply.header("preference-applied", "respond-async");
      return idempotent(
        request,
        reply,
        store,
        () => submissionFingerprint({ ...submission, files: {} }),
        () => answerStudy(deps, { submission, parent, later }),
      );
    },
  });

  app.route({
    method: "GET",
    url: "/v1/studies/:id",
    schema: {
      operationId: "getStudy",
      tags: ["studies"],
      summary: "Read a study",
      description: "The id holds 122 random bits: who knows it may read this study, and nothing else.",
      params: idParams,
      response: { 200: studySchema, ...problems(404, 406) },
    },
    handler: async (request, reply) => {
      const study = await studyOf(store, (request.params as { id: string }).id);
      const { accept } = request.headers;
      const [json, html] = [weightOf(accept, "application/json"), weightOf(accept, "text/html")];
      if (html > json) return reply.redirect(linksOf(study.id, study.token).report, 303);
      if (json === 0)
        throw new HttpProblem("not-acceptable", "A study is application/json, its report text/html.");
      const document = await store.studies.document(study.id, "study");
      return sendPacked(request, reply, document!, "application/json; charset=utf-8");
    },
  });

  app.route({
    method: "GET",
    url: "/v1/studies",
    schema: {
      operationId: "listStudies",
      tags: ["builder"],
      summary: "The builder's list",
      security: [{ builderKey: [] }],
      querystring: listQuery,
      response: { 200: listSchema, ...problems(400, 401) },
    },
    handler: async (request, reply) => {
      needKey(request, key);
      const query = request.query as z.infer<typeof listQuery>;
      const after = query.cursor === undefined ? undefined : readCursor(query.cursor, query.sort);
      if (query.cursor !== undefined && !after)
        throw new HttpProblem("bad-request", "The cursor is not one of this list in this order.", {
          errors: [
            {
              where: "query.cursor",
              message: "The cursor is not one of this list in this order.",
              remedy: "Leave it out to start at the beginning; take `next` of an answer with the same sort.",
            },
          ],
        });
      const { rows, next } = await store.studies.list({ ...query, search: query.q, after });
      const cursor = next && writeCursor(query.sort, next);
      if (cursor) {
        const given = Object.entries(query).filter(([, v]) => v !== undefined);
        const page = new URLSearchParams(given.map(([k, v]): [string, string] => [k, String(v)]));
        page.set("cursor", cursor);
        reply.header("link", `</v1/studies?${page}>; rel="next"`);
      }
      return { studies: rows.map(listItem), next: cursor };
    },
  });

  app.route({
    method: "PATCH",
    url: "/v1/studies/:id",
    schema: {
      operationId: "noteStudy",
      tags: ["builder"],
      summary: "Move a lead to a stage, write a note, or both",
      security: [{ builderKey: [] }],
      params: idParams,
      body: patchSchema,
      response: { 200: studyListItem, ...problems(400, 401, 404, 415, 422) },
    },
    preValidation: async (request) => needKey(request, key),
    handler: async (request) => {
      const { id } = await studyOf(store, (request.params as { id: string }).id);
      const change = request.body as z.infer<typeof patchSchema>;
      if (change.stage === undefined && change.note === undefined)
        throw new HttpProblem("bad-values", "There is nothing to change.", {
          errors: [
            { where: "body", message: "There is nothing to change.", remedy: "Send stage, note, or both." },
          ],
        });
      await store.studies.note(id, change);
      return { ...listItem((await store.studies.byId(id))!), history: await store.studies.history(id) };
    },
  });

  app.route({
    method: "DELETE",
    url: "/v1/studies/:id",
    schema: {
      operationId: "deleteStudy",
      tags: ["builder"],
      summary: "Delete a study for good: survey, report, contact and notes",
      security: [{ builderKey: [] }],
      params: idParams,
      response: { 204: z.null().describe("Deleted"), ...problems(401, 404) },
    },
    handler: async (request, reply) => {
      needKey(request, key);
      const { id } = await studyOf(store, (request.params as { id: string }).id);
      await forgetStudy(deps, id);
      return reply.code(204).send();
    },
  });
}

/** The parent's survey under its request with the changes laid over it. @throws {HttpProblem} 422 for what cannot be used. */
export async function variantOf({ store }: Pick<Deps, "store">, parent: StudyRow, changes: unknown) {
  const given = changes ?? {};
  const moved = [...INLINE_PARTS, "surveyId"].filter((part) => typeof given === "object" && part in given);
  if (moved.length > 0)
    throw new HttpProblem("bad-values", "A variant stands on the same survey.", {
      errors: moved.map((part) => ({
        where: part,
        message: "A variant stands on the same survey.",
        remedy: "Send another survey to POST /v1/studies.",
      })),
    });
  const input = checkRequest(typeof given === "object" ? mergeRequest(parent.request, given) : given);
  const submission = await store.surveys.submission(parent.surveyId, input);
  if (!submission) throw notFound("The survey of this study");
  return submission;
}
