/** A lower level dug into the hill with its downhill wall open. The base level is the lower floor. */
import { toYd3 } from "../units.js";
import {
  basementLevel,
  besideFacesUsd,
  digUsd,
  floorsWithBasement,
  mainLevel,
  outletUsd,
  stepsUsd,
} from "./basement-costs.js";
import {
  type FootprintShape,
  LEAST_LEVEL_DEPTH_FT,
  type Rect,
  rectArea,
  twoPartShapes,
} from "./footprints.js";
import { CaseAt, type GradedCase, tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { type Aprons, grown, type Layout, layOut, stacked, type Tile, tallestSiteStepFt } from "./layout.js";
import type { Limits } from "./limits.js";
import {
  checkHeight,
  type Effort,
  FLOOR_OVER_GRADE_FT,
  garageLevel,
  heightAt,
  type Judge,
  type LevelChoice,
  type LevelPart,
  type Model,
  type Trial,
} from "./model.js";
import type { Moved } from "./moved.js";
import { liftedUsd, seemsBrokenUsd } from "./outlook.js";
import type { Place } from "./place.js";
import { siteWallFaceUsd } from "./site-cost.js";
import { DIG_BELOW_FLOOR_FT, OPEN_WALL_FT } from "./sketch.js";
import { garageDeckIsTop } from "./stepped-pad.js";
import type { Outlook } from "./turned-ground.js";
import { garageStripFt, wingWall } from "./wing-wall.js";

/** Least share of the downhill wall that must be open for a lower level to count as one with daylight. Common practice, no source. */
export const LEAST_DAYLIGHT_SHARE = 0.5;
/** Less earth than this against the uphill wall is not a hill worth digging a lower level into. Common practice, no source. */
export const LEAST_BURIED_FT = 5;
/** A lower level is dug in, not built up: most fill under its floor. Common practice, no source. */
export const MOST_FILL_UNDER_FLOOR_FT = 1;
/** A floor is sought at most this far below the highest it may have: for a drive that comes in low. Judgement. */
const DUG_DEEPER_FT = 8;
/** Ground looked at for daylight, beyond the strip below the house. */
const BEYOND_STRIP_FT = 1;
const DAYLIGHT_LOOKS = 6;

export class DaylightBasement implements Model {
  readonly kind = "daylight-basement";
  readonly name = "Lower level open downhill";
  readonly shapes: readonly FootprintShape[];
  readonly facesDownhill = true;
  readonly #judge: Judge;
  readonly #layouts = new KeptLayouts();

  constructor(judge: Judge, scale = 1) {
    const { brief } = judge.request;
    this.#judge = judge;
    this.shapes = twoPartShapes(brief, floorsWithBasement(brief), LEAST_LEVEL_DEPTH_FT, scale);
  }

  outlookUsd(seen: Outlook, shape: FootprintShape): number {
    const judge = this.#judge;
    const { rules } = judge.request;
    const { house, garage } = shape;
    const widthFt = house.u1 - house.u0;
    const depthFt = house.v1 - house.v0;
    const { meanFt, riseU, riseV } = seen.under(house);
    const fallU = Math.abs(riseU) * widthFt;
    const fallV = Math.abs(riseV) * depthFt;
    const lowestFt = meanFt - (fallU + fallV) / 2;
    // as high as the fill under it may be, which is as little dug as may be, but a hill's worth against the wall
    const floorFt =
      lowestFt +
      Math.max(
        FLOOR_OVER_GRADE_FT,
        Math.min(MOST_FILL_UNDER_FLOOR_FT + DIG_BELOW_FLOOR_FT, fallU + fallV - LEAST_BURIED_FT),
      );
    const retainedFt = meanFt + (fallU + fallV) / 2 - floorFt;
    const over = (ft: number) => Math.max(0, meanFt + ft - floorFt);
    const faces = {
      minusV: over(-riseV * (depthFt / 2)),
      plusU: over(riseU * (widthFt / 2)),
      plusV: over(riseV * (depthFt / 2)),
      minusU: over(-riseU * (widthFt / 2)),
    };
    const faceFt2 = widthFt * (faces.minusV + faces.plusV) + depthFt * (faces.minusU + faces.plusU);
    const beforeFt = meanFt + riseV * (depthFt / 2 + rules.apronFt.downhill + BEYOND_STRIP_FT);
    const { prices } = judge;
    let usd =
      toYd3(rectArea(house) * (over(0) + DIG_BELOW_FLOOR_FT)) *
        (prices.digYd3 + prices.loosePerBank * prices.exportLooseYd3) +
      faceFt2 * prices.basementWallFt2 +
      besideFacesUsd(seen.place, house, faces, judge);
    if (garage) {
      const beside = seen.under(garage);
      const overFt = garageDeckIsTop(shape) ? rules.floorToFloorFt : 0;
      usd += liftedUsd(
        beside,
        beside.meanFt - (floorFt + overFt - FLOOR_OVER_GRADE_FT),
        garage,
        rules,
        prices,
      );
    }
    return (
      usd +
      seemsBrokenUsd(LEAST_BURIED_FT - retainedFt) +
      seemsBrokenUsd(retainedFt - rules.maxBasementRetainedFt) +
      seemsBrokenUsd(beforeFt - floorFt - OPEN_WALL_FT)
    );
  }

  tryAt(place: Place, shape: FootprintShape, effort: Effort, at: LevelChoice): Trial | null {
    const { floorToFloorFt, apronFt } = this.#judge.request.rules;
    const layout = this.#layouts.at(shape, 0, () => dugIn(shape, floorToFloorFt, apronFt));
    return tryGraded(this.#judge, effort, new DaylightCase(this.#judge, place, shape, layout), at);
  }

  levels({ shape, levelFt: floorFt }: Trial): LevelPart[] {
    const { rules } = this.#judge.request;
    const mainFt = floorFt + rules.floorToFloorFt;
    const garageFt = garageDeckIsTop(shape) ? mainFt : floorFt;
    return [
      mainLevel(shape, mainFt),
      basementLevel(shape, floorFt),
      ...garageLevel(shape, garageFt - FLOOR_OVER_GRADE_FT, garageFt),
    ];
  }
}

class DaylightCase extends CaseAt implements GradedCase {
  /** The floor lies just over the ground on the downhill side. */
  readonly followsFt: number;
  readonly rangeFt: readonly [number, number];
  readonly #highestFt: number;
  readonly #beforeFt: readonly number[];
  readonly #besidesUsd: number;
  readonly #siteStepFt: number;

  constructor(judge: Judge, place: Place, shape: FootprintShape, layout: Layout) {
    const { house } = shape;
    super(judge, place, shape, layout);
    this.followsFt = judge.ground.lowestCornerFt(place, house);
    this.#highestFt = this.followsFt + DIG_BELOW_FLOOR_FT + MOST_FILL_UNDER_FLOOR_FT;
    this.#beforeFt = groundBefore(place, house, judge.request.rules.apronFt.downhill, judge);
    this.#besidesUsd = stepsUsd(layout, judge) + outletUsd(place, house, judge);
    this.#siteStepFt = tallestSiteStepFt(layout);
    const lowFt = Math.max(median(this.#beforeFt) - OPEN_WALL_FT, this.#highestFt - DUG_DEEPER_FT);
    this.rangeFt = [lowFt, this.#highestFt];
  }

  brinkFt(): number {
    return Math.min(this.#highestFt, this.judge.sketch.highestHouseWallFt - LEAST_BURIED_FT);
  }

  besidesUsd(m: Moved, floorFt: number): number {
    const judge = this.judge;
    const wallUsd = siteWallFaceUsd(
      this.#wingFt(floorFt),
      judge.request.rules.apronFt.downhill,
      judge.prices,
    );
    return digUsd(m, judge) + this.#besidesUsd + wallUsd;
  }

  check(m: Moved, floorFt: number, limits: Limits): void {
    const { request } = this.judge;
    const { rules } = request;
    const lowest = this.followsFt;
    checkHeight(lowest, floorFt, floorsWithBasement(request.brief), request, limits);
    limits.atMost("basement-wall", m.tallestHouseWallFt, rules.maxBasementRetainedFt);
    limits.atMost("fill-under-floor", floorFt - DIG_BELOW_FLOOR_FT - lowest, MOST_FILL_UNDER_FLOOR_FT);
    limits.atLeast("too-flat", m.tallestHouseWallFt, LEAST_BURIED_FT);
    limits.atMost("site-wall", Math.max(this.#siteStepFt, this.#wingFt(floorFt)), rules.maxSiteWallFt);
    limits.atLeast("no-daylight", openShare(this.#beforeFt, floorFt), LEAST_DAYLIGHT_SHARE);
  }

  /** Tallest of the wall that keeps the garage's strip off the open side; 0 where there is none. */
  #wingFt(floorFt: number): number {
    const { request, ground } = this.judge;
    const wing = wingWall(this.place, this.shape, floorFt, request.rules, ground);
    return wing ? Math.max(0, ...wing.heightsFt) : 0;
  }

  doorFloorFt(floorFt: number): number {
    return floorFt + (garageDeckIsTop(this.shape) ? this.judge.request.rules.floorToFloorFt : 0);
  }
}

/** Tiles over the lower floor: the dig under the house, a strip below it, the garage on the floor it is flush with. */
export function dugIn(
  shape: FootprintShape,
  floorToFloorFt: number,
  apron: { readonly side: number; readonly uphill: number; readonly downhill: number },
): Layout {
  const { house, garage } = shape;
  const tiles: Tile[] = [{ rect: house, offsetFt: -DIG_BELOW_FLOOR_FT, part: "house" }];
  if (garage) {
    const offsetFt = (garageDeckIsTop(shape) ? floorToFloorFt : 0) - FLOOR_OVER_GRADE_FT;
    const aprons: Aprons = {
      plusU: apron.side,
      minusU: apron.side,
      plusV:
        garageDeckIsTop(shape) && garage.v1 <= house.v1
          ? garageStripFt(house.v1 - garage.v1, apron)
          : apron.downhill,
      minusV: apron.uphill,
    };
    tiles.push(
      { rect: garage, offsetFt, part: "garage" },
      { rect: grown(garage, aprons), offsetFt, part: "apron" },
    );
  }
  if (apron.downhill > 0) {
    const rect = { ...house, v0: house.v1, v1: house.v1 + apron.downhill };
    tiles.push({ rect, offsetFt: -FLOOR_OVER_GRADE_FT, part: "apron" });
  }
  return layOut(stacked(tiles), (tile) => tile.part === "house");
}

/** Ground heights along the downhill wall, beyond the strip before it. */
function groundBefore(place: Place, house: Rect, stripFt: number, { ground }: Judge): number[] {
  const v = house.v1 + stripFt + BEYOND_STRIP_FT;
  const width = house.u1 - house.u0;
  return Array.from({ length: DAYLIGHT_LOOKS }, (_, i) =>
    heightAt(place, house.u0 + ((i + 0.5) / DAYLIGHT_LOOKS) * width, v, ground),
  );
}

/** Height that half of them at least do not pass: a floor there sees daylight along half the wall. NaN where too much is not surveyed. */
function median(heightsFt: readonly number[]): number {
  return Float64Array.from(heightsFt).sort()[(heightsFt.length - 1) >> 1]!;
}

/** Share of those heights at or below the floor. */
function openShare(heightsFt: readonly number[], floorFt: number): number {
  let open = 0;
  for (const z of heightsFt) if (z <= floorFt + OPEN_WALL_FT) open++;
  return open / heightsFt.length;
}
