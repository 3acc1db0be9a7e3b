/** A JSON file that was sent. */
import type { IntakeNotes } from "./notes.js";
import type { SurveyFile } from "./survey.js";
import { toText } from "./text-decoding.js";

/** The value of a JSON file; null with a problem in the notes when it is not JSON. */
export function jsonOf(file: SurveyFile, where: string, notes: IntakeNotes): unknown {
  try {
    return JSON.parse(toText(file.bytes));
  } catch (error) {
    notes.problems.push({
      code: `${where}-not-json`,
      where,
      message: `The ${where} file is not JSON: ${(error as Error).message.slice(0, 120)}.`,
      remedy: "Send GeoJSON.",
    });
    return null;
  }
}

/** Whether a text is meant as JSON: its first character that is not blank opens an object or a list. */
export function looksLikeJson(text: string): boolean {
  return /^\s*[{[]/.test(text.slice(0, 1_000));
}
