/** Is it alive, can it work. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { Deps } from "../deps.js";
import { HttpProblem } from "../errors.js";
import type { Metrics } from "../metrics.js";
import { problems } from "../schemas/answers.js";

export function registerOperations(app: FastifyInstance, { store, workshop }: Deps, metrics: Metrics): void {
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

  app.route({
    method: "GET",
    url: "/metrics",
    config: { rateLimit: false },
    schema: {
      operationId: "getMetrics",
      tags: ["service"],
      summary: "Counters in Prometheus text format, without personal data",
      response: { 200: { description: "Metrics", content: { "text/plain": { schema: z.string() } } } },
    },
    handler: async (_request, reply) => {
      const { threads, waiting } = workshop.load();
      return reply.type("text/plain; version=0.0.4; charset=utf-8").send(
        metrics.text({
          lotbrief_threads: { help: "Worker threads of the workshop.", value: threads },
          lotbrief_waiting: { help: "Tasks waiting for a thread.", value: waiting },
          lotbrief_jobs_open: { help: "Jobs and parcels not ended.", value: await store.jobs.countOpen() },
          lotbrief_memory_bytes: {
            help: "Resident memory of the process.",
            value: process.memoryUsage.rss(),
          },
          lotbrief_uptime_seconds: {
            help: "Time since the process started.",
            value: Math.round(process.uptime()),
          },
        }),
      );
    },
  });
}
