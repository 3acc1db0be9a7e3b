/** A topographic survey sent as delimited text. */

import type { Columns } from "./column-names.js";
import type { IntakeNotes } from "./notes.js";
import { rowsInWords } from "./notes.js";
import { findColumns, orderInWords, type PointColumns } from "./point-columns.js";
import { type ScannedRows, scanRows } from "./scan-rows.js";
import type { TopoSource } from "./sources.js";
import { findLayout, layoutInWords, type TextLayout } from "./text-layout.js";

/** Null with a problem in the notes when the text holds no table of points. */
export function readTopoText(
  utf8: Uint8Array,
  told: Columns | undefined,
  notes: IntakeNotes,
): TopoSource | null {
  const layout = findLayout(utf8, 3);
  if (!layout) {
    notes.problems.push({
      code: "topo-no-points",
      where: "topo",
      message:
        "No line of the topo file holds three numbers parted by commas, semicolons, tabs, bars or blanks.",
      remedy:
        "Send point, northing, easting, elevation, description, one shot a line, or another format listed in docs/input-files.md.",
    });
    return null;
  }
  const found = findColumns(layout, { where: "topo", told, elevation: true });
  if ("code" in found) {
    notes.problems.push(found);
    return null;
  }
  const scanned = scanRows(utf8, layout, found.columns);
  noteRows(layout, scanned, notes);
  if (scanned.rejectedCount > scanned.table.count) {
    const first = scanned.rejected[0]!;
    notes.problems.push({
      code: "topo-unreadable",
      where: "topo",
      row: first.row,
      message: `${scanned.rejectedCount} of ${scanned.dataRows} rows could not be read as ${orderInWords(found.columns)}; first: ${first.reason}.`,
      remedy: "Check that every row has the same columns, or give their places in survey.columns.",
    });
    return null;
  }
  return {
    heightsFrom: { kind: "shots" },
    said: said(found, scanned),
    format: layoutInWords(layout),
    columns: found.columns,
    columnsBecause: found.because,
    points: scanned.table,
    pointsRead: scanned.dataRows,
    breaklines: [],
  };
}

function said(found: PointColumns, scanned: ScannedRows): TopoSource["said"] {
  return {
    axes: found.axes,
    degrees: found.degrees,
    unit: found.degrees ? null : (found.unit ?? scanned.horizontalSuffix),
    // beside degrees a unit can only be that of the elevations
    verticalUnit: scanned.verticalSuffix ?? found.verticalUnit ?? (found.degrees ? found.unit : null),
    crs: null,
  };
}

function noteRows(
  layout: TextLayout,
  { rejected, rejectedCount, scientificRows }: ScannedRows,
  notes: IntakeNotes,
): void {
  notes.excluded.push(...rejected);
  if (rejectedCount > 0)
    notes.warnings.push({
      code: "rows-not-read",
      message: `${rejectedCount} ${rejectedCount === 1 ? "row" : "rows"} of the topo could not be read; first, row ${rejected[0]!.row}: ${rejected[0]!.reason}.`,
      remedy: "Correct or delete these rows and send the file again.",
      rows: rejected.map(({ row }) => row),
    });
  if (layout.markGuessed)
    notes.warnings.push({
      code: "decimal-mark-guessed",
      message:
        "Commas inside numbers were taken for thousands: 1,234 is one thousand two hundred thirty-four.",
      remedy: "Write numbers without thousands separators and with a decimal point.",
    });
  if (layout.passedOver.length > 0)
    notes.warnings.push({
      code: "lines-passed-over",
      message: `Text above the data was passed over: ${rowsInWords(layout.passedOver)}.`,
      remedy: "Nothing to do when these are titles.",
      rows: layout.passedOver,
    });
  if (scientificRows.length > 0)
    notes.warnings.push({
      code: "scientific-notation",
      message: `Numbers written like 1.05E+04 may have lost digits in a spreadsheet: ${rowsInWords(scientificRows)}.`,
      remedy: "Export the survey again with full decimals.",
      rows: scientificRows,
    });
}
