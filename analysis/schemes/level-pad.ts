/** One level pad under house and garage. */
import type { Point } from "../geometry/plane.js";
import { boxOfShape, type FootprintShape, oneLevelShapes, type Rect, rectArea } from "./footprints.js";
import { CaseAt, type GradedCase, tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { apronsTowards, grown, type Layout, layOut, rectMinus } from "./layout.js";
import type { Limits } from "./limits.js";
import {
  checkHeight,
  type Effort,
  FLOOR_OVER_GRADE_FT,
  garageLevel,
  type Judge,
  type LevelChoice,
  type LevelPart,
  type Model,
  type Trial,
} from "./model.js";
import type { Moved } from "./moved.js";
import { levelledHouseUsd } from "./outlook.js";
import { allPiersUsd, likelyPiersUsd, pierBrinkFt } from "./piers.js";
import type { Place } from "./place.js";
import { checkSlopeSetback } from "./slope-setback.js";
import type { Outlook } from "./turned-ground.js";

const SAME_FT2 = 1e-6;

export class LevelPad implements Model {
  readonly kind = "level-pad";
  readonly name = "One level pad";
  readonly shapes: readonly FootprintShape[];
  readonly facesDownhill = false;
  readonly #judge: Judge;
  readonly #layouts = new KeptLayouts();

  constructor(judge: Judge, scale = 1) {
    const { brief } = judge.request;
    this.#judge = judge;
    this.shapes = oneLevelShapes(brief, brief.storeys, scale);
  }

  outlookUsd(seen: Outlook, { house }: FootprintShape, box: Rect): number {
    const { prices, request } = this.#judge;
    const relief = seen.under(box);
    const { riseU, riseV } = relief;
    return levelledHouseUsd(relief, box, 1, request.rules.cutBatter, prices, {
      fallFt: Math.abs(riseU) * (house.u1 - house.u0) + Math.abs(riseV) * (house.v1 - house.v0),
      overFt: (riseU * (house.u0 + house.u1) + riseV * (house.v0 + house.v1)) / 2,
      piersUsd: allPiersUsd(house, prices),
    });
  }

  tryAt(place: Place, shape: FootprintShape, effort: Effort, at: LevelChoice): Trial | null {
    const judge = this.#judge;
    const { apronFt } = judge.request.rules;
    const layout = this.#layouts.byDownhill(place, shape, judge.ground, (downhill) =>
      graded(shape, downhill, apronFt),
    );
    return tryGraded(judge, effort, new LevelPadCase(judge, place, shape, layout), at);
  }

  levels({ shape, levelFt }: Trial): LevelPart[] {
    const floorFt = levelFt + FLOOR_OVER_GRADE_FT;
    return [
      { name: "main", role: "house", rect: shape.house, elevationFt: levelFt, floorElevationFt: floorFt },
      ...garageLevel(shape, levelFt, floorFt),
    ];
  }
}

class LevelPadCase extends CaseAt implements GradedCase {
  readonly #lowestFt: number;

  constructor(judge: Judge, place: Place, shape: FootprintShape, layout: Layout) {
    super(judge, place, shape, layout);
    this.#lowestFt = judge.ground.lowestCornerFt(place, shape.house);
  }

  brinkFt(): number {
    return pierBrinkFt(this.#lowestFt);
  }

  besidesUsd(_: Moved, levelFt: number): number {
    return likelyPiersUsd(this.shape, this.#lowestFt, levelFt, this.judge);
  }

  check(m: Moved, levelFt: number, limits: Limits): void {
    const { request } = this.judge;
    checkHeight(this.#lowestFt, levelFt + FLOOR_OVER_GRADE_FT, request.brief.storeys, request, limits);
    checkSlopeSetback(m, request.rules, limits);
  }

  doorFloorFt(levelFt: number): number {
    return levelFt + FLOOR_OVER_GRADE_FT;
  }
}

/** House and garage with their aprons, on one level. */
export function graded(
  shape: FootprintShape,
  downhill: Point,
  apron: { readonly uphill: number; readonly side: number; readonly downhill: number },
): Layout {
  const aprons = apronsTowards(apron, downhill);
  const { house, garage } = shape;
  const box = boxOfShape(shape);
  const isBox =
    !garage || Math.abs(rectArea(box) - rectArea(house) - rectArea(garage)) < SAME_FT2 * rectArea(box);
  const rects = isBox
    ? [grown(box, aprons)]
    : [grown(house, aprons), ...rectMinus(grown(garage, aprons), grown(house, aprons))];
  return layOut(rects.map((rect) => ({ rect, offsetFt: 0, part: "house" })));
}
