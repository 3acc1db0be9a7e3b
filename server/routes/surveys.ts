/** Surveys before a study: looked at, or kept to be referred to. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { requestSchema } from "../../analysis/request/index.js";
import { withKeptSurvey } from "../answer-study.js";
import { needKey } from "../builder-key.js";
import type { Deps } from "../deps.js";
import { notFound } from "../errors.js";
import { idempotent, submissionFingerprint } from "../idempotent.js";
import { isId, newId } from "../ids.js";
import { problems } from "../schemas/answers.js";
import { checkSchema } from "../schemas/study.js";
import { packSurvey } from "../store/surveys.js";
import { orProblem, surveyRefused } from "../study-service.js";
import { readSubmission } from "../submission.js";
import { bodyReadByHandler, idParams } from "./studies.js";

export function registerSurveys(app: FastifyInstance, deps: Deps): void {
  app.route({
    method: "POST",
    url: "/v1/surveys/check",
    schema: {
      operationId: "checkSurvey",
      tags: ["surveys"],
      summary: "Read a survey and say what was understood; nothing is kept",
      body: requestSchema,
      response: { 200: checkSchema, ...problems(400, 413, 415, 422, 429, 503) },
    },
    validatorCompiler: bodyReadByHandler,
    handler: async (request) => {
      const { submission } = await withKeptSurvey(deps, await readSubmission(request));
      const made = await orProblem(() => deps.workshop.check(submission));
      if (!made.ok) throw surveyRefused(made.problems);
      return made.check;
    },
  });

  app.route({
    method: "POST",
    url: "/v1/surveys",
    schema: {
      operationId: "keepSurvey",
      tags: ["surveys"],
      summary: "Keep a survey, to be named by surveyId in studies and comparisons",
      description:
        "It is read once to refuse what no study could use. The builder's retention applies to it.",
      body: requestSchema,
      response: {
        201: z.object({ surveyId: z.string() }),
        ...problems(400, 409, 413, 415, 422, 429, 503),
      },
    },
    validatorCompiler: bodyReadByHandler,
    handler: async (request, reply) => {
      const submission = await readSubmission(request);
      return idempotent(
        request,
        reply,
        deps.store,
        () => submissionFingerprint(submission),
        async () => {
          const made = await orProblem(() => deps.workshop.check(submission));
          if (!made.ok) throw surveyRefused(made.problems);
          const surveyId = newId();
          await deps.store.surveys.add(surveyId, await packSurvey(submission), true);
          return { status: 201, location: `/v1/surveys/${surveyId}`, body: JSON.stringify({ surveyId }) };
        },
      );
    },
  });

  app.route({
    method: "DELETE",
    url: "/v1/surveys/:id",
    schema: {
      operationId: "deleteSurvey",
      tags: ["builder"],
      summary: "Keep a survey no longer: it goes now, or with the last study that uses it",
      security: [{ builderKey: [] }],
      params: idParams,
      response: { 204: z.null().describe("Deleted, or to go with its studies"), ...problems(401, 404) },
    },
    preValidation: async (request) => needKey(request, deps.key),
    handler: async (request, reply) => {
      const { id } = request.params as { id: string };
      if (!isId(id) || !(await deps.store.surveys.letGo(id))) throw notFound("The survey");
      return reply.code(204).send();
    },
  });
}
