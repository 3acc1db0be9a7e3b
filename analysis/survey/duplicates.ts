/** Shots in one place: repeats are dropped, disagreements are told. */
import type { IntakeNotes } from "./notes.js";
import { rowsInWords } from "./notes.js";
import type { GroundPoints } from "./survey.js";

/** Shots nearer than this are one place: closer neighbours only make slivers. */
const SAME_PLACE_FT = 0.02;
/** Heights at one place that differ by no more than this agree. */
const SAME_HEIGHT_FT = 0.05;
const MOST_NAMED = 500;

/**
 * Marks repeats in `keep` (set to 0). The shot with the lower row stays. A repeat with another height is a conflict:
 * listed with both rows and both heights.
 * @returns the rows of exact repeats, which say nothing new.
 */
export function dropDuplicates(
  ground: GroundPoints,
  keep: Uint8Array,
  forced: ReadonlySet<number>,
  notes: IntakeNotes,
): ReadonlySet<number> {
  const { count, eastFt, northFt, elevFt, row } = ground;
  const order = new Uint32Array(count);
  for (let i = 0; i < count; i++) order[i] = i;
  order.sort((a, b) => eastFt[a]! - eastFt[b]! || row[a]! - row[b]!);
  const conflicts: number[] = [];
  const repeats = new Set<number>();
  for (let p = 0; p < count; p++) {
    const a = order[p]!;
    if (!keep[a]) continue;
    for (let q = p + 1; q < count; q++) {
      const b = order[q]!;
      if (eastFt[b]! - eastFt[a]! > SAME_PLACE_FT) break;
      if (!keep[b] || Math.abs(northFt[b]! - northFt[a]!) > SAME_PLACE_FT) continue;
      const [first, second] = row[a]! <= row[b]! !== forced.has(row[b]!) ? [a, b] : [b, a];
      keep[second] = 0;
      const apart = Math.abs(elevFt[second]! - elevFt[first]!);
      const conflict = apart > SAME_HEIGHT_FT;
      if (conflict) conflicts.push(row[first]!, row[second]!);
      else repeats.add(row[second]!);
      if (notes.excluded.length < MOST_NAMED)
        notes.excluded.push({
          row: row[second]!,
          reason: conflict ? "same place, another elevation" : "duplicate",
          evidence: conflict
            ? `row ${row[first]} has ${elevFt[first]!.toFixed(2)} ft here, row ${row[second]} has ${elevFt[second]!.toFixed(2)} ft; row ${row[first]} is used`
            : `same place and height as row ${row[first]}`,
        });
      if (second === a) break;
    }
  }
  if (repeats.size > 0)
    notes.warnings.push({
      code: "duplicates-dropped",
      message: `${repeats.size} ${repeats.size === 1 ? "shot repeats" : "shots repeat"} an earlier one and ${repeats.size === 1 ? "was" : "were"} dropped.`,
      remedy: "Nothing to do.",
    });
  if (conflicts.length > 0) {
    const rows = conflicts.sort((a, b) => a - b);
    notes.warnings.push({
      code: "duplicate-conflict",
      message: `Shots at one place have different elevations: ${rowsInWords(rows)}. The earlier of each pair is used.`,
      remedy:
        "Ask which one is right, and delete or correct the other; survey.keepRows names the row to use.",
      rows: rows.slice(0, MOST_NAMED),
    });
  }
  return repeats;
}
