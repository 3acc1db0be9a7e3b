/** The share page: the report behind an unguessable token. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { Deps } from "../deps.js";
import { notFound } from "../errors.js";
import { problems } from "../schemas/answers.js";
import { reportPolicy } from "../security.js";
import { sendPacked, unpacked } from "../send-document.js";

export function registerShare(app: FastifyInstance, { store }: Deps): void {
  app.route({
    method: "GET",
    url: "/r/:token",
    schema: {
      operationId: "getSharedReport",
      tags: ["studies"],
      summary: "The report, for whoever was given the link",
      params: z.object({ token: z.string() }),
      response: {
        200: { description: "Report", content: { "text/html": { schema: z.string() } } },
        ...problems(404),
      },
    },
    handler: async (request, reply) => {
      const study = await store.studies.byToken((request.params as { token: string }).token);
      if (!study) throw notFound("The report");
      const gzip = (await store.studies.document(study.id, "report"))!;
      reply
        .header("content-security-policy", reportPolicy(await unpacked(gzip)))
        .header("x-robots-tag", "noindex")
        .header("referrer-policy", "no-referrer");
      return sendPacked(request, reply, gzip, "text/html; charset=utf-8");
    },
  });
}
