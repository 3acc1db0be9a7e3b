/**
 * Distance from the house to steep ground above and below it.
 * IRC R403.1.7 and IBC 1808.7 (as adopted locally; distances from memory): beside slopes steeper than 1 in 3,
 * H/2 but at most 15 ft from the toe of an ascending slope, H/3 but at most 40 ft from the face of a descending one.
 * Where a slope is steeper than 1 in 1, a plane of 45° through its top (above the house) or its toe (below the house)
 * stands for it. Both readings are taken and the one that asks for more room governs.
 */
import type { Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { GroundWalk } from "./ground-walk.js";
import type { SlopeSetback } from "./structure.js";

const STEEP = 1 / 3;
/** Lower faces than this are landscape, not slopes. Common practice, no source. */
const LEAST_HEIGHT_FT = 5;
const STEP_FT = 1;
/** Steepness is read over this run, so that one odd shot makes no slope. */
const RUN_FT = 10;
const LOOK_FT = 160;

export function ascendingSetbackFt(heightFt: number): number {
  return Math.min(heightFt / 2, 15);
}

export function descendingSetbackFt(heightFt: number): number {
  return Math.min(heightFt / 3, 40);
}

/** The least generous slope in each direction, over rays from the corners and the middles of the faces. */
export function slopeSetbacks({ terrain }: Site, { footprint, downhill }: SchemeDesign): SlopeSetback[] {
  const ground = new GroundWalk(terrain.tin);
  const starts = footprint.flatMap((corner, i): Point[] => {
    const next = footprint[(i + 1) % footprint.length]!;
    return [corner, [(corner[0] + next[0]) / 2, (corner[1] + next[1]) / 2]];
  });
  const worst = (direction: SlopeSetback["direction"]): SlopeSetback[] => {
    const sign = direction === "ascending" ? -1 : 1;
    const ray: Point = [sign * downhill[0], sign * downhill[1]];
    // only faces that look that way: a ray must not run through the house
    const middle = starts.reduce((sum, p) => sum + p[0] * ray[0] + p[1] * ray[1], 0) / starts.length;
    return starts
      .filter((p) => p[0] * ray[0] + p[1] * ray[1] >= middle)
      .flatMap((p) => slopesAlong(riseAlong(ground, p, ray, -sign), direction))
      .sort((a, b) => a.availableFt - a.requiredFt - (b.availableFt - b.requiredFt))
      .slice(0, 1);
  };
  return [...worst("ascending"), ...worst("descending")];
}

/** Ground every foot outward, counted upward for a slope above and downward for one below; ends where the survey does. */
function riseAlong(ground: GroundWalk, from: Point, ray: Point, sign: number): number[] {
  const rise: number[] = [];
  for (let d = 0; d <= LOOK_FT; d += STEP_FT) {
    const z = ground.heightAt([from[0] + ray[0] * d, from[1] + ray[1] * d]);
    if (Number.isNaN(z)) break;
    rise.push(sign * z);
  }
  return rise;
}

/**
 * The slopes along a ray, from heights every foot: stretches steeper than 1 in 3 over any 10 ft, cut back at both ends
 * to where the ground itself is that steep.
 */
export function slopesAlong(rise: readonly number[], direction: SlopeSetback["direction"]): SlopeSetback[] {
  const run = RUN_FT / STEP_FT;
  const isSteep = (i: number, steps: number) =>
    i + steps < rise.length && rise[i + steps]! - rise[i]! > STEEP * steps * STEP_FT;
  const slopes: SlopeSetback[] = [];
  for (let i = 0; i + run < rise.length; i++) {
    if (!isSteep(i, run)) continue;
    let start = i;
    while (isSteep(i + 1, run)) i++;
    let end = i + run;
    while (!isSteep(start, 1)) start++;
    while (!isSteep(end - 1, 1)) end--;
    if (rise[end]! - rise[start]! >= LEAST_HEIGHT_FT) slopes.push(setback(rise, start, end, direction));
  }
  return slopes;
}

/** Distances are counted from the wall outward, level to the slope's near end. */
function setback(
  rise: readonly number[],
  start: number,
  end: number,
  direction: SlopeSetback["direction"],
): SlopeSetback {
  const heightFt = rise[end]! - rise[start]!;
  // a 45° plane that leaves the whole slope behind it; its foot is the slope's own where nothing is steeper than 1 in 1
  let measuredFt = Infinity;
  for (let i = start; i <= end; i++)
    measuredFt = Math.min(measuredFt, i * STEP_FT - (rise[i]! - rise[start]!));
  const requiredFt = direction === "ascending" ? ascendingSetbackFt(heightFt) : descendingSetbackFt(heightFt);
  const availableFt = Math.max(0, measuredFt);
  return { direction, slopeHeightFt: heightFt, requiredFt, availableFt, met: availableFt >= requiredFt };
}
