/** A lot line in words: the calls of a deed, one after another, in the order written. */
import { bearingUse, CURVE_WORD, type CurveWords, readCurve } from "./call-curve.js";
import { type Bearing, findBearings, findDistance, type Length, plainSigns } from "./call-text.js";

export type Call =
  | {
      readonly kind: "line";
      readonly row: number;
      readonly text: string;
      readonly azimuthDeg: number;
      readonly length: Length;
    }
  | { readonly kind: "curve"; readonly row: number; readonly text: string; readonly words: CurveWords };

export interface UnreadCall {
  readonly row: number;
  readonly text: string;
  readonly why: string;
}

export interface ReadCalls {
  readonly calls: readonly Call[];
  readonly unread: readonly UnreadCall[];
  /** Easting and northing of the beginning, where the text gives them. */
  readonly start: readonly [number, number] | null;
  /** Calls that only lead from a tie to the point of beginning. */
  readonly tieCalls: number;
  /** Rows of bearings such as N12.3015E, read as decimal degrees. */
  readonly doubtfulRows: readonly number[];
}

/** True when a text speaks in bearings rather than in columns. */
export function looksLikeCalls(text: string): boolean {
  return findBearings(plainSigns(text.slice(0, 20_000)).replace(/[ \t]+/g, " ")).length >= 2;
}

interface Segment {
  readonly text: string;
  readonly row: number;
}

/** Reads every call, and every piece that looks like one and cannot be read. */
export function readCalls(source: string): ReadCalls {
  const reader = new CallReader();
  const { start, rest } = takeStart(plainSigns(source));
  for (const segment of segmentsOf(rest)) reader.take(segment);
  return { ...reader.finish(), start };
}

/** Pieces between "thence" and semicolons; where a text has neither, its lines. */
function segmentsOf(text: string): Segment[] {
  const parted = /\bthence\b|;/i.test(text);
  const separator = parted ? /\bthen(?:ce)?\b|;/gi : /\n/g;
  const segments: Segment[] = [];
  let from = 0;
  let row = 1;
  let counted = 0;
  const push = (to: number) => {
    const raw = text.slice(from, to);
    const lead = raw.length - raw.trimStart().length;
    for (; counted < from + lead; counted++) if (text[counted] === "\n") row++;
    if (raw.trim() !== "") segments.push({ text: raw.replace(/\s+/g, " ").trim(), row });
  };
  for (const match of text.matchAll(separator)) {
    push(match.index);
    from = match.index + match[0].length;
  }
  push(text.length);
  return segments;
}

function cut({ text, row }: Segment, from: number, to: number): Segment {
  return { text: text.slice(from, to), row };
}

class CallReader {
  private readonly calls: Call[] = [];
  private readonly unread: UnreadCall[] = [];
  private readonly doubtfulRows: number[] = [];
  private tieCalls = 0;
  private commencing = false;
  /** A bearing whose distance stands in the next piece. */
  private waiting: { bearing: Bearing; segment: Segment } | null = null;
  /** A curve announced ("to the beginning of a curve having a radius of …") and not yet run. */
  private announced: CurveWords = {};

  take(segment: Segment): void {
    const { text, row } = segment;
    if (this.calls.length === 0 && /\bcommenc/i.test(text)) this.commencing = true;
    const bearings = findBearings(text);
    const impossible = bearings.find((bearing) => bearing.impossible);
    if (impossible) {
      this.refuse(segment, `${impossible.text} is no possible bearing`);
      return;
    }
    if (bearings.some((bearing) => bearing.decimalDoubt)) this.doubtfulRows.push(row);
    const curveAt = text.search(CURVE_WORD);
    if (curveAt >= 0) this.takeCurve(segment, bearings, curveAt);
    else if (bearings.length > 0) this.takeLines(segment, bearings);
    else this.takeRest(segment);
    if (this.commencing && this.calls.length > 0 && /point\s+of\s+beginning|p\.?o\.?b\b/i.test(text)) {
      this.tieCalls = this.calls.length;
      this.calls.length = 0;
      this.commencing = false;
    }
  }

  finish(): Omit<ReadCalls, "start"> {
    this.dropWaiting();
    const { calls, unread, tieCalls, doubtfulRows } = this;
    return { calls, unread, tieCalls, doubtfulRows };
  }

