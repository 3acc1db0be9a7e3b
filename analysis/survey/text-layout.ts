/** How a text file is laid out: what parts its fields, its decimal mark, its header, where data begins. */
import type { LengthUnit } from "../units.js";
import { readHeader } from "./column-names.js";
import { type DecimalMark, readMeasure, unitOfWord } from "./numbers.js";
import { type Delimiter, firstLines, isComment, splitFields, type TextLine } from "./text-rows.js";

export interface TextLayout {
  readonly delimiter: Delimiter;
  readonly mark: DecimalMark;
  /** True when commas could have meant thousands or decimals and one was chosen. */
  readonly markGuessed: boolean;
  readonly header: readonly string[] | null;
  /** 1-based line of the first data row. */
  readonly firstDataRow: number;
  /** Lines above the data that are neither comments nor the header. */
  readonly passedOver: readonly number[];
  /** Unit stated in a comment or title line. */
  readonly unit: LengthUnit | null;
  /** Fields of the first data rows. */
  readonly sample: readonly (readonly string[])[];
}

const SAMPLE_LINES = 300;
const DELIMITERS: readonly Delimiter[] = ["\t", ";", "|", ",", " "];
const DELIMITER_WORDS: Readonly<Record<Delimiter, string>> = {
  ",": "comma-separated text",
  ";": "semicolon-separated text",
  "\t": "tab-separated text",
  "|": "text with fields parted by |",
  " ": "text with fields parted by blanks",
};

export function layoutInWords({ delimiter, mark }: TextLayout): string {
  return DELIMITER_WORDS[delimiter] + (mark === "," ? ", decimal comma" : "");
}

/** Null when no line holds `numbersWanted` numbers under any delimiter. */
export function findLayout(utf8: Uint8Array, numbersWanted: number): TextLayout | null {
  const lines = firstLines(utf8, SAMPLE_LINES);
  let best: { delimiter: Delimiter; rows: number } | null = null;
  for (const delimiter of DELIMITERS) {
    const rows = lines.filter(({ text }) => isData(text, delimiter, numbersWanted)).length;
    if (rows > (best?.rows ?? 0)) best = { delimiter, rows };
  }
  if (!best) return null;
  const { delimiter } = best;
  const isDataLine = ({ text }: TextLine) => isData(text, delimiter, numbersWanted);
  const first = lines.findIndex(isDataLine);
  const above = lines.slice(0, first);
  const sample = lines
    .slice(first)
    .filter(isDataLine)
    .map(({ text }) => splitFields(text, delimiter));
  const headerAt = above.findLastIndex(
    ({ text }) => readHeader(splitFields(withoutCommentMark(text), delimiter)) !== null,
  );
  // what stands below the header is data, readable or not
  const begin = headerAt < 0 ? first : headerAt + 1;
  const isSpeech = ({ text }: TextLine, i: number) => i === headerAt || isComment(text, delimiter);
  return {
    delimiter,
    ...decimalMark(sample.flat(), delimiter),
    header: headerAt < 0 ? null : splitFields(withoutCommentMark(above[headerAt]!.text), delimiter),
    firstDataRow: lines[begin]!.row,
    passedOver: above
      .slice(0, begin)
      .filter((line, i) => !isSpeech(line, i))
      .map(({ row }) => row),
    unit: above.map(({ text }) => unitInText(text)).find((unit) => unit !== null) ?? null,
    sample,
  };
}

function isData(text: string, delimiter: Delimiter, numbersWanted: number): boolean {
  // most lines hold one of the five delimiters only
  if (delimiter !== " " && numbersWanted > 1 && !text.includes(delimiter)) return false;
  if (isComment(text, delimiter)) return false;
  let numbers = 0;
  for (const field of splitFields(text, delimiter))
    if ((readMeasure(field, ".") ?? readMeasure(field, ",")) && ++numbers >= numbersWanted) return true;
  return false;
}

function withoutCommentMark(text: string): string {
  return text.replace(/^\s*(#+|!+|;+|%+|\/\/+)\s*(?=\S)/, "");
}

function decimalMark(
  fields: readonly string[],
  delimiter: Delimiter,
): { mark: DecimalMark; markGuessed: boolean } {
  let commaOnly = 0;
  let pointOnly = 0;
  let either = 0;
  for (const field of fields) {
    if (!/[.,]/.test(field)) continue;
    const asPoint = readMeasure(field, ".") !== null;
    const asComma = readMeasure(field, ",") !== null;
    if (asPoint && asComma) either++;
    else if (asComma) commaOnly++;
    else if (asPoint) pointOnly++;
  }
  if (commaOnly !== pointOnly) return { mark: commaOnly > pointOnly ? "," : ".", markGuessed: false };
  return { mark: ".", markGuessed: delimiter !== "," && either > 0 && fields.some((f) => f.includes(",")) };
}

function unitInText(text: string): LengthUnit | null {
  const match =
    /\bunits?\b[\s:=,]*(?:are\s+|in\s+)*((?:u\.?s\.?\s*)?(?:international\s+)?(?:survey\s+)?[a-z']+)/i.exec(
      text,
    );
  return match ? unitOfWord(match[1]!) : null;
}
