/** Finishing a lane: which entry is near, where straight on meets the street, how an entry is met squarely. */
import type { StreetEntry } from "./access.js";
import { MOST_SKEW_DEG } from "./drive-rules.js";
import type { Bearing } from "./shortest-curve.js";

const SQUARE_ENOUGH = Math.cos((MOST_SKEW_DEG * Math.PI) / 180);
const PARALLEL = 1e-9;

export function nearestEntryIndex(entries: readonly StreetEntry[], x: number, y: number): number {
  let nearest = 0;
  let least = Infinity;
  for (let i = 0; i < entries.length; i++) {
    const { at } = entries[i]!;
    const d2 = (at[0] - x) ** 2 + (at[1] - y) ** 2;
    if (d2 >= least) continue;
    least = d2;
    nearest = i;
  }
  return nearest;
}

/** On the street line at an entry, square to it, looking out of the lot. */
export function leavingBy({ at, inward }: StreetEntry): Bearing {
  return { x: at[0], y: at[1], ahead: -inward[0], up: -inward[1] };
}

/** Straight on to the street line between two entries, if it is met squarely enough. */
export function straightOut(
  entries: readonly StreetEntry[],
  { x, y, ahead: dx, up: dy }: Bearing,
): { readonly lengthFt: number; readonly entry: StreetEntry } | null {
  for (let i = 0; i + 1 < entries.length; i++) {
    const a = entries[i]!;
    const b = entries[i + 1]!;
    if (-dx * a.inward[0] - dy * a.inward[1] < SQUARE_ENOUGH) continue;
    const ex = b.at[0] - a.at[0];
    const ey = b.at[1] - a.at[1];
    const cross = dx * ey - dy * ex;
    if (Math.abs(cross) < PARALLEL) continue;
    const lengthFt = ((a.at[0] - x) * ey - (a.at[1] - y) * ex) / cross;
    const share = ((a.at[0] - x) * dy - (a.at[1] - y) * dx) / cross;
    if (!(lengthFt > 0 && share >= 0 && share <= 1)) continue;
    const elevFt = a.elevFt + share * (b.elevFt - a.elevFt);
    return { lengthFt, entry: { at: [x + lengthFt * dx, y + lengthFt * dy], inward: a.inward, elevFt } };
  }
  return null;
}
