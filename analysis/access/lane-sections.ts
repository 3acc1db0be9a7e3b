/** Cross-sections of a lane: what is cut, filled and held at a station. Method: docs/methods/access.md */

import { LEAST_WALL_FT } from "../earthwork/walls.js";
import type { DriveRules } from "./drive-rules.js";
import type { Station } from "./lane-path.js";
import { isTooLong } from "./side-slope.js";

/** Spacing of the ground read across a section. */
const ACROSS_FT = 1;
/** Side slopes longer than this do not exist beside a lane. */
const LONGEST_SIDE_FT = 40;

/** How the bed and its side slopes are shaped. */
export type Bed = Pick<DriveRules, "halfBedFt" | "cutBatter" | "fillBatter" | "tallestWallFt">;

export interface Section {
  readonly cutFt2: number;
  readonly fillFt2: number;
  /** Heights of walls at the edges, 0 where a slope or a curb does. */
  readonly wallsFt: readonly [left: number, right: number];
}

export interface SectionGround {
  /** Finished ground, NaN where there is none. */
  readonly at: (eastFt: number, northFt: number) => number;
  /** Whether ground may be shaped there: on the lot and known. */
  readonly mayGrade: (eastFt: number, northFt: number) => boolean;
}

/**
 * Cut and fill areas between ground and a level bed, each counted apart, with side slopes at the batters out to where
 * they meet the ground; where a slope would run too far, off the lot or onto unknown ground, a vertical wall stands at
 * the edge instead. Ground is read every foot and taken straight between.
 */
export function sectionAt(
  { at: [x, y], heading }: Station,
  bedFt: number,
  ground: SectionGround,
  rules: Bed,
): Section {
  const east = -Math.sin(heading); // to the left
  const north = Math.cos(heading);
  const over = (offset: number) => ground.at(x + offset * east, y + offset * north) - bedFt;
  const { halfBedFt } = rules;
  const sums: Sums = { cutFt2: 0, fillFt2: 0 };
  const steps = Math.ceil((2 * halfBedFt) / ACROSS_FT);
  const stepFt = (2 * halfBedFt) / steps;
  let before = over(-halfBedFt);
  for (let k = 1; k <= steps; k++) {
    const next = over(-halfBedFt + k * stepFt);
    addStrip(sums, before, next, stepFt);
    before = next;
  }
  const side = (sign: 1 | -1): number => {
    const edge = over(sign * halfBedFt);
    if (Number.isNaN(edge) || edge === 0) return 0;
    const batter = edge > 0 ? rules.cutBatter : rules.fillBatter;
    const slope = Math.sign(edge) / batter;
    const trial: Sums = { cutFt2: 0, fillFt2: 0 };
    let last = edge;
    for (let t = ACROSS_FT; t <= LONGEST_SIDE_FT; t += ACROSS_FT) {
      const offset = sign * (halfBedFt + t);
      const px = x + offset * east;
      const py = y + offset * north;
      if (!ground.mayGrade(px, py) || isTooLong(Math.abs(edge), t, batter))
        return Math.abs(edge) < LEAST_WALL_FT ? 0 : Math.abs(edge);
      const here = over(offset);
      if (Number.isNaN(here)) break; // the house wall holds it
      const open = here - slope * t;
      if (open * edge <= 0) {
        addStrip(trial, last, 0, (ACROSS_FT * last) / (last - open));
        break;
      }
      addStrip(trial, last, open, ACROSS_FT);
      last = open;
    }
    sums.cutFt2 += trial.cutFt2;
    sums.fillFt2 += trial.fillFt2;
    return 0;
  };
  const left = side(1);
  const right = side(-1);
  return { ...sums, wallsFt: [left, right] };
}

interface Sums {
  cutFt2: number;
  fillFt2: number;
}

/** A strip whose ground lies `a` over the design at one end and `b` at the other; unknown ends count nothing. */
function addStrip(sums: Sums, a: number, b: number, widthFt: number): void {
  if (Number.isNaN(a) || Number.isNaN(b)) return;
  if (a >= 0 && b >= 0) sums.cutFt2 += (widthFt * (a + b)) / 2;
  else if (a <= 0 && b <= 0) sums.fillFt2 -= (widthFt * (a + b)) / 2;
  else {
    const positive = Math.max(a, b);
    const negative = Math.min(a, b);
    const share = positive / (positive - negative);
    sums.cutFt2 += (widthFt * share * positive) / 2;
    sums.fillFt2 -= (widthFt * (1 - share) * negative) / 2;
  }
}
