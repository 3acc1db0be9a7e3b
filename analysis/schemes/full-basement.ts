/** A level pad with a whole floor beneath it. The base level is the pad. */
import type { Rules } from "../request/request.js";
import {
  type BuriedFaces,
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
import { CaseAt, type GradedCase, tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { type Aprons, apronsTowards, grown, type Layout, layOut, stacked, type Tile } from "./layout.js";
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
import { levellingUsd, seemsBrokenUsd } from "./outlook.js";
import { onLot, type Place } from "./place.js";
import { DIG_BELOW_FLOOR_FT } from "./sketch.js";
import { checkSlopeSetback } from "./slope-setback.js";
import type { Outlook } from "./turned-ground.js";

/** More fall than this across the house and one side of a buried level stands open anyway. Common practice, no source. */
export const MOST_FALL_FOR_BURIED_FT = 6;
/** A pad over a buried floor lies at most this much under or over the ground at the corners of the house. Judgement. */
const BESIDE_GROUND_FT = 3;

export class FullBasement implements Model {
  readonly kind = "full-basement";
  readonly name = "Full basement";
  readonly shapes: readonly FootprintShape[];
  readonly facesDownhill = false;
  readonly #judge: Judge;
  readonly #layouts = new KeptLayouts();
  readonly #buriedFt: BuriedFaces;

  constructor(judge: Judge, scale = 1) {
    const { brief, rules } = judge.request;
    this.#judge = judge;
    this.shapes = oneLevelShapes(brief, floorsWithBasement(brief), scale, true);
    const ft = retainedFt(rules);
    this.#buriedFt = { minusV: ft, plusU: ft, plusV: ft, minusU: ft };
  }

  outlookUsd(seen: Outlook, { house }: FootprintShape, box: Rect): number {
    const judge = this.#judge;
    const relief = seen.under(box);
    const fallFt =
      Math.abs(relief.riseU) * (house.u1 - house.u0) + Math.abs(relief.riseV) * (house.v1 - house.v0);
    return (
      levellingUsd(relief, box, 1, judge.request.rules.cutBatter, judge.prices) +
      besideFacesUsd(seen.place, house, this.#buriedFt, judge) +
      seemsBrokenUsd(fallFt - MOST_FALL_FOR_BURIED_FT)
    );
  }

  tryAt(place: Place, shape: FootprintShape, effort: Effort, at: LevelChoice): Trial | null {
    const judge = this.#judge;
    const { apronFt, floorToFloorFt } = judge.request.rules;
    const layout = this.#layouts.byDownhill(place, shape, judge.ground, (downhill) =>
      buried(shape, apronsTowards(apronFt, downhill), floorToFloorFt),
    );
    return tryGraded(judge, effort, new FullBasementCase(judge, place, shape, layout), at);
  }

  levels({ shape, levelFt: padFt }: Trial): LevelPart[] {
    const mainFt = padFt + FLOOR_OVER_GRADE_FT;
    return [
      mainLevel(shape, mainFt),
      basementLevel(shape, mainFt - this.#judge.request.rules.floorToFloorFt),
      ...garageLevel(shape, padFt, mainFt),
    ];
  }
}

class FullBasementCase extends CaseAt implements GradedCase {
  readonly rangeFt: readonly [number, number];
  readonly #lowestFt: number;
  readonly #fallFt: number;
  readonly #besidesUsd: number;

  constructor(judge: Judge, place: Place, shape: FootprintShape, layout: Layout) {
    super(judge, place, shape, layout);
    const { digFt3, shoreFt2 } = besideBuried(place, shape.house, layout, judge);
    this.#besidesUsd =
      digBesideUsd(digFt3, shoreFt2, judge) +
      stepsUsd(layout, judge) +
      USUAL_OUTLET_RUN_FT * judge.prices.tightlineFt;
    this.#lowestFt = judge.ground.lowestCornerFt(place, shape.house);
    this.#fallFt = fallAcrossFt(place, shape.house, judge);
    this.rangeFt = [this.#lowestFt - BESIDE_GROUND_FT, this.#lowestFt + this.#fallFt + BESIDE_GROUND_FT];
  }

  besidesUsd(m: Moved): number {
    return confinedDigUsd(m, this.judge) + this.#besidesUsd;
  }

  check(m: Moved, padFt: number, limits: Limits): void {
    const { request } = this.judge;
    const { rules } = request;
    checkSlopeSetback(m, rules, limits);
    limits.atMost("basement-wall", retainedFt(rules), rules.maxBasementRetainedFt);
    limits.atMost("too-steep-to-bury", this.#fallFt, MOST_FALL_FOR_BURIED_FT);
    const storeys = floorsWithBasement(request.brief) - 1;
    checkHeight(this.#lowestFt, padFt + FLOOR_OVER_GRADE_FT, storeys, request, limits);
  }

  doorFloorFt(padFt: number): number {
    return padFt + FLOOR_OVER_GRADE_FT;
  }
}

function retainedFt({ floorToFloorFt }: Rules): number {
  return floorToFloorFt - FLOOR_OVER_GRADE_FT;
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
