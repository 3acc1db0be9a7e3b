/** The fields of the buyer's form, and the request they make. */
import type { FastifyRequest } from "fastify";
import type { SurveyFiles } from "../analysis/survey/survey.js";
import { HttpProblem, type ProblemDocument } from "./errors.js";
import { checkRequest, FILE_PARTS, readParts } from "./submission.js";
import type { SurveyCheck } from "./survey-check.js";
import type { Submission } from "./tasks/work.js";

export type FormFields = Readonly<Record<string, string>>;

/** What a couple that knows nothing of the trade would leave as it is. */
const DEFAULTS: FormFields = {
  floorAreaFt2: "3000",
  storeys: "2",
  bedrooms: "4",
  basement: "either",
  garageCars: "2",
};

const UNITS = { "": "find out", ft: "feet", "us-ft": "US survey feet", m: "metres" };
const BASEMENTS = {
  either: "If it helps the house stand on the slope",
  daylight: "Yes, open to the downhill side",
  full: "Yes, all in the ground",
  none: "No",
};
const choices = (words: Readonly<Record<string, string>>, chosen: string | undefined) =>
  Object.entries(words).map(([value, label]) => ({ value, label, chosen: value === (chosen ?? "") }));
const counts = (from: number, to: number, chosen: string | undefined) =>
  choices(
    Object.fromEntries(Array.from({ length: to - from + 1 }, (_, i) => [String(from + i), String(from + i)])),
    chosen,
  );

export interface LotFormView {
  readonly fields?: FormFields;
  readonly problem?: ProblemDocument;
  readonly check?: SurveyCheck;
  /** Names of the files that were received and kept under `surveyId`. */
  readonly kept?: { readonly surveyId: string; readonly names: readonly string[] };
}

/** Everything the page shows; what was typed stays typed. */
export function lotForm({ fields = {}, problem, check, kept }: LotFormView) {
  const values = { ...DEFAULTS, ...fields };
  const chosen = new Set((fields.frontage ?? "").split(","));
  return {
    values,
    problem,
    kept,
    units: choices(UNITS, values.unit),
    basements: choices(BASEMENTS, values.basement),
    storeys: counts(1, 3, values.storeys),
    bedrooms: counts(1, 8, values.bedrooms),
    garages: counts(0, 4, values.garageCars),
    check: check && {
      svg: check.preview.svg,
      lot: check.lot,
      survey: check.survey,
      coveragePct: Math.round(check.survey.coveragePct),
      left: check.survey.pointsRead - check.survey.pointsUsed,
      reliefFt: Math.round(check.preview.maxElevationFt - check.preview.minElevationFt),
      areaFt2: Math.round(check.lot.areaFt2).toLocaleString("en-US"),
      acres: check.lot.areaAcres.toFixed(2),
      slopePct: Math.round(check.preview.averageSlopePct),
      guessed: check.preview.frontageOrigin === "guessed",
      edges: [...check.preview.edges]
        .sort((a, b) => a.number - b.number)
        .map(({ number, lengthFt, faces, frontage }) => ({
          value: number + 1,
          number,
          lengthFt: Math.round(lengthFt),
          faces,
          chosen: fields.frontage === undefined ? frontage : chosen.has(String(number + 1)),
        })),
    },
  };
}

export interface PostedForm {
  readonly fields: FormFields;
  readonly files: SurveyFiles;
}

/** @throws {HttpProblem} 400 or 415 when it is no form. */
export async function readForm(request: FastifyRequest): Promise<PostedForm> {
  if (!request.isMultipart())
    throw new HttpProblem("wrong-media-type", "The form is sent as multipart/form-data.");
  const { files, fields } = await readParts(request, null);
  const surveys = Object.fromEntries(
    Object.entries(files).filter(
      ([part, { bytes }]) => (FILE_PARTS as readonly string[]).includes(part) && bytes.byteLength > 0,
    ),
  );
  return { fields, files: surveys as SurveyFiles };
}

/** The request a form makes. @throws {HttpProblem} 422 when a value cannot be used. */
export function submissionOf({ fields, files }: PostedForm): Submission {
  const text = (name: string) => fields[name]?.trim() || undefined;
  const number = (name: string) => {
    const typed = text(name);
    if (typed === undefined) return undefined;
    const value = Number(typed.replace(/[,$\s]/g, ""));
    // Left as text, the schema refuses it by name.
    return Number.isNaN(value) ? typed : value;
  };
  const numbers = (name: string) =>
    text(name)
      ?.split(/[\s,;]+/)
      .map((edge) => Number(edge) - 1);
  const calls = files.boundary === undefined ? text("calls") : undefined;
  const columns = {
    northing: number("columnNorthing"),
    easting: number("columnEasting"),
    elevation: number("columnElevation"),
  };
  const fromZero = (column: unknown) => (typeof column === "number" ? column - 1 : column);
  const input = checkRequest(
    filledIn({
      name: text("name"),
      contact: { name: text("contactName"), email: text("contactEmail"), message: text("contactMessage") },
      survey: {
        unit: text("unit"),
        ...(Object.values(columns).every((c) => c !== undefined)
          ? {
              columns: {
                northing: fromZero(columns.northing),
                easting: fromZero(columns.easting),
                elevation: fromZero(columns.elevation),
              },
            }
          : {}),
      },
      boundary: calls
        ? { start: [number("startEasting") ?? 0, number("startNorthing") ?? 0], calls }
        : undefined,
      access: { frontage: numbers("frontage") },
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
  return { input, files };
}

/** Leaves out what was not filled in. */
function filledIn(value: object): object {
  return Object.fromEntries(
    Object.entries(value).flatMap(([key, v]) => {
      if (v === undefined) return [];
      if (typeof v !== "object" || Array.isArray(v)) return [[key, v]];
      const inner = filledIn(v);
      return Object.keys(inner).length > 0 ? [[key, inner]] : [];
    }),
  );
}
