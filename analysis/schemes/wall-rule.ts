/** When a slope beside graded ground gives way to a wall, and what a wall of a height is called in the cost book. */

import { CATCH_TO_EDGE } from "../earthwork/walls.js";

export { CATCH_TO_EDGE, LEAST_WALL_FT } from "../earthwork/walls.js";

/** The exact design comes out a little taller than the stations it was sought with; less than a survey can tell. */
export const WALL_ROUNDING_FT = 0.3;
/** Upper ends of the height classes walls are priced in; taller walls have no price of their own. */
export const WALL_CLASSES_FT = [4, 6, 8, 10, 12] as const;
export const WALL_CODES = ["WALL-4", "WALL-6", "WALL-8", "WALL-10", "WALL-12", "WALL-12"] as const;
/** Sloping ground or a drive above a wall, all classes. From memory, order of magnitude. */
export const LOADED_WALL_FACTOR = 1.25;

/** True when the slope would meet the ground more than CATCH_TO_EDGE edge heights up: reach ÷ batter is that catch height. */
export function isHeldByWall(edgeHeightFt: number, reachFt: number, batter: number): boolean {
  return reachFt > CATCH_TO_EDGE * edgeHeightFt * batter;
}

/** Index into WALL_CLASSES_FT; its length for anything taller. */
export function wallClass(heightFt: number): number {
  for (let i = 0; i < WALL_CLASSES_FT.length; i++) if (heightFt <= WALL_CLASSES_FT[i]!) return i;
  return WALL_CLASSES_FT.length;
}
