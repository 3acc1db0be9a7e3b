/** What hangs on a study: report, PDF, map layers, quantities, stakes. */
import type { FastifyInstance } from "fastify";
import { z } from "zod";
import type { Pictures } from "../../analysis/pictures/pictures.js";
import { needKey } from "../builder-key.js";
import type { Deps } from "../deps.js";
import { HttpProblem, notFound } from "../errors.js";
import { isId } from "../ids.js";
import { layerOf } from "../layers.js";
import { printPdf } from "../print-pdf.js";
import { quantitiesCsv } from "../quantities-csv.js";
import { featureCollection, problems } from "../schemas/answers.js";
import { etagOf, notModified, sendPage, unpacked } from "../send-document.js";
import { stakesCsv } from "../stakes-csv.js";
import { LAYER_NAMES, type LayerName, type StudyDocument } from "../study-document.js";
import type { DocumentKind } from "../tasks/work.js";
import { idParams, studyOf } from "./studies.js";

const text = (type: string, description: string) => ({
  description,
  content: { [type]: { schema: z.string() } },
});

export function registerStudyDocuments(app: FastifyInstance, { store, key, config }: Deps): void {
  const packed = async (id: string, kind: DocumentKind) => {
    const { id: found } = await studyOf(store, id);
    return (await store.studies.document(found, kind))!;
  };
  const read = async <T>(id: string, kind: DocumentKind): Promise<T> =>
    JSON.parse(await unpacked(await packed(id, kind))) as T;

  app.route({
    method: "GET",
    url: "/v1/studies/:id/report",
    schema: {
      operationId: "getReport",
      tags: ["studies"],
      summary: "The report, one self-contained page",
      params: idParams,
      response: { 200: text("text/html", "Report"), ...problems(404) },
    },
    handler: async (request, reply) => {
      const { id } = request.params as { id: string };
      const page = isId(id) ? await store.studies.page({ id }) : undefined;
      if (!page) throw notFound("The study");
      return sendPage(request, reply, page, { scripts: false });
    },
  });

  app.route({
    method: "GET",
    url: "/v1/studies/:id/report.pdf",
    schema: {
      operationId: "getReportPdf",
      tags: ["studies"],
      summary: "The report as PDF, where the operator has set up a Chromium",
      params: idParams,
      response: { 200: text("application/pdf", "Report"), ...problems(404, 501, 503) },
    },
    handler: async (request, reply) => {
      const { id } = request.params as { id: string };
      const html = await unpacked(await packed(id, "report"));
      if (config.chromiumPath === null)
        throw new HttpProblem("no-printer", "This service has no Chromium to print with.", {
          errors: [
            {
              where: "setting CHROMIUM_PATH",
              message: "It is not set.",
              remedy: `Open /v1/studies/${id}/report in a browser and print it to PDF; or the operator sets CHROMIUM_PATH.`,
            },
          ],
        });
      const pdf = await printPdf(config.chromiumPath, html);
      return reply
        .type("application/pdf")
        .header("content-disposition", 'inline; filename="lotbrief-report.pdf"')
        .send(pdf);
    },
  });

  app.route({
    method: "GET",
    url: "/v1/studies/:id/layers/:name",
    schema: {
      operationId: "getLayer",
      tags: ["studies"],
      summary: "One map layer as GeoJSON",
      description:
        'WGS 84 longitude and latitude where the survey\'s coordinate system is known; otherwise survey coordinates, with the foreign member `frame: "local"`.',
      params: z.object({ id: z.string(), name: z.enum(LAYER_NAMES) }),
      response: {
        200: { description: "Layer", content: { "application/geo+json": { schema: featureCollection } } },
        ...problems(400, 404),
      },
    },
    handler: async (request, reply) => {
      const { id, name } = request.params as { id: string; name: LayerName };
      const [study, pictures] = await Promise.all([
        read<StudyDocument>(id, "study"),
        read<Pictures>(id, "pictures"),
      ]);
      const body = JSON.stringify(layerOf(name, study, pictures));
      if (notModified(request, reply, etagOf(body))) return reply.send();
      return reply.type("application/geo+json; charset=utf-8").send(body);
    },
  });

  app.route({
    method: "GET",
    url: "/v1/studies/:id/quantities.csv",
    schema: {
      operationId: "getQuantities",
      tags: ["studies"],
      summary: "Every quantity of every scheme, with its price range",
      params: idParams,
      response: { 200: text("text/csv", "Quantities"), ...problems(404) },
    },
    handler: async (request, reply) => {
      const { id } = request.params as { id: string };
      const body = quantitiesCsv(await read<StudyDocument>(id, "study"));
      if (notModified(request, reply, etagOf(body))) return reply.send();
      return reply
        .type("text/csv; charset=utf-8")
        .header("content-disposition", 'attachment; filename="quantities.csv"')
        .send(body);
    },
  });

  app.route({
    method: "GET",
    url: "/v1/studies/:id/stakes.csv",
    schema: {
      operationId: "getStakes",
      tags: ["builder"],
      summary: "Preliminary stakes of one scheme, for the builder",
      description:
        "Rounded to 0.1 ft, every row marked PRELIM-NOT FOR CONSTRUCTION. Refused where the boundary does not close or the survey has a stop.",
      security: [{ builderKey: [] }],
      params: idParams,
      querystring: z.strictObject({ scheme: z.string().max(100).optional() }),
      response: { 200: text("text/csv", "Stakes"), ...problems(401, 404, 409) },
    },
    handler: async (request, reply) => {
      needKey(request, key);
      const { id } = request.params as { id: string };
      const { scheme } = request.query as { scheme?: string };
      const [study, pictures] = await Promise.all([
        read<StudyDocument>(id, "study"),
        read<Pictures>(id, "pictures"),
      ]);
      return reply
        .type("text/csv; charset=utf-8")
        .header("content-disposition", 'attachment; filename="stakes-prelim.csv"')
        .header("cache-control", "private, no-store")
        .send(stakesCsv(study, pictures, scheme));
    },
  });
}
