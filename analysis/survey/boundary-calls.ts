/** A lot line given as bearings and distances, walked and closed. */
import type { Point } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { feetPerUnit, type LengthUnit } from "../units.js";
import { ARC_GAP_FT, pointsOnArc } from "./arc.js";
import { likelyWrongCall } from "./call-blunders.js";
import { resolveCurve } from "./call-curve.js";
import type { Length } from "./call-text.js";
import { type Call, readCalls } from "./calls.js";
import { type IntakeNotes, rowsInWords, shown } from "./notes.js";
import type { BoundarySource } from "./sources.js";
import { adjustByCompass, type Course, cornersOf, walk } from "./traverse.js";

/** A misclosure larger than this share of the perimeter is no lot line but a misread one. */
const WORST_SHARE = 0.1;
/** A precision worse than 1 in this is told at once; the findings judge finer. */
const POOR_PRECISION = 1_000;

const LONGEST_DEED = 200_000;

interface CallsInput {
  readonly text: string;
  /** Easting and northing of the beginning; the text itself may give them instead. */
  readonly start: Point | null;
  /** Unit of the coordinates the lot is drawn in; the calls' own when nobody says. */
  readonly unit: LengthUnit | null;
  /** Unit of lengths written without one; that of the coordinates when nobody says. */
  readonly spoken: LengthUnit | null;
  readonly adjust: StudyRequest["survey"]["adjustBoundary"];
}

/** Null with problems in the notes when a call cannot be read or the line comes nowhere near its beginning. */
export function readBoundaryCalls(
  { text, start, unit, spoken, adjust }: CallsInput,
  notes: IntakeNotes,
): BoundarySource | null {
  if (text.length > LONGEST_DEED) {
    notes.problems.push({
      code: "calls-too-long",
      where: "boundary",
      message: `The description has ${text.length} characters; at most ${LONGEST_DEED} are read.`,
      remedy: "Send the description of this lot alone.",
    });
    return null;
  }
  const read = readCalls(text);
  for (const { row, text: words, why } of read.unread)
    notes.problems.push({
      code: "call-not-read",
      where: "boundary",
      row,
      message: `This call could not be read, ${why}: "${shown(words)}".`,
      remedy:
        "Write it as N 12°30'15\" E 210.55 feet, or a curve as: curve to the right, radius 200.00, central angle 30°00'00\".",
    });
  const begin = start ?? read.start;
  if (!begin)
    notes.problems.push({
      code: "calls-need-start",
      where: "boundary",
      message: "The calls do not say where they begin in the coordinates of the topo.",
      remedy:
        'Send boundary as { "start": [easting, northing], "calls": "…" }, or begin the text with: Beginning at N 10025.00 E 5040.00.',
    });
  if (read.calls.length < 2 && read.unread.length === 0)
    notes.problems.push({
      code: "calls-too-few",
      where: "boundary",
      message: `${read.calls.length} ${read.calls.length === 1 ? "call was" : "calls were"} found; a lot needs at least three sides.`,
      remedy: "Send the whole description, from the beginning back to it.",
    });
  if (notes.problems.length > 0 || !begin) return null;
  const inUnit = unit ?? spoken ?? unitOfCalls(read.calls);
  const courses = coursesOf(read.calls, inUnit ?? "ft", spoken, notes);
  if (!courses) return null;
  noteReading(read, notes);
  return close({ courses, calls: read.calls, begin, unit: inUnit, adjust }, notes);
}

/** Metres when every length with a unit is in metres; feet when any is in feet; null when none says. */
function unitOfCalls(calls: readonly Call[]): LengthUnit | null {
  const said = calls.flatMap((call) =>
    call.kind === "line"
      ? [call.length.unit]
      : [call.words.radius?.unit, call.words.arc?.unit, call.words.chord?.unit],
  );
  return said.find((u) => u === "us-ft" || u === "ft") ?? said.find((u) => u === "m") ?? null;
}

