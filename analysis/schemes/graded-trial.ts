/** One look at a graded layout at one place: reads the ground once, finds the level, adds up money and broken limits. */
import { toYd3 } from "../units.js";
import type { Approaches, DoorFloors } from "./drive-cost.js";
import type { FootprintShape } from "./footprints.js";
import type { Layout } from "./layout.js";
import { bestLevelFt, type LevelScore, type ScoredLevel } from "./level-search.js";
import type { Limits } from "./limits.js";
import { checkGrading, type Effort, type Judge, type LevelChoice, type Trial } from "./model.js";
import type { Moved } from "./moved.js";
import type { Place } from "./place.js";
import { balance, earthUsd, siteWallUsd } from "./site-cost.js";

/** How far from a known good level a narrowed search looks. */
const NEAR_FT = 1;
const NEAR_LOOKS = 5;
/** How far below a brink is clear of rounding. */
const BELOW_BRINK_FT = 1e-6;
/** Nearer to the brink than this a trial moves along it. */
const AT_BRINK_FT = 0.01;

/** What a kind of scheme says of itself at one place. */
export interface GradedCase extends DoorFloors {
  readonly place: Place;
  readonly shape: FootprintShape;
  readonly layout: Layout;
  readonly stepFt: number;
  /** Level above which something dear is asked for at once (piers, a broken limit): looked at beside the others. Asked once the ground is read. */
  brinkFt?(): number;
  /** Levels worth looking at, no higher than the brink; from the lowest to the highest ground under the layout when not said. */
  readonly rangeFt?: readonly [lowFt: number, highFt: number];
  /** Ground the level follows when the scheme moves; the mean under the layout when not said. */
  readonly followsFt?: number;
  /** Money beside earth, site walls and the drive. */
  besidesUsd(moved: Moved, levelFt: number): number;
  check(moved: Moved, levelFt: number, limits: Limits): void;
}

/** Where a case stands and what it is judged by. */
export class CaseAt {
  readonly judge: Judge;
  readonly place: Place;
  readonly shape: FootprintShape;
  readonly layout: Layout;
  readonly stepFt: number;

  constructor(judge: Judge, place: Place, shape: FootprintShape, layout: Layout, stepFt = 0) {
    this.judge = judge;
    this.place = place;
    this.shape = shape;
    this.layout = layout;
    this.stepFt = stepFt;
  }
}

/** Scores the levels of one case on the ground that the sketch has read. */
class Levels implements LevelScore {
  readonly #judge: Judge;
  readonly #exact: boolean;
  readonly #case: GradedCase;
  readonly #approaches: Approaches;
  /** Of the level measured last: money without the drive. */
  groundUsd = 0;
  measuredFt = NaN;

  constructor(judge: Judge, exact: boolean, c: GradedCase, approaches: Approaches) {
    this.#judge = judge;
    this.#exact = exact;
    this.#case = c;
    this.#approaches = approaches;
  }

  /** With the drive as long as the walk to it, which it never is shorter than. */
  score(levelFt: number): number {
    const { sketch, drive, limits, prices, request } = this.#judge;
    const c = this.#case;
    const moved = sketch.measure(levelFt, this.#exact);
    this.measuredFt = levelFt;
    const walkUsd = drive.leastUsd(this.#approaches, c, levelFt, true);
    limits.reset();
    checkGrading(moved, c.layout, request, limits);
    c.check(moved, levelFt, limits);
    if (walkUsd === Infinity) limits.breaks("no-drive", 0, 0);
    this.groundUsd = earthUsd(moved, prices) + siteWallUsd(moved, prices) + c.besidesUsd(moved, levelFt);
    return this.groundUsd + limits.penaltyUsd + (walkUsd < Infinity ? walkUsd : 0);
  }
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
  const levels = new Levels(judge, effort.exact, c, approaches);
  const brinkFt = c.brinkFt?.() ?? NaN;
  const range =
    c.rangeFt && !unsurveyed(c.rangeFt) ? c.rangeFt : ([sketch.lowestFt, sketch.highestFt] as const);
  const { levelFt, score: atLeastUsd } = levelFor(at, range, followedFt, brinkFt, effort, levels);
  const { giveUpUsd = Infinity } = at;
  if (atLeastUsd >= giveUpUsd) return null;
  if (levels.measuredFt !== levelFt) levels.score(levelFt);
  const driveUsd = drive.leastUsd(approaches, c, levelFt);
  const costUsd = levels.groundUsd + (driveUsd < Infinity ? driveUsd : 0);
  const { place, shape, layout, stepFt } = c;
  const { cutFt3, fillFt3 } = sketch.moved;
  return {
    place,
    shape,
    layout,
    levelFt,
    stepFt,
    followedFt,
    underBrinkFt: Number.isNaN(brinkFt) ? Infinity : brinkFt - levelFt,
    exportLooseYd3: balance(toYd3(cutFt3), toYd3(fillFt3), prices).exportLooseYd3,
    costUsd,
    scoreUsd: costUsd + limits.penaltyUsd,
    breaches: limits.breaches,
    doorIndex: drive.bestDoor(approaches, c, levelFt),
  };
}

function levelFor(
  at: LevelChoice,
  [lowFt, highFt]: readonly [number, number],
  followedFt: number,
  brinkFt: number,
  effort: Effort,
  levels: LevelScore,
): ScoredLevel {
  if (at.how === "set") return scored(at.levelFt, levels);
  const brink = brinkFt - BELOW_BRINK_FT;
  if (at.how === "search") {
    const atBrink = scored(brink, levels);
    const { giveUpUsd = Infinity } = at;
    // where the brink is cheap enough the looks are followed up
    const giveUpOver = atBrink.score > giveUpUsd ? giveUpUsd : Infinity;
    return cheaper(
      bestLevelFt(lowFt, highFt, effort.levelLooks, effort.levelToFt, levels, giveUpOver),
      atBrink,
    );
  }
  const middle = at.like.levelFt + followedFt - at.like.followedFt;
  if (at.how === "near")
    return cheaper(
      bestLevelFt(middle - NEAR_FT, middle + NEAR_FT, NEAR_LOOKS, effort.levelToFt, levels),
      scored(brink, levels),
    );
  const { underBrinkFt } = at.like;
  // at the brink it stays there, below it it does not climb over it, above it it keeps its height
  if (underBrinkFt < AT_BRINK_FT && underBrinkFt >= 0) return scored(brink, levels);
  return scored(underBrinkFt >= 0 && middle > brink ? brink : middle, levels);
}

function unsurveyed([lowFt, highFt]: readonly [number, number]): boolean {
  return Number.isNaN(lowFt + highFt);
}

function scored(levelFt: number, levels: LevelScore): ScoredLevel {
  return { levelFt, score: Number.isFinite(levelFt) ? levels.score(levelFt) : Infinity };
}

function cheaper(a: ScoredLevel, b: ScoredLevel): ScoredLevel {
  return b.score < a.score ? b : a;
}
