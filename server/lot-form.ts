/** The fields of the buyer's form, and the request they make. */
import type { FastifyRequest } from "fastify";
import type { SurveyFiles } from "../analysis/survey/survey.js";
import type { ProblemDocument } from "./errors.js";
import { HttpProblem } from "./errors.js";
import { checkRequest, FILE_PARTS, readParts } from "./submission.js";
import type { Submission } from "./tasks/work.js";

export type FormFields = Readonly<Record<string, string>>;

/** What a couple that knows nothing of the trade would leave as it is. */
const DEFAULTS: FormFields = {
  name: "",
  unit: "",
  floorAreaFt2: "3000",
  storeys: "2",
  bedrooms: "4",
  basement: "either",
  garageCars: "2",
};

export interface LotFormView {
  readonly fields?: FormFields;
  readonly problem?: ProblemDocument;
}

export function lotForm({ fields = {}, problem }: LotFormView) {
  return { values: { ...DEFAULTS, ...fields }, problem };
}

/** Reads a posted form. @throws {HttpProblem} when a value cannot be used. */
export async function submissionOf(
  request: FastifyRequest,
): Promise<{ fields: FormFields; submission: Submission }> {
  if (!request.isMultipart())
    throw new HttpProblem("wrong-media-type", "The form is sent as multipart/form-data.");
  const { files, fields } = await readParts(request, null);
  const number = (name: string) =>
    fields[name]?.trim() ? Number(fields[name].replaceAll(",", "")) : undefined;
  const text = (name: string) => fields[name]?.trim() || undefined;
  const calls = text("calls");
  const frontage = text("frontage")
    ?.split(/[\s,;]+/)
    .map((edge) => Number(edge) - 1);
  const input = checkRequest(
    prune({
      name: text("name"),
      contact: { name: text("contactName"), email: text("contactEmail"), message: text("contactMessage") },
      survey: { unit: text("unit") },
      boundary:
        calls && !files.boundary
          ? { start: [number("startEasting") ?? 0, number("startNorthing") ?? 0], calls }
          : undefined,
      access: { frontage },
      brief: {
        floorAreaFt2: number("floorAreaFt2"),
        storeys: number("storeys"),
        bedrooms: number("bedrooms"),
        basement: text("basement"),
        garageCars: number("garageCars"),
      },
      offer: { askingUsd: number("askingUsd"), flatLotUsd: number("flatLotUsd") },
      surveyId: text("surveyId"),
    }),
  );
  const surveys = Object.fromEntries(
    Object.entries(files).filter(([part]) => (FILE_PARTS as readonly string[]).includes(part)),
  );
  return { fields, submission: { input, files: surveys as SurveyFiles } };
}

/** Leaves out what was not filled in. */
function prune(value: object): object {
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, v]) => {
      if (v === undefined) return [];
      if (typeof v !== "object" || Array.isArray(v)) return [[key, v]];
      const inner = prune(v as object);
      return Object.keys(inner).length > 0 ? [[key, inner]] : [];
    }),
  );
}
