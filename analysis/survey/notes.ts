/** What intake has to say besides the survey: refusals, cautions and rows left out. Filled while reading, handed out whole. */
import type { Problem } from "../assumptions.js";
import type { SurveyWarning } from "./survey.js";

export interface ExcludedRow {
  readonly row: number;
  readonly reason: string;
  readonly evidence?: string;
}

export interface IntakeNotes {
  readonly problems: Problem[];
  readonly warnings: SurveyWarning[];
  readonly excluded: ExcludedRow[];
}

export function emptyNotes(): IntakeNotes {
  return { problems: [], warnings: [], excluded: [] };
}

const ROWS_NAMED = 8;

/** "rows 3, 9 and 12", shortened when there are many. */
export function rowsInWords(rows: readonly number[]): string {
  const named = rows.slice(0, ROWS_NAMED);
  const rest = rows.length - named.length;
  if (rows.length === 1) return `row ${rows[0]}`;
  if (rest > 0) return `rows ${named.join(", ")} and ${rest} more`;
  return `rows ${named.slice(0, -1).join(", ")} and ${named.at(-1)}`;
}

/** A cell of a file as it may be shown in a message: short, on one line. */
export function shown(text: string): string {
  const line = text.replace(/\s+/g, " ").trim();
  return line.length > 40 ? `${line.slice(0, 39)}…` : line;
}
