/**
 * Distance from the house to steep ground above and below it.
 * IRC R403.1.7 and IBC 1808.7 (as adopted locally; distances from memory): beside slopes steeper than 1 in 3,
 * H/2 but at most 15 ft from the toe of an ascending slope, H/3 but at most 40 ft from the face of a descending one;
 * steeper than 1 in 1, measured to a plane of 45° through its top or toe.
 */
import type { Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { groundAt } from "./house-facts.js";
import type { SlopeSetback } from "./structure.js";

const STEEP = 1 / 3;
const VERTICAL_AS_45 = 1;
/** Lower faces than this are landscape, not slopes. Common practice, no source. */
const LEAST_HEIGHT_FT = 5;
const STEP_FT = 2;
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
export function slopeSetbacks(site: Site, design: SchemeDesign): SlopeSetback[] {
  const { footprint, downhill } = design;
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
      .flatMap((p) => alongRay(site, p, ray, direction) ?? [])
      .sort((a, b) => a.availableFt - a.requiredFt - (b.availableFt - b.requiredFt))
      .slice(0, 1);
  };
  return [...worst("ascending"), ...worst("descending")];
}

function alongRay(
  site: Site,
  from: Point,
  ray: Point,
  direction: SlopeSetback["direction"],
): SlopeSetback | null {
  const rise: number[] = [];
  const sign = direction === "ascending" ? 1 : -1;
  for (let d = 0; d <= LOOK_FT; d += STEP_FT) {
    const z = groundAt(site, [from[0] + ray[0] * d, from[1] + ray[1] * d]);
    if (Number.isNaN(z)) break;
    rise.push(sign * z);
  }
  const run = RUN_FT / STEP_FT;
  let start = -1;
  for (let i = 0; i + run < rise.length; i++) {
    const steep = (rise[i + run]! - rise[i]!) / RUN_FT > STEEP;
    if (steep && start < 0) start = i;
    if (start >= 0 && (!steep || i + run + 1 >= rise.length)) {
      const end = steep ? i + run : i + run - 1;
      const heightFt = rise[end]! - rise[start]!;
      if (heightFt >= LEAST_HEIGHT_FT) return setback(direction, heightFt, start * STEP_FT, end * STEP_FT);
      start = -1;
    }
  }
  return null;
}

/** Ground runs level to `startFt`, then steeply to `endFt`. */
function setback(
  direction: SlopeSetback["direction"],
  heightFt: number,
  startFt: number,
  endFt: number,
): SlopeSetback {
  const steeperThan45 = heightFt / (endFt - startFt) > VERTICAL_AS_45;
  const measuredFt = steeperThan45 ? Math.max(0, endFt - heightFt) : startFt;
  const requiredFt = direction === "ascending" ? ascendingSetbackFt(heightFt) : descendingSetbackFt(heightFt);
  return {
    direction,
    slopeHeightFt: heightFt,
    requiredFt,
    availableFt: measuredFt,
    met: measuredFt >= requiredFt,
  };
}
