/** How far a printed amount may be off. */
import type { SchemeResult } from "../../analysis/study/result.js";

/** Least doubt a volume is printed with: one sigma of the survey, never under five cubic yards. */
export function volumeDoubtYd3({ earthwork }: SchemeResult): number {
  return Math.max(5, earthwork.uncertaintyYd3);
}
