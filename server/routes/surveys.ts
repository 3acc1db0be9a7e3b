/** Surveys before a study: looked at, or kept to be referred to. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { requestSchema } from "../../analysis/request/index.js";
import { withKeptSurvey } from "../answer-study.js";
import type { Deps } from "../deps.js";
import { idempotent, submissionFingerprint } from "../idempotent.js";
import { newId } from "../ids.js";
import { problems } from "../schemas/answers.js";
import { checkSchema } from "../schemas/study.js";
import { packSurvey } from "../store/surveys.js";
import { orProblem, surveyRefused } from "../study-service.js";
import { readSubmission } from "../submission.js";
import { bodyReadByHandler } from "./studies.js";

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
}
