/** What a foot of lane costs beside its paving: the bench it needs across the slope, in feet of plain lane. */

import { DEEPEST_FT } from "./drive-rules.js";
import type { Bed } from "./lane-sections.js";
import { isTooLong } from "./side-slope.js";

/** A square foot of cut or fill section, and a foot of wall height, against a foot of plain paved lane; from the order of magnitude of 60 USD/yd³ hauled, 110 USD/ft² of a 6 ft wall and 230 USD a foot of lane. From memory. */
const PER_SECTION_FT2 = 0.01;
const PER_WALL_FT = 0.2;
/** Walls grow dearer with height. */
const PER_WALL_FT_SQUARED = 0.05;

/** A wall over the height the rules allow is no way up: nearly any detour is shorter. Judgement. */
const PER_WALL_FT_OVER_RULE = 4;

/**
 * Cost of a foot of lane over that of plain lane on the flat. The ground is taken as a plane that falls sideways by
 * `sideGrade`, the middle of the lane `depthFt` above (negative: below) it; side slopes run at their batters, or walls stand.
 */
export function benchCost(
  depthFt: number,
  sideGrade: number,
  { halfBedFt: h, cutBatter, fillBatter, tallestWallFt }: Bed,
): number {
  const s = Math.abs(sideGrade);
  const high = depthFt + s * h; // fill at the downhill edge
  const low = depthFt - s * h; // at the uphill edge, negative in cut
  let sectionFt2 = 0;
  if (low >= 0 || high <= 0) sectionFt2 = 2 * h * Math.abs(depthFt);
  else sectionFt2 = (high * high + low * low) / (2 * s);
  let cost = PER_SECTION_FT2 * sectionFt2;
  if (high > 0) cost += sideCost(high, s, fillBatter, tallestWallFt);
  if (low > 0) cost += sideCost(low, -s, fillBatter, tallestWallFt);
  if (low < 0) cost += sideCost(-low, s, cutBatter, tallestWallFt);
  if (high < 0) cost += sideCost(-high, -s, cutBatter, tallestWallFt);
  return cost;
}

/** A side slope from an edge of the given height over ground that runs away from it at `grade`, or a wall. */
function sideCost(edgeFt: number, grade: number, batter: number, tallestWallFt: number): number {
  const closing = 1 / batter - grade;
  const reachFt = closing > 0 ? edgeFt / closing : Infinity;
  return isTooLong(edgeFt, reachFt, batter)
    ? edgeFt * (PER_WALL_FT + PER_WALL_FT_SQUARED * edgeFt) +
        PER_WALL_FT_OVER_RULE * Math.max(0, edgeFt - tallestWallFt)
    : (PER_SECTION_FT2 * edgeFt * reachFt) / 2;
}

const DEPTH_STEP_FT = 0.25;
const SIDE_STEP = 0.02;
const STEEPEST_SIDE = 1.5;
/** Steps of depth to either side of none, and steps of side slope. */
const DEPTHS = Math.ceil(DEEPEST_FT / DEPTH_STEP_FT) + 1;
const SIDES = Math.round(STEEPEST_SIDE / SIDE_STEP) + 1;

/** `benchCost` for one kind of bed, rounded to steps of depth and side slope and remembered: searches ask for little else. */
export class BenchCosts {
  readonly #bed: Bed;
  readonly #known: Float64Array;

  constructor(bed: Bed) {
    this.#bed = bed;
    this.#known = new Float64Array((2 * DEPTHS + 1) * SIDES).fill(-1);
  }

  /** Per foot of lane, for depths up to `DEEPEST_FT`. */
  at(depthFt: number, sideGrade: number): number {
    // both are positive: cutting off a half more rounds
    const depth = (depthFt / DEPTH_STEP_FT + DEPTHS + 0.5) | 0;
    const side = Math.min(SIDES - 1, (Math.abs(sideGrade) / SIDE_STEP + 0.5) | 0);
    const i = depth * SIDES + side;
    const known = this.#known[i]!;
    if (known >= 0) return known;
    const cost = benchCost((depth - DEPTHS) * DEPTH_STEP_FT, side * SIDE_STEP, this.#bed);
    this.#known[i] = cost;
    return cost;
  }
}
