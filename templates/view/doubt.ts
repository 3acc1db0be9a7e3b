/** Amounts told with care: how far one may be off, and the greater where two stages look at the same thing. */
import type { SchemeResult } from "../../analysis/study/result.js";

/** Least doubt a volume is printed with: one sigma of the survey, never under five cubic yards. */
export function volumeDoubtYd3({ earthwork }: SchemeResult): number {
  return Math.max(5, earthwork.uncertaintyYd3);
}

/** Most earth against a basement wall: of the ground itself, or of a garage pad built up beside the wall. */
export function basementHoldsFt({ basement, walls }: SchemeResult): number {
  const beside = walls.filter((wall) => wall.kind === "basement").map((wall) => wall.retainedFt);
  return Math.max(basement?.maxRetainedFt ?? 0, ...beside);
}
