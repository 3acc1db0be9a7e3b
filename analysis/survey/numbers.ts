/** Numbers as surveyors' files write them. One grammar for the careful path; the fast path in scan-rows.ts reads a subset of it. */
import type { LengthUnit } from "../units.js";

export type DecimalMark = "." | ",";

export interface Measure {
  readonly value: number;
  /** Unit written behind the number: 512.3' or 512.3 ft or 156.1 m. */
  readonly suffix: LengthUnit | null;
  /** Written as 1.05E+04: a spreadsheet may have dropped digits. */
  readonly scientific: boolean;
}

const SUFFIX = /\s*(us-?ft|us survey f(?:ee|oo)t|'|′|’|ft\.?|feet|foot|m|metres?|meters?)$/i;
const PLAIN = /^[+-]?(?:\d+\.?\d*|\.\d+)$/;
const GROUPED = /^[+-]?\d{1,3}(?:,\d{3})+(?:\.\d*)?$/;
const SCIENTIFIC = /^[+-]?\d+\.\d+[eE][+-]?\d{1,2}$/;
const LONGEST = 40;

/**
 * Reads one field. Null for anything that is not plainly a decimal number: hexadecimal, 1e5 without a point,
 * two points, words. With decimal mark "," a point may group thousands, and the reverse.
 */
export function readMeasure(field: string, mark: DecimalMark): Measure | null {
  let text = field.trim();
  if (text.length === 0 || text.length > LONGEST) return null;
  let suffix: LengthUnit | null = null;
  // no unit ends in a digit, and the pattern is slow to find that out
  const unit = endsInDigit(text) ? null : SUFFIX.exec(text);
  if (unit) {
    text = text.slice(0, unit.index);
    suffix = unitOfWord(unit[1]!);
  }
  if (mark === ",") text = text.replace(/[.,]/g, (c) => (c === "." ? "," : "."));
  text = text.replace("−", "-");
  const scientific = SCIENTIFIC.test(text);
  if (GROUPED.test(text)) text = text.replaceAll(",", "");
  else if (!PLAIN.test(text) && !scientific) return null;
  const value = Number(text);
  return Number.isFinite(value) ? { value, suffix, scientific } : null;
}

function endsInDigit(text: string): boolean {
  const last = text.charCodeAt(text.length - 1);
  return last >= 48 && last <= 57;
}

/** The unit a word stands for; null for words that are no unit of length. */
export function unitOfWord(word: string): LengthUnit | null {
  const w = word.toLowerCase().replace(/[^a-z'′’]/g, "");
  if (w === "m" || /^met(er|re)s?$/.test(w)) return "m";
  if (/^(usft|ftus|sft|usfeet|usfoot|ussurveyf(oo|ee)t|surveyf(oo|ee)t|ussft)$/.test(w)) return "us-ft";
  if (/^(['′’]|ft|feet|foot|internationalf(oo|ee)t|ift|intft)$/.test(w)) return "ft";
  return null;
}
