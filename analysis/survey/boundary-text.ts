/** A lot line sent as a list of corners. */
import type { IntakeNotes } from "./notes.js";
import { findColumns } from "./point-columns.js";
import { scanRows } from "./scan-rows.js";
import type { BoundarySource } from "./sources.js";
import { findLayout, layoutInWords } from "./text-layout.js";

/** More corners than this is a scan of something else. */
export const MOST_CORNERS = 4_000;

/** Null with a problem in the notes when the text holds no corners. */
export function readCornersText(
  utf8: Uint8Array,
  told: { northing: number; easting: number } | undefined,
  notes: IntakeNotes,
): BoundarySource | null {
  const layout = findLayout(utf8, 2);
  if (!layout) {
    notes.problems.push({
      code: "boundary-no-corners",
      where: "boundary",
      message: "No line of the boundary holds two numbers, and none reads as a bearing with a distance.",
      remedy:
        "Send corner, northing, easting, one corner a line in order round the lot, or calls such as N 12°30'15\" E 210.55.",
    });
    return null;
  }
  const found = findColumns(layout, { where: "boundary", told, elevation: false });
  if ("code" in found) {
    notes.problems.push(found);
    return null;
  }
  const { northing, easting } = found.columns;
  const { table, rejected, horizontalSuffix } = scanRows(utf8, layout, { northing, easting });
  for (const { row, reason } of rejected)
    notes.problems.push({
      code: "boundary-row-not-read",
      where: "boundary",
      row,
      message: `This corner could not be read: ${reason}.`,
      remedy: "A lot line cannot miss a corner: correct the row and send the boundary again.",
    });
  if (rejected.length > 0) return null;
  if (table.count > MOST_CORNERS) {
    notes.problems.push({
      code: "boundary-too-many-corners",
      where: "boundary",
      message: `The boundary has ${table.count} corners; at most ${MOST_CORNERS} are read.`,
      remedy: "Send the corners of the lot, not points along its lines.",
    });
    return null;
  }
  return {
    said: {
      axes: found.axes,
      degrees: found.degrees,
      unit: found.degrees ? null : (found.unit ?? horizontalSuffix),
      verticalUnit: null,
      crs: null,
    },
    format: layoutInWords(layout),
    ring: Array.from(table.easting, (e, i) => [e, table.northing[i]!] as const),
    edge: Array.from(table.easting, (_, i) => i),
    row: Array.from(table.row),
    traverse: null,
  };
}
