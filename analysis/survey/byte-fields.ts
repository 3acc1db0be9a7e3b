/** Fields of one line straight from the bytes: where they begin and end, plain numbers, words. */
import type { DecimalMark } from "./numbers.js";
import type { PointTableBuilder } from "./point-table.js";
import type { Delimiter } from "./text-rows.js";

const BLANK = 32;
const TAB = 9;
const LF = 10;
const CR = 13;
const QUOTE = 34;
/** Largest count of digits whose whole number doubles hold exactly. */
const MOST_DIGITS = 15;
const POWERS_OF_TEN = Float64Array.from({ length: 16 }, (_, i) => 10 ** i);

interface FieldLayout {
  readonly delimiter: Delimiter;
  readonly mark: DecimalMark;
  /** Fields beyond this one are not looked at. */
  readonly lastColumn: number;
  /** Columns of the numbers that a plain line must hold. */
  readonly numberColumns: readonly number[];
  /** Where fields are parted by blanks, this one keeps its own and reaches to the end of the line. */
  readonly restColumn: number | undefined;
}

/** Reads line after line into the same few arrays: a million rows leave no garbage. */
export class ByteFields {
  /** Value of the number last read by `isPlainAt`. */
  plain = 0;
  /** Numbers of the line last read by `readPlainLine`, in the order of `numberColumns`; and how many fields it has. */
  readonly numbers: Float64Array;
  found = 0;
  /** For each column its place in `numbers`, −1 for none. */
  private readonly numberAt: Int32Array;
  private readonly bytes: Uint8Array;
  private readonly delimiter: number;
  private readonly mark: number;
  private readonly lastColumn: number;
  private readonly restColumn: number | undefined;
  private readonly starts: Int32Array;
  private readonly ends: Int32Array;
  private readonly wordByHash = new Map<number, { id: number; start: number; end: number }>();
  private readonly decoder = new TextDecoder();

  constructor(bytes: Uint8Array, { delimiter, mark, lastColumn, restColumn, numberColumns }: FieldLayout) {
    this.bytes = bytes;
    this.delimiter = delimiter.charCodeAt(0);
    this.mark = mark.charCodeAt(0);
    this.lastColumn = lastColumn;
    this.restColumn = restColumn;
    this.starts = new Int32Array(lastColumn + 1);
    this.ends = new Int32Array(lastColumn + 1);
    this.numbers = new Float64Array(numberColumns.length);
    this.numberAt = new Int32Array(lastColumn + 1).fill(-1);
    numberColumns.forEach((column, k) => {
      this.numberAt[column] = k;
    });
  }

  /**
   * Reads a whole line in one go where it is plain: numbers, in `numbers`, at the columns asked for, and no quote. Returns
   * the place of its last byte, the line's end, or −1 where it is not plain; then nothing was taken.
   */
  readPlainLine(start: number): number {
    const { bytes, delimiter, lastColumn, numberAt, numbers, starts, ends } = this;
    const length = bytes.length;
    // a tab that parts fields is no blank beside them
    const tab = delimiter === TAB ? BLANK : TAB;
    let i = start;
    let numbersRead = 0;
    this.found = 0;
    for (let column = 0; ; column++) {
      while (i < length && (bytes[i] === BLANK || bytes[i] === tab)) i++;
      const from = i;
      const number = column <= lastColumn ? numberAt[column]! : -1;
      if (number >= 0) {
        i = this.readDigits(i);
        if (i < 0) return -1;
        numbers[number] = this.plain;
        numbersRead++;
        while (i < length && (bytes[i] === BLANK || bytes[i] === tab)) i++;
        if (i < length && bytes[i] !== delimiter && bytes[i] !== LF && bytes[i] !== CR) return -1;
      } else
        for (; i < length; i++) {
          const byte = bytes[i]!;
          if (byte === delimiter || byte === LF || byte === CR) break;
          if (byte === QUOTE) return -1;
        }
      if (column <= lastColumn) {
        let to = i;
        while (to > from && (bytes[to - 1] === BLANK || bytes[to - 1] === tab)) to--;
        starts[column] = from;
        ends[column] = to;
        this.found++;
      }
      if (i >= length || bytes[i] !== delimiter) break;
      i++;
    }
    if (numbersRead < numbers.length) return -1;
    return bytes[i] === CR && bytes[i + 1] === LF ? i + 1 : i;
  }

  /** Parts a line by blanks; returns how many fields were found. The description, when last, keeps its blanks. */
  partByBlanks(start: number, end: number): number {
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

  private readPlain(start: number, end: number): boolean {
    return this.readDigits(start) === end;
  }

  /** Digits with at most one decimal mark and a leading minus; sets `plain`. Exact: a whole number over a power of ten, rounded once. Returns where they end, −1 where they are none or too many. */
  private readDigits(start: number): number {
    const { bytes, mark, delimiter } = this;
    let i = start;
    const negative = bytes[i] === 45;
    if (negative) i++;
    let whole = 0;
    let digits = 0;
    let decimals = -1;
    for (; i < bytes.length; i++) {
      const byte = bytes[i]!;
      if (byte >= 48 && byte <= 57) {
        whole = whole * 10 + (byte - 48);
        digits++;
        if (decimals >= 0) decimals++;
      } else if (byte === mark && byte !== delimiter && decimals < 0) decimals = 0;
      else break;
    }
    if (digits === 0 || digits > MOST_DIGITS) return -1;
    const value = decimals > 0 ? whole / POWERS_OF_TEN[decimals]! : whole;
    this.plain = negative ? -value : value;
    return i;
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
