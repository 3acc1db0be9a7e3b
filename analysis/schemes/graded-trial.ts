/** One look at a graded layout at one place: reads the ground once, finds the level, adds up money and broken limits. */
import { toYd3 } from "../units.js";
import type { DoorFloor } from "./drive-cost.js";
import type { FootprintShape } from "./footprints.js";
import type { Layout } from "./layout.js";
import { bestLevelFt, type ScoredLevel } from "./level-search.js";
import type { Limits } from "./limits.js";
import { checkGrading, type Effort, type Judge, type LevelChoice, type Trial } from "./model.js";
import type { Moved } from "./moved.js";
import type { Place } from "./place.js";
import { balance, earthUsd, siteWallUsd } from "./site-cost.js";

/** How far from a known good level a narrowed search looks. */
const NEAR_FT = 1;
const NEAR_LOOKS = 5;
/** A carried level this close to a brink is tried at the brink as well, and how far below a brink is safe from rounding. */
const BRINK_NEAR_FT = 0.7;
const BELOW_BRINK_FT = 1e-6;

export interface GradedCase {
  readonly place: Place;
  readonly shape: FootprintShape;
  readonly layout: Layout;
  readonly stepFt: number;
  /** Level above which something dear is asked for at once (piers, a broken limit): looked at beside the others. */
  readonly brinkFt?: number;
  /** Ground the level follows when the scheme moves; the mean under the layout when not said. */
  readonly followsFt?: number;
  /** Money beside earth, site walls and the drive. */
  readonly besidesUsd: (moved: Moved, levelFt: number) => number;
  readonly check: (moved: Moved, levelFt: number, limits: Limits) => void;
  /** Floor the car must reach at a door. */
  readonly doorFloorFt: DoorFloor;
}

/** Null where the ground is not surveyed, or where the score cannot come below the limit of a search. */
export function tryGraded(judge: Judge, effort: Effort, c: GradedCase, at: LevelChoice): Trial | null {
  const { sketch, prices } = judge;
  if (!sketch.read(c.place, c.layout, effort)) return null;
  // a corner of the house may stand beside ground nobody surveyed although the samples under it do not
  const unknown = c.followsFt !== undefined && Number.isNaN(c.followsFt);
  if (unknown && !effort.lenient) return null;
  const followedFt = unknown ? sketch.meanFt : (c.followsFt ?? sketch.meanFt);
  // a corner of the house stands beside ground nobody surveyed
  if (Number.isNaN(followedFt)) return null;
  const { drive, limits } = judge;
  const approaches = drive.approaches(c.place, c.shape);
  let costUsd = 0;
  const score = (levelFt: number, walked: boolean): number => {
    const moved = sketch.measure(levelFt, effort.exact);
    const driveUsd = drive.leastUsd(approaches, c.doorFloorFt, levelFt, walked);
    limits.reset();
    checkGrading(moved, c.layout, judge.request, limits);
    c.check(moved, levelFt, limits);
    if (driveUsd === Infinity) limits.breaks("no-drive", 0, 0);
    costUsd = earthUsd(moved, prices) + siteWallUsd(moved, prices) + c.besidesUsd(moved, levelFt);
    if (driveUsd < Infinity) costUsd += driveUsd;
    return costUsd + limits.penaltyUsd;
  };
  const giveUpUsd = at.how === "search" ? (at.giveUpUsd ?? Infinity) : Infinity;
  const chosen = levelFor(at, sketch, followedFt, c.brinkFt, effort, (z) => score(z, true));
  if (chosen.score > giveUpUsd) return null;
  const { levelFt } = chosen;
  const scoreUsd = score(levelFt, false);
  const { place, shape, layout, stepFt } = c;
  const { cutFt3, fillFt3 } = sketch.moved;
  return {
    place,
    shape,
    layout,
    levelFt,
    stepFt,
    followedFt,
    exportLooseYd3: balance(toYd3(cutFt3), toYd3(fillFt3), prices).exportLooseYd3,
    costUsd,
    scoreUsd,
    breaches: limits.breaches,
    doorIndex: drive.bestDoor(approaches, c.doorFloorFt, levelFt),
  };
}

function levelFor(
  at: LevelChoice,
  { lowestFt, highestFt }: { readonly lowestFt: number; readonly highestFt: number },
  followedFt: number,
  brinkFt: number | undefined,
  effort: Effort,
  score: (levelFt: number) => number,
): ScoredLevel {
  // a level that is given costs no look: it is scored once, at the end
  if (at.how === "set") return { levelFt: at.levelFt, score: -Infinity };
  const brink = brinkFt === undefined ? NaN : brinkFt - BELOW_BRINK_FT;
  if (at.how === "search")
    return orBrink(
      bestLevelFt(lowestFt, highestFt, effort.levelLooks, effort.levelToFt, score, at.giveUpUsd),
      brink,
      score,
    );
  const middle = at.like.levelFt + followedFt - at.like.followedFt;
  if (at.how === "near")
    return orBrink(
      bestLevelFt(middle - NEAR_FT, middle + NEAR_FT, NEAR_LOOKS, effort.levelToFt, score),
      brink,
      score,
    );
  if (Math.abs(middle - brink) < BRINK_NEAR_FT)
    return orBrink({ levelFt: middle, score: score(middle) }, brink, score);
  return { levelFt: middle, score: -Infinity };
}

function orBrink(best: ScoredLevel, brinkFt: number, score: (levelFt: number) => number): ScoredLevel {
  if (!Number.isFinite(brinkFt)) return best;
  const atBrink = score(brinkFt);
  return atBrink < best.score ? { levelFt: brinkFt, score: atBrink } : best;
}
