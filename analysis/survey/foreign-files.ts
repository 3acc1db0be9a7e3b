/** Files that arrive often and cannot be read as a survey. */
import type { IntakeNotes } from "./notes.js";

const FOREIGN: readonly {
  readonly starts: readonly number[];
  readonly kind: string;
  readonly remedy: string;
}[] = [
  {
    starts: [0x25, 0x50, 0x44, 0x46],
    kind: "a PDF",
    remedy: "Ask the surveyor for the point file the drawing was made from (text or LandXML).",
  },
  {
    starts: [0x50, 0x4b, 3, 4],
    kind: "a packed archive or a spreadsheet",
    remedy: "Unpack it, or save the sheet as CSV.",
  },
  { starts: [0xd0, 0xcf, 0x11, 0xe0], kind: "an old spreadsheet", remedy: "Save the sheet as CSV." },
  {
    starts: [0x41, 0x43, 0x31, 0x30],
    kind: "a CAD drawing",
    remedy: "Export its points as text, or its surface as LandXML.",
  },
  { starts: [0xff, 0xd8, 0xff], kind: "a photograph", remedy: "Ask the surveyor for the point file." },
  { starts: [0x89, 0x50, 0x4e, 0x47], kind: "a picture", remedy: "Ask the surveyor for the point file." },
  { starts: [0x1f, 0x8b], kind: "a packed file", remedy: "Unpack it." },
];

/** True, with a problem in the notes, for empty files and files that are no survey data at all. */
export function refuseForeign(bytes: Uint8Array, where: string, notes: IntakeNotes): boolean {
  if (bytes.length === 0) {
    notes.problems.push({
      code: `${where}-empty`,
      where,
      message: `The ${where} file is empty.`,
      remedy: "Send the file again.",
    });
    return true;
  }
  const foreign = FOREIGN.find(({ starts }) => starts.every((byte, i) => bytes[i] === byte));
  if (!foreign) return false;
  notes.problems.push({
    code: `${where}-not-data`,
    where,
    message: `The ${where} file is ${foreign.kind}, not survey data.`,
    remedy: foreign.remedy,
  });
  return true;
}
