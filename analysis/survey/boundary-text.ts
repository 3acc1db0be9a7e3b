/** A lot line sent as a list of corners. */
import type { IntakeNotes } from "./notes.js";
import { findColumns } from "./point-columns.js";
import type { PointTable } from "./point-table.js";
import { scanRows } from "./scan-rows.js";
import type { BoundarySource } from "./sources.js";
import { findLayout, layoutInWords } from "./text-layout.js";

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
  const { northing, easting, point } = found.columns;
  const { table, rejected, horizontalSuffix } = scanRows(utf8, layout, {
    northing,
    easting,
    // corner numbers travel as words
    ...(point === undefined ? {} : { line: point }),
  });
  for (const { row, reason } of rejected)
    notes.problems.push({
      code: "boundary-row-not-read",
      where: "boundary",
      row,
      message: `This corner could not be read: ${reason}.`,
      remedy: "A lot line cannot miss a corner: correct the row and send the boundary again.",
    });
  if (rejected.length > 0) return null;
  noteOrder(table, notes);
  return {
    said: {
      axes: found.axes,
      degrees: found.degrees,
      unit: found.degrees ? null : (found.unit ?? horizontalSuffix),
      verticalUnit: null,
      crs: null,
    },
    format: layoutInWords(layout),
    columns: found.columns,
    ring: Array.from(table.easting, (e, i) => [e, table.northing[i]!] as const),
    edge: Array.from(table.easting, (_, i) => i),
    row: Array.from(table.row),
    traverse: null,
  };
}

/** Corner numbers that do not count up tell of a missing corner or of another order. */
function noteOrder({ line, words, row }: PointTable, notes: IntakeNotes): void {
  const numbers = Array.from(line, (id) =>
    /^\d{1,9}$/.test(words[id] ?? "") ? Number(words[id]) : Number.NaN,
  );
  const closed = numbers.length > 1 && numbers.at(-1) === numbers[0] ? numbers.slice(0, -1) : numbers;
  const broken = closed.findIndex((n, i) => i > 0 && n !== closed[i - 1]! + 1);
  if (broken < 0 || closed.some(Number.isNaN)) return;
  notes.warnings.push({
    code: "corners-not-in-order",
    message: `Corner ${closed[broken]} follows corner ${closed[broken - 1]} (row ${row[broken]}): the corners were joined in the order of the file.`,
    remedy: "Check that no corner is missing and that they stand in order round the lot.",
    rows: [row[broken]!],
  });
}
