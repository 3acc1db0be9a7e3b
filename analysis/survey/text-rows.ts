/** Lines and fields of delimited text. */
import { parse } from "csv-parse/sync";

export type Delimiter = "," | ";" | "\t" | "|" | " ";

export interface TextLine {
  /** 1-based line of the file. */
  readonly row: number;
  readonly text: string;
}

const LONGEST_LINE = 10_000;

/** The first lines of a file that are not blank, at most `most`, with CRLF, LF or CR endings. */
export function firstLines(utf8: Uint8Array, most: number): TextLine[] {
  const decoder = new TextDecoder();
  const lines: TextLine[] = [];
  let row = 1;
  let start = 0;
  for (let i = 0; i <= utf8.length && lines.length < most; i++) {
    const byte = i < utf8.length ? utf8[i] : 10;
    if (byte !== 10 && byte !== 13) continue;
    const text = decoder.decode(utf8.subarray(start, Math.min(i, start + LONGEST_LINE)));
    if (text.trim() !== "") lines.push({ row, text });
    if (byte === 13 && utf8[i + 1] === 10) i++;
    start = i + 1;
    row++;
  }
  return lines;
}

/** Lines that speak to people: # ! * % // and, unless fields are parted by semicolons, ; */
export function isComment(text: string, delimiter: Delimiter): boolean {
  const t = text.trimStart();
  return /^(#|!|\*|%|\/\/)/.test(t) || (t.startsWith(";") && delimiter !== ";");
}

/** Fields of one line, trimmed and unquoted. A field counts as quoted only when it begins with the quote: OAK 18" is plain. */
export function splitFields(text: string, delimiter: Delimiter): string[] {
  if (!text.includes('"'))
    return delimiter === " " ? text.trim().split(/\s+/) : text.split(delimiter).map((field) => field.trim());
  if (delimiter === " ")
    return Array.from(text.matchAll(/"([^"]*)"(?=\s|$)|\S+/g), (match) => match[1] ?? match[0]);
  return splitQuoted([text], delimiter)[0] ?? [text];
}

/**
 * Fields of lines with quotes in them, by csv-parse: doubled quotes, delimiters inside quotes.
 * Null for a line whose quote never closes.
 */
export function splitQuoted(lines: readonly string[], delimiter: Delimiter): (string[] | null)[] {
  const options = { delimiter, relax_quotes: true, relax_column_count: true, trim: true } as const;
  try {
    const records: string[][] = parse(lines.join("\n"), options);
    if (records.length === lines.length) return records;
  } catch {
    // one of them is broken: halve until it stands alone
  }
  if (lines.length <= 1) return lines.map(() => null);
  const middle = lines.length >> 1;
  return [...splitQuoted(lines.slice(0, middle), delimiter), ...splitQuoted(lines.slice(middle), delimiter)];
}
