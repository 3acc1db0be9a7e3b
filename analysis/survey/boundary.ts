/** The lot line, in whichever form it came. */
import type { Point } from "../geometry/plane.js";
import type { RequestInput, StudyRequest } from "../request/index.js";
import type { LengthUnit } from "../units.js";
import { readBoundaryCalls } from "./boundary-calls.js";
import { readBoundaryGeojson, ringSource } from "./boundary-geojson.js";
import { readBoundaryLandXml } from "./boundary-landxml.js";
import { readCornersText } from "./boundary-text.js";
import { looksLikeCalls } from "./calls.js";
import { crsOf } from "./crs.js";
import { refuseForeign } from "./foreign-files.js";
import { jsonOf, looksLikeJson } from "./json-file.js";
import { looksLikeXml } from "./landxml.js";
import type { IntakeNotes } from "./notes.js";
import type { BoundarySource } from "./sources.js";
import type { SurveyFile } from "./survey.js";
import { toText, toUtf8 } from "./text-decoding.js";
import { parseLandXml } from "./topo-landxml.js";

interface BoundaryInput {
  readonly file: SurveyFile | undefined;
  readonly inline: RequestInput["boundary"];
  readonly request: StudyRequest;
}

/** More corners than this are a scan of something else. */
const MOST_CORNERS = 4_000;

/** Null with a problem in the notes when there is no readable lot line. */
export function readBoundary(sent: BoundaryInput, notes: IntakeNotes): BoundarySource | null {
  const boundary = readAny(sent, notes);
  if (!boundary || boundary.ring.length <= MOST_CORNERS) return boundary;
  notes.problems.push({
    code: "boundary-too-many-corners",
    where: "boundary",
    message: `The boundary has ${boundary.ring.length} corners; at most ${MOST_CORNERS} are read.`,
    remedy: "Send the corners of the lot, not points along its lines.",
  });
  return null;
}

function readAny({ file, inline, request }: BoundaryInput, notes: IntakeNotes): BoundarySource | null {
  if (file && inline !== undefined) {
    notes.problems.push({
      code: "boundary-twice",
      where: "boundary",
      message: "The boundary came as a file and inside the request.",
      remedy: "Send one of them.",
    });
    return null;
  }
  if (file) return fromBytes(file.bytes, request, notes);
  if (inline === undefined) {
    notes.problems.push({
      code: "boundary-missing",
      where: "boundary",
      message: "No boundary was sent.",
      remedy: "Send the corners of the lot as a file, a ring, GeoJSON or bearings and distances.",
    });
    return null;
  }
  if (typeof inline === "string") return fromBytes(new TextEncoder().encode(inline), request, notes);
  if ("ring" in inline) return ringSource(inline.ring as [number, number][], "ring of points");
  if ("calls" in inline)
    return fromCalls(
      {
        text: inline.calls as string,
        start: inline.start as [number, number],
        spoken: (inline.unit as LengthUnit | undefined) ?? null,
      },
      request,
      notes,
    );
  return readBoundaryGeojson(inline, notes);
}

function fromBytes(bytes: Uint8Array, request: StudyRequest, notes: IntakeNotes): BoundarySource | null {
  if (refuseForeign(bytes, "boundary", notes)) return null;
  const utf8 = toUtf8(bytes);
  if (looksLikeXml(utf8)) {
    const document = parseLandXml(toText(utf8), "boundary", notes);
    return document && readBoundaryLandXml(document, notes);
  }
  if (looksLikeJson(utf8)) {
    const value = jsonOf(utf8, "boundary", notes);
    return value === null ? null : readBoundaryGeojson(value, notes);
  }
  const text = toText(utf8);
  if (looksLikeCalls(text)) return fromCalls({ text, start: null, spoken: null }, request, notes);
  return readCornersText(utf8, request.survey.boundaryColumns, notes);
}

interface SpokenCalls {
  readonly text: string;
  readonly start: Point | null;
  /** Unit of lengths written without one. */
  readonly spoken: LengthUnit | null;
}

/** Calls are walked in the unit of the system their start is in. */
function fromCalls(calls: SpokenCalls, { survey }: StudyRequest, notes: IntakeNotes): BoundarySource | null {
  const crs = crsOf(survey.boundaryCrs ?? survey.crs ?? "local");
  if (crs?.unit === "degree") {
    notes.problems.push({
      code: "calls-in-degrees",
      where: "boundary",
      message: "Bearings and distances cannot be walked from a start in degrees.",
      remedy: "Give the start in a plane system and name it in survey.boundaryCrs, or send the corners.",
    });
    return null;
  }
  return readBoundaryCalls(
    { ...calls, unit: crs?.unit ?? survey.unit ?? null, adjust: survey.adjustBoundary },
    notes,
  );
}
