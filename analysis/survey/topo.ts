/** The topographic survey, in whichever form it came. */
import type { RequestInput } from "../request/index.js";
import type { Columns } from "./column-names.js";
import { looksLikeLas, looksLikeTiff } from "./first-bytes.js";
import { refuseForeign } from "./foreign-files.js";
import { jsonOf, looksLikeJson } from "./json-file.js";
import { looksLikeXml } from "./landxml.js";
import type { IntakeNotes } from "./notes.js";
import { PointTableBuilder } from "./point-table.js";
import type { TopoSource } from "./sources.js";
import type { SurveyFile } from "./survey.js";
import { toText, toUtf8 } from "./text-decoding.js";
import { readTopoGeojson } from "./topo-geojson.js";
import { parseLandXml, readTopoLandXml } from "./topo-landxml.js";
import { readTopoText } from "./topo-text.js";

interface TopoInput {
  readonly file: SurveyFile | undefined;
  readonly inline: RequestInput["topo"];
  readonly told: Columns | undefined;
}

/** Null with a problem in the notes when there are no readable points. */
export async function readTopo(
  { file, inline, told }: TopoInput,
  notes: IntakeNotes,
): Promise<TopoSource | null> {
  if (file && inline !== undefined) {
    notes.problems.push({
      code: "topo-twice",
      where: "topo",
      message: "The topo came as a file and inside the request.",
      remedy: "Send one of them.",
    });
    return null;
  }
  if (file) return fromBytes(file.bytes, told, notes);
  if (inline === undefined) {
    notes.problems.push({
      code: "topo-missing",
      where: "topo",
      message: "No topographic survey was sent.",
      remedy: "Send the ground shots as a file or as points.",
    });
    return null;
  }
  if (typeof inline === "string") return fromBytes(new TextEncoder().encode(inline), told, notes);
  return fromJson(inline, notes);
}

/** By its first bytes, never by its name. */
async function fromBytes(
  bytes: Uint8Array,
  told: Columns | undefined,
  notes: IntakeNotes,
): Promise<TopoSource | null> {
  if (refuseForeign(bytes, "topo", notes)) return null;
  if (looksLikeTiff(bytes)) return (await import("./topo-geotiff.js")).readTopoGeotiff(bytes, notes);
  if (looksLikeLas(bytes)) return (await import("./topo-las.js")).readTopoLas(bytes, notes);
  const utf8 = toUtf8(bytes);
  if (looksLikeXml(utf8)) {
    const document = parseLandXml(toText(utf8), "topo", notes);
    return document && readTopoLandXml(document, notes);
  }
  if (looksLikeJson(utf8)) {
    const value = jsonOf(utf8, "topo", notes);
    return value === null ? null : fromJson(value, notes);
  }
  return readTopoText(utf8, told, notes);
}

function fromJson(value: unknown, notes: IntakeNotes): TopoSource | null {
  const points = typeof value === "object" && value !== null && "points" in value ? value.points : null;
  return isPointList(points) ? fromList(points) : readTopoGeojson(value, notes);
}

function isPointList(points: unknown): points is [number, number, number][] {
  return (
    Array.isArray(points) &&
    points.every((p) => Array.isArray(p) && p.length === 3 && p.every((v) => Number.isFinite(v)))
  );
}

function fromList(points: readonly (readonly [number, number, number])[]): TopoSource {
  const builder = new PointTableBuilder(points.length);
  points.forEach(([x, y, z], i) => {
    builder.push(x, y, z, i + 1);
  });
  return {
    heightsFrom: { kind: "shots" },
    said: { axes: "named", unit: null, verticalUnit: null, degrees: false, crs: null },
    format: "list of [x, y, z]",
    columns: null,
    columnsBecause: "points given as [easting, northing, elevation]",
    points: builder.finish(),
    pointsRead: points.length,
    breaklines: [],
  };
}
