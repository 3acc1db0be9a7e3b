/**
 * A point file of any size into a table. Plain rows are read straight from the bytes; a row with a quote, a grouped
 * number, a unit suffix or anything else unusual goes the careful way, and what that cannot read is listed.
 */

import type { LengthUnit } from "../units.js";
import { ByteFields } from "./byte-fields.js";
import type { Columns } from "./column-names.js";
import { type ExcludedRow, shown } from "./notes.js";
import { readMeasure } from "./numbers.js";
import { type PointTable, PointTableBuilder } from "./point-table.js";
import type { TextLayout } from "./text-layout.js";
import { isComment, splitFields, splitQuoted } from "./text-rows.js";

export interface ScannedRows {
  readonly table: PointTable;
  /** Rows that hold data, read or not. */
  readonly dataRows: number;
  readonly rejected: readonly ExcludedRow[];
  /** Rows rejected, including those beyond the listed ones. */
  readonly rejectedCount: number;
  /** Unit written behind the numbers, when any was. */
  readonly horizontalSuffix: LengthUnit | null;
  readonly verticalSuffix: LengthUnit | null;
  readonly scientificRows: readonly number[];
}

type Wanted = Columns & { readonly northing: number; readonly easting: number };

const TAB = 9;
const LF = 10;
const CR = 13;
const QUOTE = 34;
const BLANK = 32;
/** 1 for the bytes that the comments of `isComment` begin with. */
const BEGINS_COMMENT = new Uint8Array(256);
for (const mark of "#!*%/;") BEGINS_COMMENT[mark.charCodeAt(0)] = 1;
/** Rejected rows listed one by one; the rest are counted. */
const MOST_LISTED = 500;
const LONGEST_LINE = 10_000;
/** More lines with broken quotes than this, and no more are tried. */
const MOST_BROKEN = 5_000;
/** Lines with quotes parsed together: csv-parse is slow to start and quick to run. */
const QUOTED_BATCH = 2_000;

/** Reads every data row from `layout.firstDataRow` on. Elevation is 0 where no elevation column is wanted. */
export function scanRows(utf8: Uint8Array, layout: TextLayout, columns: Wanted): ScannedRows {
  return new RowScanner(utf8, layout, columns).run();
}

class RowScanner {
  private readonly bytes: Uint8Array;
  private readonly layout: TextLayout;
  private readonly columns: Wanted;
  private readonly builder: PointTableBuilder;
  private readonly fields: ByteFields;
  private readonly decoder = new TextDecoder();
  private dataRows = 0;
  private rejectedCount = 0;
  private brokenQuotes = 0;
  private readonly rejected: ExcludedRow[] = [];
  private readonly scientificRows: number[] = [];
  private horizontalSuffix: LengthUnit | null = null;
  private verticalSuffix: LengthUnit | null = null;
  private quotedRows: number[] = [];
  private quotedLines: string[] = [];

  constructor(bytes: Uint8Array, layout: TextLayout, columns: Wanted) {
    this.bytes = bytes;
    this.layout = layout;
    this.columns = columns;
    this.builder = new PointTableBuilder(Math.ceil(bytes.length / 28));
    this.fields = new ByteFields(bytes, {
      delimiter: layout.delimiter,
      mark: layout.mark,
      lastColumn: Math.max(...Object.values(columns)),
      restColumn: columns.description,
      numberColumns: [
        columns.easting,
        columns.northing,
        ...(columns.elevation === undefined ? [] : [columns.elevation]),
      ],
    });
  }

  run(): ScannedRows {
    const { bytes, layout } = this;
    const partedByBlanks = layout.delimiter === " ";
    for (let row = 1, start = 0; start <= bytes.length; row++) {
      const plainEnd = row >= layout.firstDataRow && !partedByBlanks ? this.takePlainLine(start, row) : -1;
      start = plainEnd >= 0 ? plainEnd + 1 : this.takeLine(start, row);
    }
    this.flushQuoted();
    return {
      table: this.builder.finish(),
      dataRows: this.dataRows,
      rejected: this.rejected.sort((a, b) => a.row - b.row),
      rejectedCount: this.rejectedCount,
      horizontalSuffix: this.horizontalSuffix,
      verticalSuffix: this.verticalSuffix,
      scientificRows: this.scientificRows,
    };
  }

  /** Takes a line the careful way; returns where the next one begins. */
  private takeLine(start: number, row: number): number {
    const { bytes } = this;
    let quoted = false;
    let blank = true;
    let end = start;
    for (; end < bytes.length; end++) {
      const byte = bytes[end]!;
      if (byte === LF || byte === CR) break;
      if (byte === QUOTE) quoted = true;
      else if (byte > BLANK) blank = false;
    }
    if (row >= this.layout.firstDataRow && (quoted || !blank)) this.takeText(start, end, row, quoted);
    return bytes[end] === CR && bytes[end + 1] === LF ? end + 2 : end + 1;
  }

