/** How far apart the shots are. */
import { findNearest, roomForNearest, type ShotGrid } from "./shot-grid.js";
import type { GroundPoints } from "./survey.js";

const SAMPLE = 2_000;

/** Median distance from a shot to its nearest neighbour, ft, over about 2,000 kept shots, every nth as listed. */
export function medianSpacingFt(
  ground: GroundPoints,
  grid: ShotGrid,
  keep: Uint8Array,
  listedAs: Uint32Array,
): number {
  const nearest = roomForNearest(1);
  const step = Math.max(1, Math.floor(ground.count / SAMPLE));
  const spacings: number[] = [];
  for (let i = 0; i < ground.count; i++) {
    if (listedAs[i]! % step !== 0 || !keep[i]) continue;
    findNearest(grid, ground, keep, i, nearest);
    if (nearest.count > 0) spacings.push(Math.sqrt(nearest.distance2[0]!));
  }
  return Float64Array.from(spacings).sort()[spacings.length >> 1] ?? 0;
}
