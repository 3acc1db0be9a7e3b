/** Up to a thousand lots in one call. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { queueParcels, takeComparison } from "../answer-comparison.js";
import { holdsKey, needKey } from "../builder-key.js";
import { comparisonAnswer, comparisonStatus } from "../comparison-answer.js";
import { comparisonPage } from "../comparison-page.js";
import { comparisonTable } from "../comparison-table.js";
import type { Deps } from "../deps.js";
import { HttpProblem, notFound, wrongMediaType } from "../errors.js";
import { forgetComparison } from "../forget.js";
import { idempotent } from "../idempotent.js";
import { isId, sha256 } from "../ids.js";
import { problems } from "../schemas/answers.js";
import { comparisonSchema, newComparisonSchema, rankingKey } from "../schemas/comparison.js";
import { etagOf, notModified } from "../send-document.js";
import type { ComparisonRow } from "../store/comparisons.js";
import { streamEvents } from "../stream-events.js";
import { bodyReadByHandler, idParams } from "./studies.js";

const keyQuery = z.strictObject({ key: rankingKey.optional().describe("What to rank by") });

export function registerComparisons(app: FastifyInstance, deps: Deps): void {
  const { store, queue, key } = deps;
  const find = async (params: unknown): Promise<ComparisonRow> => {
    const { id } = params as z.infer<typeof idParams>;
    const found = isId(id) ? await store.comparisons.byId(id) : undefined;
    if (!found) throw notFound("The comparison");
    return found;
  };
  const answer = async (id: string, key?: z.infer<typeof rankingKey>) =>
    comparisonAnswer((await store.comparisons.byId(id))!, await store.comparisons.parcels(id), key);

  app.route({
    method: "POST",
    url: "/v1/comparisons",
    schema: {
      operationId: "createComparison",
      tags: ["comparisons"],
      summary: "Study up to 1,000 lots and set them side by side",
      description:
        "`defaults` are laid under every parcel: objects merge, arrays replace, null takes a value away. A bad parcel fails alone. Surveys may be inside each parcel, or kept first and named by `surveyId`.",
      body: newComparisonSchema,
      response: { 202: comparisonSchema, ...problems(400, 409, 413, 415, 422, 429) },
    },
    validatorCompiler: bodyReadByHandler,
    handler: async (request, reply) => {
      if (!request.headers["content-type"]?.includes("json")) throw wrongMediaType(request);
      reply.header("preference-applied", "respond-async");
      return idempotent(
        request,
        reply,
        store,
        () => sha256(JSON.stringify(request.body)),
        async () => {
          const id = await takeComparison(deps, request.body);
          return { status: 202, location: `/v1/comparisons/${id}`, body: JSON.stringify(await answer(id)) };
        },
      );
    },
  });

  app.route({
    method: "GET",
    url: "/v1/comparisons/:id",
    schema: {
      operationId: "getComparison",
      tags: ["comparisons"],
      summary: "How far a comparison is, and what it found",
      params: idParams,
      querystring: keyQuery,
      response: { 200: comparisonSchema, ...problems(400, 404) },
    },
    handler: async (request, reply) => {
      const { id } = await find(request.params);
      const body = await answer(id, (request.query as z.infer<typeof keyQuery>).key);
      if (body.status === "accepted" || body.status === "running") reply.header("retry-after", "2");
      const text = JSON.stringify(body);
      if (notModified(request, reply, etagOf(text))) return reply.send();
      return reply.type("application/json; charset=utf-8").send(text);
    },
  });

  app.route({
    method: "GET",
    url: "/v1/comparisons/:id/events",
    schema: {
      operationId: "followComparison",
      tags: ["comparisons"],
      summary: "Server-sent events: `progress` as parcels end, then `done`",
      params: idParams,
      response: {
        200: { description: "text/event-stream", content: { "text/event-stream": { schema: z.string() } } },
        ...problems(404),
      },
    },
    handler: async (request, reply) => {
      const { id } = await find(request.params);
      await streamEvents(request, reply, async () => {
        const comparison = await store.comparisons.byId(id);
        if (!comparison) return { data: null, ended: true };
        const counts = await store.comparisons.counts(id);
        const status = comparisonStatus(comparison, counts);
        const { done, failed, total } = counts;
        return {
          data: { id, status, progress: { done, failed, total } },
          ended: status !== "accepted" && status !== "running",
        };
      });
    },
  });

  app.route({
    method: "GET",
    url: "/v1/comparisons/:id/report",
    schema: {
      operationId: "getComparisonReport",
      tags: ["comparisons"],
      summary: "The lots side by side, as a page",
      params: idParams,
      querystring: keyQuery,
      response: {
        200: { description: "Page", content: { "text/html": { schema: z.string() } } },
        ...problems(404),
      },
    },
    handler: async (request, reply) => {
      const comparison = await find(request.params);
      const { key } = request.query as z.infer<typeof keyQuery>;
      const page = await comparisonPage(deps, comparison, await store.comparisons.parcels(comparison.id), {
        key,
        builder: holdsKey(request, deps.key),
      });
      return reply.type("text/html; charset=utf-8").send(page);
    },
  });

  app.route({
    method: "GET",
    url: "/v1/comparisons/:id/table.csv",
    schema: {
      operationId: "getComparisonTable",
      tags: ["comparisons"],
      summary: "One row a parcel, also while it runs",
      params: idParams,
      response: {
        200: { description: "Table", content: { "text/csv": { schema: z.string() } } },
        ...problems(404),
      },
    },
    handler: async (request, reply) => {
      const { id } = await find(request.params);
      return reply
        .type("text/csv; charset=utf-8")
        .header("content-disposition", 'attachment; filename="comparison.csv"')
        .send(comparisonTable(await store.comparisons.parcels(id)));
    },
  });

  app.route({
    method: "POST",
    url: "/v1/comparisons/:id/retry",
    schema: {
      operationId: "retryComparison",
      tags: ["comparisons"],
      summary: "Run the failed parcels again",
      description:
        "Those whose request was refused stay as they are: send them corrected in a new comparison.",
      params: idParams,
      response: { 202: comparisonSchema, ...problems(404, 409) },
    },
    handler: async (request, reply) => {
      const { id } = await find(request.params);
      const positions = await store.comparisons.retryFailed(id, (query, failed) =>
        queueParcels(deps, id, failed, query),
      );
      queue.wake("parcel");
      if (positions.length === 0) {
        await store.comparisons.finishIfEnded(id);
        throw new HttpProblem("already-finished", "No parcel failed in a way that another try could mend.");
      }
      return reply
        .code(202)
        .header("location", `/v1/comparisons/${id}`)
        .send(await answer(id));
    },
  });

  app.route({
    method: "POST",
    url: "/v1/comparisons/:id/purge",
    schema: {
      operationId: "purgeComparison",
      tags: ["builder"],
      summary: "Delete a comparison for good: parcels, studies, reports, and surveys nothing else uses",
      description:
        "Surveys kept by `POST /v1/surveys` stay until `DELETE /v1/surveys/{id}`. What has not run is not run.",
      security: [{ builderKey: [] }],
      params: idParams,
      response: { 204: z.null().describe("Deleted"), ...problems(401, 404) },
    },
    preValidation: async (request) => needKey(request, key),
    handler: async (request, reply) => {
      const { id } = await find(request.params);
      await forgetComparison(deps, id);
      return reply.code(204).send();
    },
  });

  app.route({
    method: "DELETE",
    url: "/v1/comparisons/:id",
    schema: {
      operationId: "dismissComparison",
      tags: ["comparisons"],
      summary: "Dismiss what has not run; what is done stays",
      params: idParams,
      response: { 200: comparisonSchema, ...problems(404, 409) },
    },
    handler: async (request) => {
      const { id, finishedAt } = await find(request.params);
      if (finishedAt !== null) throw new HttpProblem("already-finished", "Every parcel has ended already.");
      await store.comparisons.dismiss(id);
      await store.comparisons.finishIfEnded(id);
      return answer(id);
    },
  });
}
