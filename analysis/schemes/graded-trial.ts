/** One look at a graded layout at one place: reads the ground once, finds the level, adds up money and broken limits. */
import { toYd3 } from "../units.js";
import type { FootprintShape } from "./footprints.js";
import type { Layout } from "./layout.js";
import { bestLevelFt } from "./level-search.js";
import {
  type Breach,
  type Effort,
  gradingBreaches,
  type Judge,
  type LevelChoice,
  penaltyUsd,
  type Trial,
} from "./model.js";
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
  /** Money beside earth, site walls and the drive. */
  readonly besidesUsd: (moved: Moved, levelFt: number) => number;
  readonly breaches: (moved: Moved, levelFt: number) => readonly Breach[];
  /** Floor the car must reach at a door. */
  readonly doorFloorFt: (levelFt: number, part: "house" | "garage") => number;
}

export function tryGraded(judge: Judge, effort: Effort, c: GradedCase, at: LevelChoice): Trial | null {
  const { sketch, prices } = judge;
  if (!sketch.read(c.place, c.layout, effort)) return null;
  const look = (levelFt: number) => {
    const moved = sketch.measure(levelFt, effort.exact);
    const drive = judge.drive.best(c.place, c.shape, (door) => c.doorFloorFt(levelFt, door.part));
    const costUsd =
      earthUsd(moved, prices) + siteWallUsd(moved, prices) + c.besidesUsd(moved, levelFt) + (drive?.usd ?? 0);
    const breaches = [...gradingBreaches(moved, c.layout, judge.request), ...c.breaches(moved, levelFt)];
    if (drive === null) breaches.push({ code: "no-drive", measured: 0, limit: 0 });
    return { drive, costUsd, breaches, scoreUsd: costUsd + penaltyUsd(breaches) };
  };
  const levelFt = levelFor(at, sketch, effort, (z) => look(z).scoreUsd);
  const { place, shape, layout, stepFt } = c;
  const found = look(levelFt);
  const { exportLooseYd3 } = balance(toYd3(sketch.moved.cutFt3), toYd3(sketch.moved.fillFt3), prices);
  return { place, shape, layout, levelFt, stepFt, meanGroundFt: sketch.meanFt, exportLooseYd3, ...found };
}

function levelFor(
  at: LevelChoice,
  {
    lowestFt,
    highestFt,
    meanFt,
  }: { readonly lowestFt: number; readonly highestFt: number; readonly meanFt: number },
  effort: Effort,
  score: (levelFt: number) => number,
): number {
  switch (at.how) {
    case "set":
      return at.levelFt;
    case "carry":
      return at.like.levelFt + meanFt - at.like.meanGroundFt;
    case "near": {
      const middle = at.like.levelFt + meanFt - at.like.meanGroundFt;
      return bestLevelFt(middle - NEAR_FT, middle + NEAR_FT, NEAR_LOOKS, effort.levelToFt, score);
    }
    case "search":
      return bestLevelFt(lowestFt, highestFt, effort.levelLooks, effort.levelToFt, score);
  }
}
