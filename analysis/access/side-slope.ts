/** When the slope beside a lane gives way to a wall. */
import { CATCH_TO_EDGE, LEAST_WALL_FT } from "../earthwork/walls.js";

export function isTooLong(edgeFt: number, reachFt: number, batter: number): boolean {
  return edgeFt > LEAST_WALL_FT && reachFt > CATCH_TO_EDGE * edgeFt * batter;
}