  private takeText(start: number, end: number, row: number, quoted: boolean): void {
    if (end - start > LONGEST_LINE) {
      this.dataRows++;
      this.reject(row, `the line is longer than ${LONGEST_LINE} bytes`);
      return;
    }
    const { delimiter } = this.layout;
    if (quoted && delimiter !== " " && this.brokenQuotes > MOST_BROKEN) {
      this.dataRows++;
      this.reject(row, "quotes are broken throughout the file");
      return;
    }
    if (quoted && delimiter !== " ") {
      this.quotedRows.push(row);
      this.quotedLines.push(this.text(start, end));
      if (this.quotedRows.length >= QUOTED_BATCH) this.flushQuoted();
      return;
    }
    if (!quoted && delimiter === " " && this.takePlainParts(start, end, row)) return;
    const text = this.text(start, end);
    if (!isComment(text, delimiter)) this.takeFields(splitFields(text, delimiter), row);
  }

  private flushQuoted(): void {
    if (this.quotedLines.length === 0) return;
    const { delimiter } = this.layout;
    const lines: string[] = [];
    const rows: number[] = [];
    this.quotedLines.forEach((line, i) => {
      if (isComment(line, delimiter)) return;
      lines.push(line);
      rows.push(this.quotedRows[i]!);
    });
    splitQuoted(lines, delimiter).forEach((fields, i) => {
      if (fields) this.takeFields(fields, rows[i]!);
      else {
        this.dataRows++;
        this.brokenQuotes++;
        this.reject(rows[i]!, `a quote is opened and never closed: ${shown(lines[i]!)}`);
      }
    });
    this.quotedRows = [];
    this.quotedLines = [];
  }

  /** Where the line ends when it was wholly plain and has been taken; −1 otherwise. */
  private takePlainLine(start: number, row: number): number {
    const { columns, fields, builder } = this;
    if (this.mayBeComment(start)) return -1;
    const end = fields.readPlainLine(start);
    if (end < 0 || end - start > LONGEST_LINE) return -1;
    this.dataRows++;
    builder.push(
      fields.numbers[0]!,
      fields.numbers[1]!,
      columns.elevation === undefined ? 0 : fields.numbers[2]!,
      row,
      fields.wordAt(columns.description, fields.found, builder),
      fields.wordAt(columns.line, fields.found, builder),
    );
    return end;
  }

  /** True when the line, parted by blanks, was wholly plain and has been taken. */
  private takePlainParts(start: number, end: number, row: number): boolean {
    const { columns, fields, builder } = this;
    if (this.mayBeComment(start)) return false;
    const found = fields.partByBlanks(start, end);
    if (!fields.isPlainAt(columns.easting, found)) return false;
    const easting = fields.plain;
    if (!fields.isPlainAt(columns.northing, found)) return false;
    const northing = fields.plain;
    let elevation = 0;
    if (columns.elevation !== undefined) {
      if (!fields.isPlainAt(columns.elevation, found)) return false;
      elevation = fields.plain;
    }
    this.dataRows++;
    builder.push(
      easting,
      northing,
      elevation,
      row,
      fields.wordAt(columns.description, found, builder),
      fields.wordAt(columns.line, found, builder),
    );
    return true;
  }

  /** A row somebody struck out with a comment mark may hold numbers all the same. */
  private mayBeComment(start: number): boolean {
    let first = start;
    while (this.bytes[first] === BLANK || this.bytes[first] === TAB) first++;
    return first < this.bytes.length && BEGINS_COMMENT[this.bytes[first]!] === 1;
  }

  private text(start: number, end: number): string {
    return this.decoder.decode(this.bytes.subarray(start, end));
  }

  private takeFields(fields: readonly string[], row: number): void {
    this.dataRows++;
    const { columns, builder } = this;
    const values = [0, 0, 0];
    const roles = [
      ["easting", columns.easting],
      ["northing", columns.northing],
      ["elevation", columns.elevation],
    ] as const;
    for (const [k, [role, column]] of roles.entries()) {
      if (column === undefined) continue;
      const field = fields[column];
      if (field === undefined || field === "") {
        this.reject(row, field === undefined ? `the row ends before its ${role}` : `no ${role}`);
        return;
      }
      const measure = readMeasure(field, this.layout.mark);
      if (!measure) {
        this.reject(row, `${role} is not a number: "${shown(field)}" (column ${column + 1})`);
        return;
      }
      values[k] = measure.value;
      if (measure.suffix) {
        if (role === "elevation") this.verticalSuffix ??= measure.suffix;
        else this.horizontalSuffix ??= measure.suffix;
      }
      if (measure.scientific && this.scientificRows.length < MOST_LISTED) this.scientificRows.push(row);
    }
    const word = (column: number | undefined) =>
      column === undefined ? -1 : builder.wordId(this.describe(fields, column));
    builder.push(values[0]!, values[1]!, values[2]!, row, word(columns.description), word(columns.line));
  }

  private describe(fields: readonly string[], column: number): string {
    return this.layout.delimiter === " " && column === this.columns.description
      ? fields.slice(column).join(" ")
      : (fields[column] ?? "");
  }

  private reject(row: number, reason: string): void {
    this.rejectedCount++;
    if (this.rejected.length < MOST_LISTED) this.rejected.push({ row, reason });
  }
}
