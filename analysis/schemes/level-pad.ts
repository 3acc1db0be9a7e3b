/** One level pad under house and garage. */
import type { Point } from "../geometry/plane.js";
import { boxOfShape, type FootprintShape, oneLevelShapes, rectArea } from "./footprints.js";
import { tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { apronsTowards, grown, type Layout, layOut, rectMinus } from "./layout.js";
import {
  checkHeight,
  type Effort,
  FLOOR_OVER_GRADE_FT,
  garageLevel,
  type Judge,
  type LevelChoice,
  type Model,
} from "./model.js";
import { levelledHouseUsd } from "./outlook.js";
import { allPiersUsd, likelyPiersUsd, pierBrinkFt } from "./piers.js";
import type { Place } from "./place.js";
import { checkSlopeSetback } from "./slope-setback.js";

const SAME_FT2 = 1e-6;

export function levelPad(judge: Judge, scale = 1): Model {
  const { request } = judge;
  const layouts = new KeptLayouts();
  const tryWith = (place: Place, shape: FootprintShape, effort: Effort, at: LevelChoice) => {
    const lowest = judge.ground.lowestCornerFt(place, shape.house);
    const piersUsd = likelyPiersUsd(shape, lowest, judge);
    return tryGraded(
      judge,
      effort,
      {
        place,
        shape,
        layout: layouts.byDownhill(place, shape, judge.ground, (downhill) =>
          graded(shape, downhill, request.rules.apronFt),
        ),
        stepFt: 0,
        brinkFt: () => pierBrinkFt(lowest),
        besidesUsd: (_, levelFt) => piersUsd(levelFt),
        check: (m, levelFt, limits) => {
          checkHeight(lowest, levelFt + FLOOR_OVER_GRADE_FT, request.brief.storeys, request, limits);
          checkSlopeSetback(m, request.rules, limits);
        },
        doorFloorFt: (levelFt) => levelFt + FLOOR_OVER_GRADE_FT,
      },
      at,
    );
  };
  return {
    kind: "level-pad",
    name: "One level pad",
    shapes: oneLevelShapes(request.brief, request.brief.storeys, scale),
    facesDownhill: false,
    outlookUsd: (seen, { house }, box) => {
      const relief = seen.under(box);
      const { riseU, riseV } = relief;
      return levelledHouseUsd(relief, box, 1, request.rules.cutBatter, judge.prices, {
        fallFt: Math.abs(riseU) * (house.u1 - house.u0) + Math.abs(riseV) * (house.v1 - house.v0),
        overFt: (riseU * (house.u0 + house.u1) + riseV * (house.v0 + house.v1)) / 2,
        piersUsd: allPiersUsd(house, judge.prices),
      });
    },
    tryAt: tryWith,
    levels: ({ shape, levelFt }) => {
      const floorFt = levelFt + FLOOR_OVER_GRADE_FT;
      return [
        { name: "main", role: "house", rect: shape.house, elevationFt: levelFt, floorElevationFt: floorFt },
        ...garageLevel(shape, levelFt, floorFt),
      ];
    },
  };
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
