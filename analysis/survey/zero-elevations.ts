/** Elevations that were never measured: zeros among hills, and heights nowhere on earth. */
import { measure } from "../measure.js";
import { type IntakeNotes, rowsInWords } from "./notes.js";
import type { GroundPoints } from "./survey.js";

/** Highest and lowest ground there is, rounded outward, ft. */
const HIGHEST_FT = 30_000;
const LOWEST_FT = -1_500;
/** A zero this far below the middle of the survey, and outside its spread, is a blank. */
const BLANK_BELOW_FT = 20;
const SPREADS = 6;
const MOST_NAMED = 500;

/** Marks blanks and impossible heights in `keep`. A zero is a blank when it lies 20 ft and six spreads (median absolute deviations) from the median height. */
export function dropUnmeasured(
  ground: GroundPoints,
  keep: Uint8Array,
  forced: ReadonlySet<number>,
  notes: IntakeNotes,
): void {
  const { count, elevFt, row } = ground;
  // the middle and the spread are asked for by zeros only: a million heights are slow to sort
  const { median, spread } = elevFt.includes(0) ? middleOf(elevFt) : { median: 0, spread: 0 };
  const zeroIsBlank = Math.abs(median) > Math.max(BLANK_BELOW_FT, SPREADS * spread);
  const zeros: number[] = [];
  const absurd: number[] = [];
  for (let i = 0; i < count; i++) {
    if (!keep[i] || forced.has(row[i]!)) continue;
    const z = elevFt[i]!;
    if (z === 0 && zeroIsBlank) zeros.push(row[i]!);
    else if (z > HIGHEST_FT || z < LOWEST_FT) absurd.push(row[i]!);
    else continue;
    keep[i] = 0;
    if (notes.excluded.length < MOST_NAMED)
      notes.excluded.push({
        row: row[i]!,
        reason: z === 0 ? "elevation zero" : "elevation not on earth",
        evidence:
          z === 0
            ? `the middle elevation of the survey is ${measure(Number(median.toFixed(1)), "ft")}`
            : measure(Number(z.toFixed(1)), "ft"),
      });
  }
  if (zeros.length > 0)
    notes.warnings.push({
      code: "zero-elevations",
      message: `Elevation zero was taken for "not measured": ${rowsInWords(zeros)}.`,
      remedy: "Fill in the elevations; if zero is right, name the rows in survey.keepRows.",
      rows: zeros.slice(0, MOST_NAMED),
    });
  if (absurd.length > 0)
    notes.warnings.push({
      code: "absurd-elevations",
      message: `Elevations above ${measure(HIGHEST_FT, "ft")} or below ${measure(LOWEST_FT, "ft")} were left out: ${rowsInWords(absurd)}.`,
      remedy: "Check units and columns.",
      rows: absurd.slice(0, MOST_NAMED),
    });
}

/** Median of the heights that are not zero, and the median distance from it. */
function middleOf(elevFt: Float64Array): { median: number; spread: number } {
  const measured = elevFt.filter((z) => z !== 0).sort();
  const median = measured[measured.length >> 1] ?? 0;
  const spread = measured.map((z) => Math.abs(z - median)).sort()[measured.length >> 1] ?? 0;
  return { median, spread };
}
