/** /openapi.json: OpenAPI 3.1 from the schemas that validate. */
import swagger from "@fastify/swagger";
import type { FastifyInstance } from "fastify";
import { createJsonSchemaTransform, createJsonSchemaTransformObject } from "fastify-type-provider-zod";
import { z } from "zod";
import { requestSchema } from "../analysis/request/index.js";
import { jobSchema, problemSchema, studyListItem, summarySchema } from "./schemas/answers.js";
import { comparisonSchema } from "./schemas/comparison.js";
import { studySchema } from "./schemas/study.js";
import { FILE_PARTS } from "./submission.js";

const registry = z.registry<{ id: string }>();
registry.add(requestSchema, { id: "Lot" });
registry.add(studySchema, { id: "Study" });
registry.add(summarySchema, { id: "Summary" });
registry.add(studyListItem, { id: "Lead" });
registry.add(comparisonSchema, { id: "Comparison" });
registry.add(jobSchema, { id: "Job" });
registry.add(problemSchema, { id: "Problem" });

const transformObject = createJsonSchemaTransformObject({ schemaRegistry: registry });

const upload = (parts: readonly string[], required: readonly string[], lot: unknown) => ({
  schema: {
    type: "object",
    required,
    properties: {
      ...Object.fromEntries(
        parts.map((part) => [part, { type: "string", format: "binary", description: FILE_WORDS[part] }]),
      ),
      request: lot,
    },
  },
  encoding: { request: { contentType: "application/json" } },
});

const FILE_WORDS: Readonly<Record<string, string>> = {
  topo: "Ground shots: CSV or text, GeoJSON, LandXML, GeoTIFF, LAS or LAZ",
  boundary:
    "Corners as CSV, GeoJSON, or bearings and distances; may be left out where `request` holds a ring or calls",
  constraints: "GeoJSON: easements and ground nothing may be built on",
  breaklines: "GeoJSON: lines along which the ground bends",
};

/** Operations that take files beside JSON. */
const UPLOADS = new Set(["createStudy", "checkSurvey", "keepSurvey"]);

type Operation = {
  operationId?: string;
  requestBody?: { required?: boolean; content: Record<string, unknown> };
};

export async function registerOpenApi(app: FastifyInstance): Promise<void> {
  await app.register(swagger, {
    openapi: {
      openapi: "3.1.1",
      info: {
        title: "Lotbrief",
        version: "1",
        summary: "A first look at a sloping lot from two surveys",
        description:
          "Names carry their unit: Ft, Ft2, Yd3 (bank, loose or compacted), Pct, Deg, Usd, Cfs, Months. Coordinates are [easting, northing] in the survey's frame. Every error is RFC 9457 problem details.",
        license: { name: "All rights reserved" },
      },
      servers: [{ url: "/" }],
      tags: [
        { name: "studies", description: "One lot at a time" },
        { name: "surveys", description: "Surveys before a study" },
        { name: "comparisons", description: "Up to 1,000 lots in one call" },
        { name: "jobs", description: "Work that goes on after the answer" },
        { name: "builder", description: "With the builder's key" },
        { name: "service", description: "The service itself" },
      ],
      components: { securitySchemes: { builderKey: { type: "http", scheme: "bearer" } } },
    },
    transform: createJsonSchemaTransform({ schemaRegistry: registry }),
    transformObject: (document) => {
      const complete = transformObject(document) as { paths?: Record<string, Record<string, Operation>> };
      for (const path of Object.values(complete.paths ?? {}))
        for (const { operationId, requestBody } of Object.values(path))
          if (requestBody && UPLOADS.has(operationId ?? "")) {
            const lot = (requestBody.content["application/json"] as { schema: unknown }).schema;
            requestBody.required = true;
            requestBody.content = {
              "multipart/form-data": upload(FILE_PARTS, ["topo"], lot),
              "application/json": { schema: lot },
            };
          }
      return complete as never;
    },
    // Pages are for people; only the API is described.
    hideUntagged: true,
  });
}