function coursesOf(
  calls: readonly Call[],
  unit: LengthUnit,
  spoken: LengthUnit | null,
  notes: IntakeNotes,
): Course[] | null {
  const toUnit = ({ value, unit: said }: Length) =>
    (value * feetPerUnit(said ?? spoken ?? unit)) / feetPerUnit(unit);
  const courses: Course[] = [];
  let heading: number | null = null;
  let failed = false;
  for (const call of calls) {
    if (call.kind === "line") {
      courses.push({ azimuthDeg: call.azimuthDeg, length: toUnit(call.length) });
      heading = call.azimuthDeg;
      continue;
    }
    const curve = resolveCurve(call.words, heading, toUnit);
    if (typeof curve === "string") {
      failed = true;
      notes.problems.push({
        code: "curve-incomplete",
        where: "boundary",
        row: call.row,
        message: `This curve cannot be drawn, ${curve}: "${shown(call.text)}".`,
        remedy:
          "Give radius, direction (right or left), and one of central angle, arc or chord; a chord bearing when the curve is not tangent to the course before it.",
      });
      heading = null;
      continue;
    }
    if (curve.disagreement)
      notes.warnings.push({
        code: "curve-disagrees",
        message: `The curve in row ${call.row} does not agree with itself: ${curve.disagreement}. Radius and central angle were used.`,
        remedy: "Check the curve against the map.",
        rows: [call.row],
      });
    courses.push(curve.course);
    heading = curve.outDeg;
  }
  return failed ? null : courses;
}

function noteReading(
  { tieCalls, doubtfulRows }: { tieCalls: number; doubtfulRows: readonly number[] },
  notes: IntakeNotes,
): void {
  if (tieCalls > 0)
    notes.warnings.push({
      code: "tie-calls",
      message: `The description commences elsewhere: its first ${tieCalls} ${tieCalls === 1 ? "call leads" : "calls lead"} to the point of beginning and ${tieCalls === 1 ? "is" : "are"} no side of the lot. The start was taken for the point of beginning.`,
      remedy: "Give the coordinates of the point of beginning as start.",
    });
  if (doubtfulRows.length > 0)
    notes.warnings.push({
      code: "bearing-form-guessed",
      message: `Bearings such as N12.3015E were read as decimal degrees (${rowsInWords(doubtfulRows)}); they could mean 12°30'15".`,
      remedy: "Write degrees, minutes and seconds with dashes or signs.",
      rows: doubtfulRows,
    });
}

interface Walk {
  readonly courses: readonly Course[];
  readonly calls: readonly Call[];
  readonly begin: readonly [number, number];
  readonly unit: LengthUnit | null;
  readonly adjust: StudyRequest["survey"]["adjustBoundary"];
}

function close({ courses, calls, begin, unit, adjust }: Walk, notes: IntakeNotes): BoundarySource | null {
  const traverse = walk(courses);
  const { misclosure, perimeter } = traverse;
  const precision = misclosure.length > 0 ? perimeter / misclosure.length : Infinity;
  if (precision < POOR_PRECISION) {
    const hint = likelyWrongCall(courses);
    const message = `The calls end ${misclosure.length.toFixed(2)} from where they began, 1 part in ${Math.round(precision)} of ${perimeter.toFixed(2)}.${hint ? ` It would close if call ${hint.call + 1} ("${shown(calls[hint.call]!.text)}") ${hint.how}.` : ""}`;
    const remedy = "Compare the calls with the deed: quadrants, exchanged digits, a missing call.";
    if (misclosure.length > WORST_SHARE * perimeter) {
      notes.problems.push({
        code: "calls-do-not-close",
        where: "boundary",
        ...(hint ? { row: calls[hint.call]!.row } : {}),
        message,
        remedy,
      });
      return null;
    }
    notes.warnings.push({ code: "misclosure-large", message: `${message} Nothing was moved.`, remedy });
  }
  const adjusted = adjust === "compass";
  const corners = cornersOf(begin, adjusted ? adjustByCompass(courses, traverse) : traverse.steps);
  const ring: Point[] = [];
  const edge: number[] = [];
  const gap = ARC_GAP_FT / feetPerUnit(unit ?? "ft");
  corners.forEach((from, i) => {
    const { curve } = courses[i]!;
    const to = corners[i + 1] ?? corners[0]!;
    const points = [from, ...(curve ? pointsOnArc(from, to, curve, gap) : [])];
    ring.push(...points);
    edge.push(...points.map(() => i));
  });
  return {
    said: { axes: "named", unit, verticalUnit: null, degrees: false, crs: null },
    format: "bearings and distances",
    columns: null,
    ring,
    edge,
    row: null,
    traverse: { misclosure: misclosure.length, length: perimeter, adjusted },
  };
}
