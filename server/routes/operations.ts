/** Is it alive, can it work. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { Deps } from "../deps.js";
import { HttpProblem } from "../errors.js";
import { problems } from "../schemas/answers.js";

export function registerOperations(app: FastifyInstance, { store }: Deps): void {
  app.route({
    method: "GET",
    url: "/healthz",
    config: { rateLimit: false },
    schema: {
      operationId: "isAlive",
      tags: ["service"],
      summary: "The process answers",
      response: { 200: z.object({ status: z.literal("alive") }) },
    },
    handler: async () => ({ status: "alive" }),
  });

  app.route({
    method: "GET",
    url: "/readyz",
    config: { rateLimit: false },
    schema: {
      operationId: "isReady",
      tags: ["service"],
      summary: "The database answers",
      response: { 200: z.object({ status: z.literal("ready") }), ...problems(503) },
    },
    handler: async () => {
      await store.ping().catch(() => {
        throw new HttpProblem("busy", "The database does not answer.", { headers: { "retry-after": "5" } });
      });
      return { status: "ready" };
    },
  });
}
