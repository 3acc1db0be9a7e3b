/** The builder's saved defaults and cost books, for programs. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import { requestSchema } from "../../analysis/request/index.js";
import { needKey } from "../builder-key.js";
import type { Deps } from "../deps.js";
import { HttpProblem, notFound } from "../errors.js";
import { saveBook, saveDefaults } from "../saved.js";
import { problems } from "../schemas/answers.js";
import { bodyReadByHandler } from "./studies.js";

const nameParams = z.object({ name: z.string() });
const builder = { security: [{ builderKey: [] }], tags: ["builder"] };

export function registerSaved(app: FastifyInstance, { store, key }: Deps): void {
  const preValidation = async (request: Parameters<typeof needKey>[0]) => needKey(request, key);

  app.route({
    method: "GET",
    url: "/v1/defaults",
    preValidation,
    schema: {
      ...builder,
      operationId: "listDefaults",
      summary: "Saved defaults: rules of a place, haul, soil",
      response: {
        200: z.object({
          defaults: z.array(
            z.object({ name: z.string(), createdAt: z.string(), request: z.record(z.string(), z.unknown()) }),
          ),
        }),
        ...problems(401),
      },
    },
    handler: async () => ({
      defaults: (await store.books.listDefaults()).map(({ name, createdAt, request }) => ({
        name,
        createdAt,
        request,
      })),
    }),
  });

  app.route({
    method: "PUT",
    url: "/v1/defaults/:name",
    preValidation,
    schema: {
      ...builder,
      operationId: "putDefaults",
      summary: "Save a piece of a request under a name",
      params: nameParams,
      body: requestSchema,
      response: { 204: z.null().describe("Saved"), ...problems(400, 401, 415, 422) },
    },
    validatorCompiler: bodyReadByHandler,
    handler: async (request, reply) => {
      await saveDefaults(store, (request.params as { name: string }).name, request.body);
      return reply.code(204).send();
    },
  });

  app.route({
    method: "DELETE",
    url: "/v1/defaults/:name",
    preValidation,
    schema: {
      ...builder,
      operationId: "deleteDefaults",
      summary: "Delete saved defaults",
      params: nameParams,
      response: { 204: z.null().describe("Deleted"), ...problems(401, 404) },
    },
    handler: async (request, reply) => {
      const { name } = request.params as { name: string };
      const saved = (await store.books.listDefaults()).find((one) => one.name === name);
      if (!saved) throw notFound("The saved defaults");
      await store.books.removeDefaults(saved.id);
      return reply.code(204).send();
    },
  });

  app.route({
    method: "GET",
    url: "/v1/cost-books",
    preValidation,
    schema: {
      ...builder,
      operationId: "listCostBooks",
      summary: "The builder's own cost books",
      response: {
        200: z.object({
          books: z.array(
            z.object({ id: z.string(), name: z.string(), date: z.string(), region: z.string() }),
          ),
        }),
        ...problems(401),
      },
    },
    handler: async () => ({ books: await store.books.list() }),
  });

  app.route({
    method: "PUT",
    url: "/v1/cost-books/:name",
    preValidation,
    schema: {
      ...builder,
      operationId: "putCostBook",
      summary: "Save a cost book; requests name it in costs.book",
      params: nameParams,
      body: z.looseObject({ id: z.string(), name: z.string(), items: z.array(z.unknown()) }),
      response: { 204: z.null().describe("Saved"), ...problems(400, 401, 415, 422) },
    },
    validatorCompiler: bodyReadByHandler,
    handler: async (request, reply) => {
      const { name } = request.params as { name: string };
      const { id } = (request.body ?? {}) as { id?: unknown };
      if (id !== name)
        throw new HttpProblem("bad-values", `The address says ${name}, the book says ${String(id)}.`, {
          errors: [{ where: "id", message: `The address says ${name}.`, remedy: "Make both the same." }],
        });
      await saveBook(store, request.body);
      return reply.code(204).send();
    },
  });

  app.route({
    method: "DELETE",
    url: "/v1/cost-books/:name",
    preValidation,
    schema: {
      ...builder,
      operationId: "deleteCostBook",
      summary: "Delete a cost book; studies made with it stay as they are",
      params: nameParams,
      response: { 204: z.null().describe("Deleted"), ...problems(401, 404) },
    },
    handler: async (request, reply) => {
      if (!(await store.books.remove((request.params as { name: string }).name)))
        throw notFound("The cost book");
      return reply.code(204).send();
    },
  });
}
