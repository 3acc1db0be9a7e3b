/** The share page: the report behind an unguessable token, with a form to ask "what if". */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { answerStudy } from "../answer-study.js";
import type { Deps } from "../deps.js";
import { notFound } from "../errors.js";
import { problems } from "../schemas/answers.js";
import { sendPage } from "../send-document.js";
import { linksOf } from "../study-document.js";
import { readStudy } from "../study-service.js";
import { readParts } from "../submission.js";
import { changedValues } from "../what-if-form.js";
import { variantOf } from "./studies.js";

const tokenParams = z.object({ token: z.string() });

export function registerShare(app: FastifyInstance, deps: Deps): void {
  const { store } = deps;
  const find = async (params: unknown) => {
    const study = await store.studies.byToken((params as z.infer<typeof tokenParams>).token);
    if (!study) throw notFound("The report");
    return study;
  };

  app.route({
    method: "GET",
    url: "/r/:token",
    schema: {
      operationId: "getSharedReport",
      tags: ["studies"],
      summary: "The report, for whoever was given the link",
      params: tokenParams,
      response: {
        200: { description: "Report", content: { "text/html": { schema: z.string() } } },
        ...problems(404),
      },
    },
    handler: async (request, reply) => {
      const { token } = request.params as z.infer<typeof tokenParams>;
      const page = await store.studies.page({ token });
      if (!page) throw notFound("The report");
      reply.header("x-robots-tag", "noindex").header("referrer-policy", "same-origin");
      return sendPage(request, reply, page, { scripts: true });
    },
  });

  app.post("/r/:token/variants", async (request, reply) => {
    const parent = await find(request.params);
    const { fields } = await readParts(request, null);
    const study = await readStudy(deps, parent.id);
    if (!study) throw notFound("The report");
    const submission = await variantOf(deps, parent, changedValues(fields, study.request));
    const { studyId, token } = await answerStudy(deps, { submission, parent, later: false });
    return reply.redirect(linksOf(studyId, token).share, 303);
  });
}
