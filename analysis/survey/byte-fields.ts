/** Fields of one line straight from the bytes: where they begin and end, plain numbers, words. */
import type { DecimalMark } from "./numbers.js";
import type { PointTableBuilder } from "./point-table.js";
import type { Delimiter } from "./text-rows.js";

const BLANK = 32;
const TAB = 9;
/** Largest count of digits whose whole number doubles hold exactly. */
const MOST_DIGITS = 15;
const POWERS_OF_TEN = Float64Array.from({ length: 16 }, (_, i) => 10 ** i);

interface FieldLayout {
  readonly delimiter: Delimiter;
  readonly mark: DecimalMark;
  /** Fields beyond this one are not looked at. */
  readonly lastColumn: number;
  /** Where fields are parted by blanks, this one keeps its own and reaches to the end of the line. */
  readonly restColumn: number | undefined;
}

/** Reads line after line into the same few arrays: a million rows leave no garbage. */
export class ByteFields {
  /** Value of the number last read by `isPlainAt`. */
  plain = 0;
  private readonly bytes: Uint8Array;
  private readonly delimiter: number;
  private readonly mark: number;
  private readonly lastColumn: number;
  private readonly restColumn: number | undefined;
  private readonly starts: Int32Array;
  private readonly ends: Int32Array;
  private readonly wordByHash = new Map<number, { id: number; start: number; end: number }>();
  private readonly decoder = new TextDecoder();

  constructor(bytes: Uint8Array, { delimiter, mark, lastColumn, restColumn }: FieldLayout) {
    this.bytes = bytes;
    this.delimiter = delimiter.charCodeAt(0);
    this.mark = mark.charCodeAt(0);
    this.lastColumn = lastColumn;
    this.restColumn = restColumn;
    this.starts = new Int32Array(lastColumn + 1);
    this.ends = new Int32Array(lastColumn + 1);
  }

  /** Parts a line; returns how many fields were found. */
  part(start: number, end: number): number {
    return this.delimiter === BLANK ? this.partByBlanks(start, end) : this.partByByte(start, end);
  }

  private partByByte(start: number, end: number): number {
    const { bytes, starts, ends, lastColumn, delimiter } = this;
    let field = 0;
    let from = start;
    for (let i = start; i <= end; i++) {
      if (i < end && bytes[i] !== delimiter) continue;
      let a = from;
      let b = i;
      while (a < b && (bytes[a] === BLANK || bytes[a] === TAB)) a++;
      while (b > a && (bytes[b - 1] === BLANK || bytes[b - 1] === TAB)) b--;
      starts[field] = a;
      ends[field] = b;
      from = i + 1;
      if (++field > lastColumn) break;
    }
    return field;
  }

  /** As above; the description, when last, keeps its blanks. */
  private partByBlanks(start: number, end: number): number {
    const { bytes, starts, ends, lastColumn } = this;
    let field = 0;
    let i = start;
    while (field <= lastColumn) {
      while (i < end && (bytes[i] === BLANK || bytes[i] === TAB)) i++;
      if (i >= end) break;
      starts[field] = i;
      if (field === this.restColumn) i = end;
      else while (i < end && bytes[i] !== BLANK && bytes[i] !== TAB) i++;
      ends[field++] = i;
    }
    return field;
  }

  /** True when the field is a plain number, which is then in `plain`. */
  isPlainAt(column: number, found: number): boolean {
    return column < found && this.readPlain(this.starts[column]!, this.ends[column]!);
  }

  /** Digits with at most one decimal mark and a leading minus; sets `plain`. Exact: a whole number over a power of ten, rounded once. */
  private readPlain(start: number, end: number): boolean {
    const { bytes, mark } = this;
    let i = start;
    const negative = bytes[i] === 45;
    if (negative) i++;
    let whole = 0;
    let digits = 0;
    let decimals = -1;
    for (; i < end; i++) {
      const byte = bytes[i]!;
      if (byte >= 48 && byte <= 57) {
        whole = whole * 10 + (byte - 48);
        digits++;
        if (decimals >= 0) decimals++;
      } else if (byte === mark && decimals < 0) decimals = 0;
      else return false;
    }
    if (digits === 0 || digits > MOST_DIGITS) return false;
    const value = decimals > 0 ? whole / POWERS_OF_TEN[decimals]! : whole;
    this.plain = negative ? -value : value;
    return true;
  }

  /** Index of the field's word in the table; −1 when it is empty or missing. */
  wordAt(column: number | undefined, found: number, builder: PointTableBuilder): number {
    if (column === undefined || column >= found) return -1;
    const { bytes } = this;
    const start = this.starts[column]!;
    const end = this.ends[column]!;
    if (start === end) return -1;
    let hash = end - start;
    for (let i = start; i < end; i++) hash = (Math.imul(hash, 31) + bytes[i]!) | 0;
    const known = this.wordByHash.get(hash);
    if (known && this.sameBytes(known.start, known.end, start, end)) return known.id;
    const id = builder.wordId(this.decoder.decode(bytes.subarray(start, end)).trim());
    this.wordByHash.set(hash, { id, start, end });
    return id;
  }

  private sameBytes(a: number, aEnd: number, b: number, bEnd: number): boolean {
    if (aEnd - a !== bEnd - b) return false;
    while (a < aEnd) if (this.bytes[a++] !== this.bytes[b++]) return false;
    return true;
  }
}
