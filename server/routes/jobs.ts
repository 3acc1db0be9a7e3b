/** Studies that are worked on after the answer. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { Deps } from "../deps.js";
import { HttpProblem, notFound } from "../errors.js";
import { isId } from "../ids.js";
import { jobAnswer } from "../job-answer.js";
import { jobSchema, problems } from "../schemas/answers.js";
import { streamEvents } from "../stream-events.js";
import { idParams } from "./studies.js";

export function registerJobs(app: FastifyInstance, { store }: Deps): void {
  const jobOf = async (id: string) => {
    const job = isId(id) ? await store.jobs.byId(id) : undefined;
    if (!job) throw notFound("The job");
    return job;
  };

  app.route({
    method: "GET",
    url: "/v1/jobs/:id",
    schema: {
      operationId: "getJob",
      tags: ["jobs"],
      summary: "How far a job is",
      params: idParams,
      response: { 200: jobSchema, ...problems(404) },
    },
    handler: async (request, reply) => {
      const job = await jobOf((request.params as { id: string }).id);
      if (job.status === "accepted" || job.status === "running") reply.header("retry-after", "1");
      return jobAnswer(job);
    },
  });

  app.route({
    method: "GET",
    url: "/v1/jobs/:id/events",
    schema: {
      operationId: "followJob",
      tags: ["jobs"],
      summary: "Server-sent events: one `progress` per step, then `done`",
      params: idParams,
      response: {
        200: { description: "text/event-stream", content: { "text/event-stream": { schema: z.string() } } },
        ...problems(404),
      },
    },
    handler: async (request, reply) => {
      const { id } = request.params as { id: string };
      await jobOf(id);
      await streamEvents(request, reply, async () => {
        const job = await store.jobs.byId(id);
        const answer = job ? jobAnswer(job) : null;
        return { data: answer, ended: !answer || !["accepted", "running"].includes(answer.status) };
      });
    },
  });

  app.route({
    method: "DELETE",
    url: "/v1/jobs/:id",
    schema: {
      operationId: "dismissJob",
      tags: ["jobs"],
      summary: "Dismiss a job that has not ended",
      params: idParams,
      response: { 200: jobSchema, ...problems(404, 409) },
    },
    handler: async (request) => {
      const { id } = await jobOf((request.params as { id: string }).id);
      if (!(await store.jobs.dismiss(id)))
        throw new HttpProblem("already-finished", "The job has ended already.");
      return jobAnswer(await jobOf(id));
    },
  });
}
