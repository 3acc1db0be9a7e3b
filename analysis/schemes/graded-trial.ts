/** One look at a graded layout at one place: reads the ground once, finds the level, adds up money and broken limits. */
import { toYd3 } from "../units.js";
import type { DoorFloor } from "./drive-cost.js";
import type { FootprintShape } from "./footprints.js";
import type { Layout } from "./layout.js";
import { bestLevelFt } from "./level-search.js";
import type { Limits } from "./limits.js";
import { checkGrading, type Effort, type Judge, type LevelChoice, type Trial } from "./model.js";
import { balance, earthUsd, siteWallUsd } from "./site-cost.js";
import type { Moved, Place } from "./sketch.js";

/** How far from a known good level a narrowed search looks. */
const NEAR_FT = 1;
const NEAR_LOOKS = 5;

export interface GradedCase {
  readonly place: Place;
  readonly shape: FootprintShape;
  readonly layout: Layout;
  readonly stepFt: number;
  /** Ground the level follows when the scheme moves; the mean under the layout when not said. */
  readonly followsFt?: number;
  /** Money beside earth, site walls and the drive. */
  readonly besidesUsd: (moved: Moved, levelFt: number) => number;
  readonly check: (moved: Moved, levelFt: number, limits: Limits) => void;
  /** Floor the car must reach at a door. */
  readonly doorFloorFt: DoorFloor;
}

export function tryGraded(judge: Judge, effort: Effort, c: GradedCase, at: LevelChoice): Trial | null {
  const { sketch, prices } = judge;
  if (!sketch.read(c.place, c.layout, effort)) return null;
  const followedFt = c.followsFt ?? sketch.meanFt;
  const aboutFt = at.how === "search" ? followedFt : at.like.levelFt + followedFt - at.like.followedFt;
  const approaches = judge.drive.approaches(c.place, c.shape, c.doorFloorFt, aboutFt);
  const { limits } = judge;
  let costUsd = 0;
  const score = (levelFt: number): number => {
    const moved = sketch.measure(levelFt, effort.exact);
    const driveUsd = judge.drive.leastUsd(approaches, c.shape, c.doorFloorFt, levelFt);
    limits.reset();
    checkGrading(moved, c.layout, judge.request, limits);
    c.check(moved, levelFt, limits);
    if (driveUsd === Infinity) limits.breaks("no-drive", 0, 0);
    costUsd = earthUsd(moved, prices) + siteWallUsd(moved, prices) + c.besidesUsd(moved, levelFt);
    if (driveUsd < Infinity) costUsd += driveUsd;
    return costUsd + limits.penaltyUsd;
  };
  const levelFt = levelFor(at, sketch, followedFt, effort, score);
  const scoreUsd = score(levelFt);
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
    doorIndex: judge.drive.bestDoor(approaches, shape, c.doorFloorFt, levelFt),
  };
}

function levelFor(
  at: LevelChoice,
  { lowestFt, highestFt }: { readonly lowestFt: number; readonly highestFt: number },
  followedFt: number,
  effort: Effort,
  score: (levelFt: number) => number,
): number {
  switch (at.how) {
    case "set":
      return at.levelFt;
    case "carry":
      return at.like.levelFt + followedFt - at.like.followedFt;
    case "near": {
      const middle = at.like.levelFt + followedFt - at.like.followedFt;
      return bestLevelFt(middle - NEAR_FT, middle + NEAR_FT, NEAR_LOOKS, effort.levelToFt, score);
    }
    case "search":
      return bestLevelFt(lowestFt, highestFt, effort.levelLooks, effort.levelToFt, score);
  }
}
