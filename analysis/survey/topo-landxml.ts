/** A topographic survey sent as LandXML. */
import { type LandXml, readLandXml, type XmlPoint, type XmlSurface } from "./landxml.js";
import { type IntakeNotes, shown } from "./notes.js";
import { PointTableBuilder } from "./point-table.js";
import type { SourceLine, TopoSource } from "./sources.js";
import { hasGround, readSurface } from "./surface-faces.js";

/** Names of surfaces that are the ground as it lies. */
const EXISTING = /exist|natural|ground|topo|\bE\.?G\b|\bO\.?G\b/i;

/** Reads a document and refuses it when it is broken XML. */
export function parseLandXml(text: string, where: string, notes: IntakeNotes): LandXml | null {
  const document = readLandXml(text);
  if (!document.fault) return document;
  notes.problems.push({
    code: "xml-broken",
    where,
    row: document.fault.row,
    message: `The XML is broken: ${shown(document.fault.message)}.`,
    remedy: "Export the LandXML file again.",
  });
  return null;
}

/** Points of the existing-ground surface, with the descriptions of survey points at the same places. Null with a problem when there is none. */
export function readTopoLandXml(document: LandXml, notes: IntakeNotes): TopoSource | null {
  const surface = chooseSurface(document.surfaces, notes);
  const { shots, drawn } = surface ? readSurface(surface, notes) : { shots: [], drawn: null };
  const builder = new PointTableBuilder(shots.length + document.points.length);
  const words = new Map(document.points.map((point) => [placeOf(point), point.word]));
  const taken = new Set<string>();
  const push = ({ numbers, row, word }: XmlPoint) =>
    builder.push(numbers[1]!, numbers[0]!, numbers[2]!, row, builder.wordId(word));
  for (const shot of shots) {
    const place = placeOf(shot);
    taken.add(place);
    push({ ...shot, word: words.get(place) ?? "" });
  }
  for (const point of document.points) {
    if (point.numbers.length < 3) notes.excluded.push({ row: point.row, reason: "no elevation" });
    else if (!taken.has(placeOf(point))) push(point);
  }
  for (const { row, text } of document.unread.slice(0, 500))
    notes.excluded.push({ row, reason: `not numbers: "${shown(text)}"` });
  const points = drawn ? { ...builder.finish(), surfaceCount: drawn.cornerCount } : builder.finish();
  if (points.count === 0) {
    notes.problems.push({
      code: "topo-no-points",
      where: "topo",
      message: "The LandXML holds neither survey points with elevations nor a surface with visible faces.",
      remedy: "Export the points or the existing-ground surface.",
    });
    return null;
  }
  if (document.unread.length > 0)
    notes.warnings.push({
      code: "rows-not-read",
      message: `${document.unread.length} entries of the LandXML could not be read; first, line ${document.unread[0]!.row}: "${shown(document.unread[0]!.text)}".`,
      remedy: "Export the file again.",
    });
  if (drawn && points.count > drawn.cornerCount)
    notes.warnings.push({
      code: "points-off-surface",
      message: `Points that are no corner of a visible face of the surface: ${points.count - drawn.cornerCount}. They carry no ground; trees and other things among them are kept as such.`,
      remedy: "Send the points alone, as a table, to have all of them joined.",
    });
  return {
    heightsFrom: { kind: "shots" },
    said: {
      axes: "named",
      unit: document.unit,
      verticalUnit: null,
      degrees: false,
      crs: document.epsg ? `EPSG:${document.epsg}` : null,
    },
    format: surface ? `LandXML surface "${shown(surface.name)}"` : "LandXML points",
    columns: null,
    columnsBecause: "LandXML coordinates are northing, easting, elevation",
    points,
    pointsRead:
      points.count + document.unread.length + document.points.filter((p) => p.numbers.length < 3).length,
    // facets that the surveyor drew already follow the break lines they were made with
    breaklines: (drawn ? [] : (surface?.breaklines ?? [])).map(
      (line): SourceLine => line.map(({ numbers: [n, e, z] }) => [e!, n!, z!]),
    ),
    ...(drawn ? { faces: drawn.faces } : {}),
  };
}

function chooseSurface(surfaces: readonly XmlSurface[], notes: IntakeNotes): XmlSurface | null {
  const filled = surfaces.filter(hasGround);
  const chosen = filled.find(({ name }) => EXISTING.test(name)) ?? filled[0] ?? null;
  if (chosen && filled.length > 1)
    notes.warnings.push({
      code: "surface-chosen",
      message: `The LandXML holds ${filled.length} surfaces (${filled.map(({ name }) => `"${shown(name)}"`).join(", ")}); "${shown(chosen.name)}" was taken for the existing ground.`,
      remedy: "Send a file with the existing ground alone.",
    });
  return chosen;
}

function placeOf({ numbers: [n, e] }: XmlPoint): string {
  return `${n!.toFixed(2)} ${e!.toFixed(2)}`;
}
