/** A level pad with a whole floor beneath it. The base level is the pad. */
import {
  basementLevel,
  besideFacesUsd,
  confinedDigUsd,
  digBesideUsd,
  fallAcrossFt,
  floorsWithBasement,
  mainLevel,
  stepsUsd,
  USUAL_OUTLET_RUN_FT,
} from "./basement-costs.js";
import { type FootprintShape, oneLevelShapes, type Rect } from "./footprints.js";
import { type GradedCase, tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { type Aprons, apronsTowards, grown, type Layout, layOut, stacked, type Tile } from "./layout.js";
import { checkHeight, FLOOR_OVER_GRADE_FT, garageLevel, type Judge, type Model } from "./model.js";
import { levellingUsd, seemsBrokenUsd } from "./outlook.js";
import { onLot, type Place } from "./place.js";
import { DIG_BELOW_FLOOR_FT } from "./sketch.js";
import { checkSlopeSetback } from "./slope-setback.js";

/** More fall than this across the house and one side of a buried level stands open anyway. Common practice, no source. */
export const MOST_FALL_FOR_BURIED_FT = 6;
/** A pad over a buried floor lies at most this much under or over the ground at the corners of the house. Judgement. */
const BESIDE_GROUND_FT = 3;

export function fullBasement(judge: Judge, scale = 1): Model {
  const { request, ground } = judge;
  const { rules, brief } = request;
  const floors = floorsWithBasement(brief);
  const layouts = new KeptLayouts();
  const retainedFt = rules.floorToFloorFt - FLOOR_OVER_GRADE_FT;
  const caseAt = (place: Place, shape: FootprintShape): GradedCase => {
    const layout = layouts.byDownhill(place, shape, ground, (downhill) =>
      buried(shape, apronsTowards(rules.apronFt, downhill), rules.floorToFloorFt),
    );
    const { digFt3, shoreFt2 } = besideBuried(place, shape.house, layout, judge);
    const besidesUsd =
      digBesideUsd(digFt3, shoreFt2, judge) +
      stepsUsd(layout, judge) +
      USUAL_OUTLET_RUN_FT * judge.prices.tightlineFt;
    const lowest = ground.lowestCornerFt(place, shape.house);
    const fall = fallAcrossFt(place, shape.house, judge);
    return {
      place,
      shape,
      layout,
      stepFt: 0,
      rangeFt: [lowest - BESIDE_GROUND_FT, lowest + fall + BESIDE_GROUND_FT],
      besidesUsd: (m) => confinedDigUsd(m, judge) + besidesUsd,
      check: (m, padFt, limits) => {
        checkSlopeSetback(m, rules, limits);
        limits.atMost("basement-wall", retainedFt, rules.maxBasementRetainedFt);
        limits.atMost("too-steep-to-bury", fall, MOST_FALL_FOR_BURIED_FT);
        checkHeight(lowest, padFt + FLOOR_OVER_GRADE_FT, floors - 1, request, limits);
      },
      doorFloorFt: (padFt) => padFt + FLOOR_OVER_GRADE_FT,
    };
  };
  return {
    kind: "full-basement",
    name: "Full basement",
    shapes: oneLevelShapes(brief, floors, scale, true),
    facesDownhill: false,
    outlookUsd: (seen, { house }, box) => {
      const relief = seen.under(box);
      const fallFt =
        Math.abs(relief.riseU) * (house.u1 - house.u0) + Math.abs(relief.riseV) * (house.v1 - house.v0);
      return (
        levellingUsd(relief, box, 1, rules.cutBatter, judge.prices) +
        besideFacesUsd(
          seen.place,
          house,
          { minusV: retainedFt, plusU: retainedFt, plusV: retainedFt, minusU: retainedFt },
          judge,
        ) +
        seemsBrokenUsd(fallFt - MOST_FALL_FOR_BURIED_FT)
      );
    },
    tryAt: (place, shape, effort, at) => tryGraded(judge, effort, caseAt(place, shape), at),
    levels: ({ shape, levelFt: padFt }) => {
      const mainFt = padFt + FLOOR_OVER_GRADE_FT;
      return [
        mainLevel(shape, mainFt),
        basementLevel(shape, mainFt - rules.floorToFloorFt),
        ...garageLevel(shape, padFt, mainFt),
      ];
    },
  };
}

/** The dig under the house, the rest of the pad around it. */
export function buried({ house, garage }: FootprintShape, aprons: Aprons, floorToFloorFt: number): Layout {
  const digFt = FLOOR_OVER_GRADE_FT - floorToFloorFt - DIG_BELOW_FLOOR_FT;
  const tiles: Tile[] = [{ rect: house, offsetFt: digFt, part: "house" }];
  if (garage) tiles.push({ rect: garage, offsetFt: 0, part: "garage" });
  tiles.push({ rect: grown(house, aprons), offsetFt: 0, part: "apron" });
  if (garage) tiles.push({ rect: grown(garage, aprons), offsetFt: 0, part: "apron" });
  return layOut(stacked(tiles), (tile) => tile.part === "house");
}

/** Dig outside a wholly buried floor, from the pad down: straight sections along its faces, braced where a slope would leave the lot. */
function besideBuried(
  place: Place,
  house: Rect,
  layout: Layout,
  { request, ground }: Judge,
): { digFt3: number; shoreFt2: number } {
  const { workingSpaceFt, temporaryBatter } = request.rules;
  let digFt3 = 0;
  let shoreFt2 = 0;
  for (const { lengthFt, riseFt, inHouse, from, to } of layout.steps) {
    if (!inHouse) continue;
    digFt3 += workingSpaceFt * riseFt * lengthFt;
    const reach = workingSpaceFt + temporaryBatter * riseFt;
    const u = (from[0] + to[0]) / 2;
    const v = (from[1] + to[1]) / 2;
    const alongU = Math.abs(to[1] - from[1]) < Math.abs(to[0] - from[0]);
    const [x, y] = onLot(
      place,
      alongU
        ? [u, v + Math.sign(v - (house.v0 + house.v1) / 2) * reach]
        : [u + Math.sign(u - (house.u0 + house.u1) / 2) * reach, v],
    );
    if (ground.ownGroundAt(x, y)) digFt3 += ((temporaryBatter * riseFt * riseFt) / 2) * lengthFt;
    else shoreFt2 += riseFt * lengthFt;
  }
  return { digFt3, shoreFt2 };
}
