/** JSON that was sent as a file. */
import type { IntakeNotes } from "./notes.js";
import { toText } from "./text-decoding.js";

/** The value of a JSON file; null with a problem in the notes when it is not JSON. */
export function jsonOf(bytes: Uint8Array, where: string, notes: IntakeNotes): unknown {
  try {
    return JSON.parse(toText(bytes));
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

/** Whether bytes are meant as JSON: the first character that is not blank opens an object or a list. */
export function looksLikeJson(utf8: Uint8Array): boolean {
  return /^\s*[{[]/.test(new TextDecoder().decode(utf8.subarray(0, 400)));
}
