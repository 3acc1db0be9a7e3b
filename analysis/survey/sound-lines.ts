/** Break lines that cannot be of this ground: their corners are no shots, and so were not looked at with the shots. */
import type { Ring } from "../geometry/plane.js";
import { measure } from "../measure.js";
import type { Breakline } from "./breaklines.js";
import type { IntakeNotes } from "./notes.js";
import { farFromLot, isWithin } from "./reach.js";
import type { GroundPoints } from "./survey.js";

/** Heights that lie beyond the lowest or highest shot by more than this and by more than the shots' whole relief are of other ground, in another unit, or were never filled in. */
const BEYOND_FT = 50;

/** The lines without those that run far from the lot or far above or below all its shots; each kind left out is told. */
export function soundLines(
  lines: readonly Breakline[],
  ground: GroundPoints,
  boundary: Ring,
  notes: IntakeNotes,
): Breakline[] {
  if (lines.length === 0) return [];
  const { farFt, within } = farFromLot(boundary);
  const near = lines.filter((line) => line.every(([east, north]) => isWithin(within, east, north)));
  if (near.length < lines.length)
    notes.warnings.push({
      code: "breaklines-far",
      message: `Break lines that run more than ${measure(Math.round(farFt), "ft")} from the lot were left out: ${lines.length - near.length} of ${lines.length}.`,
      remedy: "Check the coordinates of their corners, which must be the survey's.",
    });
  let [low, high] = [Infinity, -Infinity];
  for (let i = 0; i < ground.count; i++) {
    low = Math.min(low, ground.elevFt[i]!);
    high = Math.max(high, ground.elevFt[i]!);
  }
  const beyondFt = Math.max(BEYOND_FT, high - low);
  const sound = near.filter((line) => line.every(([, , z]) => z >= low - beyondFt && z <= high + beyondFt));
  if (sound.length < near.length)
    notes.warnings.push({
      code: "breaklines-off-ground",
      message: `Break lines more than ${measure(Math.round(beyondFt), "ft")} above or below all shots were left out: ${near.length - sound.length} of ${lines.length}. The shots lie between ${measure([low, high], "ft", 0.1)}.`,
      remedy: "Give each corner its elevation in the unit of the shots' elevations.",
    });
  return sound;
}
