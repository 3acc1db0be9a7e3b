/** Northing or easting first: the decision, and how it is told. */
import type { Problem } from "../assumptions.js";
import { CLEARLY_BETTER, type Meeting, type Reading } from "./meet.js";
import type { IntakeNotes } from "./notes.js";
import { orderInWords } from "./point-columns.js";
import type { BoundarySource, TopoSource } from "./sources.js";

/** Below this cover the two files do not meet. */
const MEETS = 0.02;
/** A reading that covers this much of the lot is believed when the plain one does not meet at all. */
const CONVINCING = 0.5;

/** The reading to go by, with a warning when it was guessed or is not the plain one; null when the files do not meet. */
export function chooseReading(
  { plain, allowed, best, rivalCovered, unitsOpen }: Meeting,
  { topo, boundary }: { readonly topo: TopoSource; readonly boundary: BoundarySource },
  notes: IntakeNotes,
): Reading | null {
  if (allowed !== plain) {
    const guessed = (allowed.swapTopo ? topo : boundary).said.axes === "guessed";
    notes.warnings.push({
      code: "mirrored-axes",
      message: `${allowed.swapTopo ? "The topo" : "The boundary"} meets the other file only with easting and northing the other way round from ${guessed ? "the trade's usual order" : "their names"}, and was read so (${percent(allowed.covered)} of the lot's box covered, against ${percent(plain.covered)}).`,
      remedy:
        "Compare the picture with the survey drawing: a lot must not come out mirrored. Name the columns northing and easting, or give survey.columns.",
    });
    return allowed;
  }
  if (plain.covered >= MEETS) {
    const guessed = [topo, boundary].filter(({ said }) => said.axes === "guessed");
    if (guessed.length > 0 && plain.covered - rivalCovered < CLEARLY_BETTER)
      notes.warnings.push({
        code: "columns-guessed",
        message: guessedInWords(topo, boundary),
        remedy:
          "Compare the picture with the survey drawing: a lot must not come out mirrored. Name the columns, or give survey.columns and survey.boundaryColumns.",
      });
    return plain;
  }
  const inOtherUnit = unitsOpen && best.topoScale !== plain.topoScale && !best.swapTopo && !best.swapBoundary;
  return inOtherUnit && best.covered >= CONVINCING ? best : null;
}

function guessedInWords(topo: TopoSource, boundary: BoundarySource): string {
  const [topoOrder, boundaryOrder] = [topo, boundary].map(({ columns }) => orderInWords(columns ?? {}));
  if (topo.said.axes !== "guessed")
    return `The boundary has no header, and it meets the topo whichever of its two coordinate columns is northing; the order ${boundaryOrder} was taken.`;
  const either = "whichever of the two coordinate columns is northing";
  return boundary.said.axes === "guessed"
    ? `Neither the topo nor the boundary has a header, and they meet ${either}; the order ${topoOrder} was taken for the topo, ${boundaryOrder} for the boundary.`
    : `The topo has no header, and the lot meets it ${either}; the order ${topoOrder} was taken.`;
}

/** The refusal when no reading that the labels allow makes the files meet. */
export function notMeeting(
  { best, plain }: Meeting,
  { points }: TopoSource,
  ring: readonly (readonly [number, number])[],
): Problem {
  const ranges = `Topo: eastings ${range(points.easting)}, northings ${range(points.northing)}. Boundary: eastings ${range(ring.map(([x]) => x))}, northings ${range(ring.map(([, y]) => y))}.`;
  if (best.covered >= CONVINCING && (best.swapTopo || best.swapBoundary))
    return {
      code: "axes-exchanged",
      where: best.swapTopo ? "topo" : "boundary",
      message: `Topo and boundary meet only when northing and easting of one of them are exchanged, but both say which is which. ${ranges}`,
      remedy:
        "Find out which file is wrong and correct its header, or give survey.columns or survey.boundaryColumns.",
    };
  if (best.covered >= CONVINCING)
    return {
      code: "units-disagree",
      where: "topo",
      message: `Topo and boundary meet only when the ${best.topoScale > plain.topoScale ? "topo" : "boundary"} is taken for metres and the other for feet (factor 3.28), against the units stated. ${ranges}`,
      remedy: "Send both files in one unit, or correct survey.unit.",
    };
  return {
    code: "topo-misses-lot",
    where: "topo",
    message: `The ground shots do not reach the lot. ${ranges}`,
    remedy: "Send both files in one coordinate system and unit; look for cut-off leading digits.",
  };
}

/** How the columns were told apart, with the reason for the order of northing and easting where no header gave it. */
export function columnsInWords(
  { said, columns, columnsBecause }: TopoSource,
  { rivalCovered }: Meeting,
  reading: Reading,
): string {
  if (said.axes !== "guessed" || !columns) return columnsBecause;
  const order = orderInWords(reading.swapTopo ? swappedColumns(columns) : columns);
  const told = reading.covered - rivalCovered >= CLEARLY_BETTER;
  const why = told
    ? `, because only so the shots cover the lot (${percent(reading.covered)} of its box, ${percent(rivalCovered)} the other way)`
    : ", the trade's usual order";
  return `${columnsBecause}; read as ${order}${why}`;
}

export function swappedColumns(columns: Readonly<Record<string, number>>): Record<string, number> {
  return { ...columns, northing: columns.easting!, easting: columns.northing! };
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

function range(values: Iterable<number>): string {
  let [low, high] = [Infinity, -Infinity];
  for (const v of values) [low, high] = [Math.min(low, v), Math.max(high, v)];
  const digits = Math.abs(high) <= 180 ? 5 : 1;
  return `${low.toFixed(digits)} to ${high.toFixed(digits)}`;
}
