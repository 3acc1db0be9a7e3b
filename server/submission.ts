/** Reads one lot from the body of a request: uploaded files with a `request` field, or JSON with everything inside. */
import type { MultipartFile, MultipartValue } from "@fastify/multipart";
import type { FastifyRequest } from "fastify";
import { type RequestInput, requestSchema } from "../analysis/request/index.js";
import type { SurveyFile, SurveyFiles } from "../analysis/survey/survey.js";
import { badJson, badValues, HttpProblem, wrongMediaType } from "./errors.js";
import { joinPath, nearestName } from "./field-errors.js";
import type { Submission } from "./tasks/work.js";
import { usable, wellFormed } from "./well-formed.js";

export const FILE_PARTS = ["topo", "boundary", "constraints", "breaklines"] as const;
const PARTS = [...FILE_PARTS, "request"] as const;

export interface ReadSubmission extends Submission {
  /** Bytes of survey, to tell whether the lot is too large to answer at once. */
  readonly surveyBytes: number;
}

/** @throws {HttpProblem} 400, 415 or 422, naming what is wrong. */
export async function readSubmission(request: FastifyRequest): Promise<ReadSubmission> {
  return request.isMultipart() ? readMultipart(request) : readJson(request);
}

function readJson(request: FastifyRequest): ReadSubmission {
  if (!request.headers["content-type"]?.includes("json")) throw wrongMediaType(request);
  const input = checkRequest(request.body);
  return { input, files: {}, surveyBytes: Number(request.headers["content-length"] ?? 0) };
}

/** @throws {HttpProblem} 422 naming each value that cannot be used. */
export function checkRequest(value: unknown, where = ""): RequestInput {
  const read = requestSchema.safeParse(value);
  if (!read.success) throw badValues(read.error, requestSchema, where);
  return read.data;
}

async function readMultipart(request: FastifyRequest): Promise<ReadSubmission> {
  const { files, fields } = await readParts(request, PARTS);
  const { request: requestFile, ...surveys } = files;
  const text = requestFile ? new TextDecoder().decode(requestFile.bytes) : fields.request;
  const input = checkRequest(
    text === undefined || text.trim() === "" ? {} : parseJson(text, "request"),
    "request",
  );
  // A survey typed into a field instead of attached as a file is a survey all the same.
  const all: Record<string, SurveyFile> = { ...surveys };
  for (const part of FILE_PARTS) {
    const typed = fields[part];
    if (typed !== undefined && typed.trim() !== "" && !all[part])
      all[part] = { name: part, bytes: new TextEncoder().encode(typed) };
  }
  for (const part of FILE_PARTS)
    if (all[part] && input[part] !== undefined)
      throw new HttpProblem("bad-values", `${part} is sent twice.`, {
        errors: [
          {
            code: "sent-twice",
            where: part,
            message: `${part} is both a file and part of the request.`,
            remedy: "Send it once.",
          },
        ],
      });
  return {
    input,
    files: all as SurveyFiles,
    surveyBytes: Object.values(all).reduce((sum, { bytes }) => sum + bytes.byteLength, 0),
  };
}

export interface Parts {
  readonly files: Record<string, SurveyFile>;
  readonly fields: Record<string, string>;
}

/** Collects the parts of a multipart body; a form (`known` null) may repeat a field. Empty file inputs, which browsers send as nameless parts of no bytes, are left out. */
export async function readParts(request: FastifyRequest, known: readonly string[] | null): Promise<Parts> {
  const files: Record<string, SurveyFile> = {};
  const fields: Record<string, string> = {};
  try {
    for await (const part of request.parts()) {
      if (known && !known.includes(part.fieldname)) throw unknownPart(part.fieldname, known);
      if (part.type === "file") {
        const bytes = await readFile(part, request);
        if (bytes.byteLength === 0 && !part.filename) continue;
        if (files[part.fieldname]) throw twice(part.fieldname);
        files[part.fieldname] = { name: wellFormed(part.filename?.slice(0, 200) || part.fieldname), bytes };
      } else {
        const { fieldname, value, valueTruncated } = part as MultipartValue<string>;
        if (valueTruncated)
          throw new HttpProblem(
            "too-large",
            `The field ${fieldname} is larger than this service takes; attach it as a file.`,
          );
        const first = fields[fieldname];
        if (first !== undefined && known) throw twice(fieldname);
        const text = wellFormed(String(value));
        fields[fieldname] = first === undefined ? text : `${first},${text}`;
      }
    }
  } catch (error) {
    throw uploadProblem(error);
  }
  return { files, fields };
}

/** Reads a form that says nothing, so that the connection can be used again. */
export async function drained(request: FastifyRequest): Promise<void> {
  if (request.isMultipart()) await readParts(request, null);
}

/** What the multipart parser says without a status of its own is about the body, never our fault. */
function uploadProblem(error: unknown): unknown {
  if (error instanceof HttpProblem || (error as { statusCode?: number }).statusCode !== undefined)
    return error;
  const message = error instanceof Error ? error.message : String(error);
  return new HttpProblem("bad-upload", message, {
    errors: [
      {
        where: "body",
        message,
        remedy: "Send the whole body, with the boundary its Content-Type names; curl -F does.",
      },
    ],
  });
}

async function readFile(part: MultipartFile, request: FastifyRequest): Promise<Uint8Array> {
  try {
    return await part.toBuffer();
  } catch (error) {
    if ((error as { code?: string }).code === "FST_REQ_FILE_TOO_LARGE") {
      const limitMb = Math.floor(request.routeOptions.bodyLimit / 1024 / 1024);
      throw new HttpProblem("too-large", `The file ${part.fieldname} is larger than ${limitMb} MB.`, {
        errors: [
          {
            where: part.fieldname,
            message: `It is larger than ${limitMb} MB.`,
            remedy: "Send the shots on the lot and some 100 ft around it; keep breaklines.",
          },
        ],
      });
    }
    throw error;
  }
}

function unknownPart(name: string, known: readonly string[]): HttpProblem {
  const nearest = nearestName(name, known);
  return new HttpProblem("bad-upload", `"${name.slice(0, 80)}" is not a part this route takes.`, {
    errors: [
      {
        code: "unknown-name",
        where: joinPath("", [name]),
        message: "It is not a part this route takes.",
        remedy: nearest ? `Did you mean "${nearest}"?` : `Send ${known.join(", ")}.`,
      },
    ],
  });
}

function twice(name: string): HttpProblem {
  return new HttpProblem("bad-upload", `${name} is sent twice.`, {
    errors: [{ where: name, message: "It is sent twice.", remedy: "Send each part once." }],
  });
}

/** @throws {HttpProblem} 400 with what the parser said. */
export function parseJson(text: string, where: string): unknown {
  try {
    const json = text.replace(/^\uFEFF/, "");
    return usable(JSON.parse(json), json);
  } catch (error) {
    throw badJson(where, (error as Error).message);
  }
}