  private takeLines(segment: Segment, bearings: readonly Bearing[]): void {
    this.dropWaiting();
    bearings.forEach((bearing, k) => {
      const next = bearings[k + 1];
      const length = findDistance(segment.text.slice(bearing.end, next?.start));
      if (length) this.push(segment, bearing, length);
      else if (next) this.refuse(segment, `no distance follows ${bearing.text}`);
      else this.waiting = { bearing, segment };
    });
  }

  /** Words of a curve, perhaps behind a line that leads to it and before lines that follow without a "thence". */
  private takeCurve(segment: Segment, bearings: readonly Bearing[], curveAt: number): void {
    const { text, row } = segment;
    const courses = bearings.filter((_, k) => bearingUse(text, bearings, k) === "course");
    const leading = courses.filter((b) => b.end < curveAt);
    const following = courses.filter((b) => b.end >= curveAt);
    if (leading.length > 0) this.takeLines(cut(segment, 0, curveAt), leading);
    const from = leading.at(-1)?.end ?? 0;
    const rest = text.slice(from, following[0]?.start);
    const words = { ...this.announced, ...readCurve(rest, findBearings(rest)) };
    const isRun = words.deltaDeg !== undefined || words.arc !== undefined || words.chord !== undefined;
    this.announced = isRun ? {} : words;
    if (isRun) this.calls.push({ kind: "curve", row, text, words });
    if (following.length > 0) this.takeLines(segment, following);
  }

  /** A piece without a bearing: the distance of the one before, story, or something unreadable. */
  private takeRest(segment: Segment): void {
    if (this.waiting) {
      const length = findDistance(segment.text);
      if (length) {
        this.push(this.waiting.segment, this.waiting.bearing, length);
        this.waiting = null;
        return;
      }
    }
    const looksLikeCall = /\d\s*°|\b[NS]\b[^a-z]*\d[^a-z]*[EW]\b|\b[NS]\d|\d\s*["'][EW]\b/i.test(
      segment.text,
    );
    if (looksLikeCall) this.refuse(segment, "no bearing with a distance could be read in it");
  }

  private push(segment: Segment, bearing: Bearing, length: Length): void {
    if (!(length.value > 0)) this.refuse(segment, `the distance behind ${bearing.text} is zero`);
    else
      this.calls.push({
        kind: "line",
        row: segment.row,
        text: segment.text,
        azimuthDeg: bearing.azimuthDeg,
        length,
      });
  }

  private dropWaiting(): void {
    if (this.waiting) this.refuse(this.waiting.segment, `no distance follows ${this.waiting.bearing.text}`);
    this.waiting = null;
  }

  private refuse({ row, text }: Segment, why: string): void {
    this.unread.push({ row, text, why });
  }
}

const NUMBER = String.raw`(-?\d+(?:\.\d+)?)`;
const MARK = String.raw`\s*[:=]\s*`;
const OPENING = String.raw`\b(?:start|begin|commenc)\w*[^\d;\n]{0,60}?`;
const NOT_A_CALL = String.raw`(?!\s*(?:['"°]|feet|ft|m\b)|[\d.])`;
/** Northing first, or easting first; behind a word of beginning, or with = or : as coordinates have and bearings have not. */
const STARTS = [OPENING, String.raw`\b`].flatMap((lead, k) => {
  const mark = k === 0 ? String.raw`\s*[:=]?\s*` : MARK;
  const north = `N(?:orthing)?${mark}${NUMBER}`;
  const east = `E(?:asting)?${mark}${NUMBER}`;
  return [
    { pattern: new RegExp(`${lead}\\b${north}[\\s,;]*${east}${NOT_A_CALL}`, "i"), northFirst: true },
    { pattern: new RegExp(`${lead}\\b${east}[\\s,;]*${north}${NOT_A_CALL}`, "i"), northFirst: false },
  ];
});

/** "Beginning at N 10025.00 E 5040.00", "Northing: 10025, Easting: 5040": the place, and the text without it. */
function takeStart(text: string): { start: readonly [number, number] | null; rest: string } {
  for (const { pattern, northFirst } of STARTS) {
    const match = pattern.exec(text);
    if (!match) continue;
    const [a, b] = [Number(match[1]), Number(match[2])];
    const blank = match[0].replace(/[^\n]/g, " ");
    return {
      start: northFirst ? [b, a] : [a, b],
      rest: text.slice(0, match.index) + blank + text.slice(match.index + match[0].length),
    };
  }
  return { start: null, rest: text };
}
