/** How far apart the shots are. */
import Flatbush from "flatbush";
import type { GroundPoints } from "./survey.js";

const SAMPLE = 2_000;

/** Median distance from a shot to its nearest neighbour, ft, over at most 2,000 shots. */
export function medianSpacingFt({ count, eastFt, northFt }: GroundPoints): number {
  const index = new Flatbush(count);
  for (let i = 0; i < count; i++) index.add(eastFt[i]!, northFt[i]!);
  index.finish();
  const step = Math.max(1, Math.floor(count / SAMPLE));
  const nearest: number[] = [];
  for (let i = 0; i < count; i += step) {
    const [a, b] = index.neighbors(eastFt[i]!, northFt[i]!, 2);
    const other = a === i ? b : a;
    if (other !== undefined)
      nearest.push(Math.hypot(eastFt[other]! - eastFt[i]!, northFt[other]! - northFt[i]!));
  }
  return nearest.sort((x, y) => x - y)[nearest.length >> 1] ?? 0;
}
