/** When the slope beside a lane gives way to a wall. */

/** A slope that would meet the ground more than this many edge heights up (or down) is a scar: a wall stands instead. Judgement, common practice. */
const CATCH_TO_EDGE = 2;
/** Lower edges are rolled over by hand. Judgement. */
const LEAST_WALL_FT = 0.5;

export function isTooLong(edgeFt: number, reachFt: number, batter: number): boolean {
  return edgeFt > LEAST_WALL_FT && reachFt > CATCH_TO_EDGE * edgeFt * batter;
}
