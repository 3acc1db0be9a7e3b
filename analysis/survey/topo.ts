/** The topographic survey, in whichever form it came. */
import type { RequestInput } from "../request/index.js";
import type { Columns } from "./column-names.js";
import type { IntakeNotes } from "./notes.js";
import { PointTableBuilder } from "./point-table.js";
import type { TopoSource } from "./sources.js";
import type { SurveyFile } from "./survey.js";
import { toUtf8 } from "./text-decoding.js";
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
  if (file) return readTopoText(toUtf8(file.bytes), told, notes);
  if (inline === undefined) {
    notes.problems.push({
      code: "topo-missing",
      where: "topo",
      message: "No topographic survey was sent.",
      remedy: "Send the ground shots as a file or as points.",
    });
    return null;
  }
  if (typeof inline === "string") return readTopoText(new TextEncoder().encode(inline), told, notes);
  if ("points" in inline) return fromList(inline.points as [number, number, number][]);
  return null;
}

function fromList(points: readonly (readonly [number, number, number])[]): TopoSource {
  const builder = new PointTableBuilder(points.length);
  points.forEach(([x, y, z], i) => {
    builder.push(x, y, z, i + 1);
  });
  return {
    said: { axes: "named", unit: null, verticalUnit: null, degrees: false, crs: null },
    format: "list of [x, y, z]",
    columns: null,
    columnsBecause: "points given as [easting, northing, elevation]",
    points: builder.finish(),
    pointsRead: points.length,
    breaklines: [],
  };
}
