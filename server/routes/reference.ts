/** What the API is, for programs and for people. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { wantsHtml } from "../accept.js";
import { apiReference } from "../api-reference.js";
import { notFound } from "../errors.js";
import { renderPage } from "../pages.js";
import { PROBLEM_TYPES, type ProblemSlug } from "../problem-types.js";
import { etagOf, notModified } from "../send-document.js";

export function registerReference(app: FastifyInstance): void {
  app.get(
    "/openapi.json",
    {
      schema: {
        operationId: "getOpenApi",
        tags: ["service"],
        summary: "This description",
        response: { 200: z.looseObject({ openapi: z.string() }) },
      },
    },
    async (request, reply) => {
      const body = JSON.stringify(app.swagger());
      if (notModified(request, reply, etagOf(body))) return reply.send();
      return reply.type("application/json; charset=utf-8").send(body);
    },
  );

  app.get("/docs/api", async (request, reply) =>
    reply.type("text/html; charset=utf-8").send(
      renderPage(
        "reference",
        { title: "For programs" },
        {
          origin: `${request.protocol}://${request.host}`,
          ...apiReference(app.swagger() as never),
        },
      ),
    ),
  );

  app.get("/problems/:slug", async (request, reply) => {
    const { slug } = request.params as { slug: string };
    if (!Object.hasOwn(PROBLEM_TYPES, slug)) throw notFound("This kind of problem");
    const type = PROBLEM_TYPES[slug as ProblemSlug];
    if (!wantsHtml(request)) return { type: `/problems/${slug}`, ...type };
    return reply
      .type("text/html; charset=utf-8")
      .send(renderPage("problem-type", { title: type.title }, type));
  });
}
