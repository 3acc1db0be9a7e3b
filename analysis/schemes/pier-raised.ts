/** A raised house on piers: the ground stays as it is but for the garage. The base level is the garage's pad. */
import { type FootprintShape, LEAST_LEVEL_DEPTH_FT, type Rect, twoPartShapes } from "./footprints.js";
import { CaseAt, type GradedCase, tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { grown, type Layout, layOut } from "./layout.js";
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
  ROOF_RISE_FT,
  type Trial,
} from "./model.js";
import type { Moved } from "./moved.js";
import { levellingUsd, seemsBrokenUsd } from "./outlook.js";
import { pierCount } from "./piers.js";
import type { Place } from "./place.js";
import type { Outlook } from "./turned-ground.js";

/** Clear space under the floor framing (IRC R317.1: 18 in under joists) and the framing itself. */
export const CRAWL_FT = 1.5;
export const FLOOR_FRAMING_FT = 1;
/** Looks at the ground under the house, along and across. */
const LOOKS_U = 7;
const LOOKS_V = 5;

export class PierRaised implements Model {
  readonly kind = "pier-raised";
  readonly name = "Raised on piers";
  readonly shapes: readonly FootprintShape[];
  readonly facesDownhill = true;
  readonly #judge: Judge;
  readonly #layouts = new KeptLayouts();

  constructor(judge: Judge, scale = 1) {
    const { brief } = judge.request;
    this.#judge = judge;
    this.shapes = twoPartShapes(brief, brief.storeys, LEAST_LEVEL_DEPTH_FT, scale);
  }

  outlookUsd(seen: Outlook, { house, garage }: FootprintShape): number {
    const { prices, request } = this.#judge;
    const { rules, brief } = request;
    const { riseU, riseV } = seen.under(house);
    const fallFt = Math.abs(riseU) * (house.u1 - house.u0) + Math.abs(riseV) * (house.v1 - house.v0);
    const overFt =
      fallFt + raisedFloorFt(0) + brief.storeys * rules.floorToFloorFt + ROOF_RISE_FT - rules.heightLimitFt;
    const beside = garage && seen.under(garage);
    return (
      pierCount(house) * (CRAWL_FT + fallFt / 2) * prices.pierFt +
      (beside ? levellingUsd(beside, garage, 1, rules.cutBatter, prices) : 0) +
      seemsBrokenUsd(overFt)
    );
  }

  tryAt(place: Place, shape: FootprintShape, effort: Effort, at: LevelChoice): Trial | null {
    const judge = this.#judge;
    const under = groundUnder(place, shape.house, judge, effort.lenient ?? false);
    if (!under) return null;
    const floorFt = raisedFloorFt(under.highestFt);
    const { house, garage } = shape;
    const standingUsd = pierCount(house) * (floorFt - FLOOR_FRAMING_FT - under.meanFt) * judge.prices.pierFt;
    if (!garage) return parked(place, shape, floorFt, standingUsd, judge);
    const { uphill, side, downhill } = judge.request.rules.apronFt;
    const layout = this.#layouts.at(shape, 0, () =>
      layOut([
        {
          rect: grown(garage, garageAprons(shape, garage, uphill, side, downhill)),
          offsetFt: 0,
          part: "garage",
        },
      ]),
    );
    return tryGraded(judge, effort, new GarageCase(judge, place, shape, layout, floorFt, standingUsd), at);
  }

  levels({ place, shape, levelFt }: Trial): LevelPart[] {
    const highestFt = groundUnder(place, shape.house, this.#judge, true)?.highestFt ?? levelFt;
    return [
      {
        name: "main",
        role: "house",
        rect: shape.house,
        elevationFt: highestFt,
        floorElevationFt: raisedFloorFt(highestFt),
      },
      ...garageLevel(shape, levelFt, levelFt + FLOOR_OVER_GRADE_FT),
    ];
  }
}

/** The garage beside a raised house, which only bears on it through its floor and its piers. */
class GarageCase extends CaseAt implements GradedCase {
  readonly #floorFt: number;
  readonly #standingUsd: number;

  constructor(
    judge: Judge,
    place: Place,
    shape: FootprintShape,
    layout: Layout,
    floorFt: number,
    standingUsd: number,
  ) {
    super(judge, place, shape, layout);
    this.#floorFt = floorFt;
    this.#standingUsd = standingUsd;
  }

  besidesUsd(): number {
    return this.#standingUsd;
  }

  check(_: Moved, levelFt: number, limits: Limits): void {
    checkHouse(this.place, this.shape, this.#floorFt, this.judge, limits);
    // garage and house floor may lie at most a storey apart
    const apartFt = Math.abs(this.doorFloorFt(levelFt) - this.#floorFt);
    limits.atMost("garage-stair", apartFt, this.judge.request.rules.floorToFloorFt);
  }

  doorFloorFt(levelFt: number): number {
    return levelFt + FLOOR_OVER_GRADE_FT;
  }
}

function checkHouse(
  place: Place,
  { house }: FootprintShape,
  floorFt: number,
  { ground, request }: Judge,
  limits: Limits,
): void {
  checkHeight(ground.lowestCornerFt(place, house), floorFt, request.brief.storeys, request, limits);
}

/** Underside of the floor framing keeps its clear space over the highest ground beneath the house. */
export function raisedFloorFt(highestGroundFt: number): number {
  return highestGroundFt + CRAWL_FT + FLOOR_FRAMING_FT;
}

/** No strip on the side where the house stands. */
function garageAprons(
  { house }: FootprintShape,
  garage: Rect,
  uphill: number,
  side: number,
  downhill: number,
) {
  const touches = (a: number, b: number) => Math.abs(a - b) < 1e-6;
  return {
    minusU: touches(garage.u0, house.u1) ? 0 : side,
    plusU: touches(garage.u1, house.u0) ? 0 : side,
    minusV: touches(garage.v0, house.v1) ? 0 : uphill,
    plusV: touches(garage.v1, house.v0) ? 0 : downhill,
  };
}

/** Without a garage the car stops beside the house, on the ground as it is. */
function parked(
  place: Place,
  shape: FootprintShape,
  floorFt: number,
  standingUsd: number,
  judge: Judge,
): Trial {
  const { drive, limits } = judge;
  const stop = { doorFloorFt: () => floorFt - CRAWL_FT - FLOOR_FRAMING_FT };
  const approaches = drive.approaches(place, shape);
  const driveUsd = drive.leastUsd(approaches, stop, floorFt);
  limits.reset();
  checkHouse(place, shape, floorFt, judge, limits);
  if (driveUsd === Infinity) limits.breaks("no-drive", 0, 0);
  const costUsd = standingUsd + (driveUsd === Infinity ? 0 : driveUsd);
  return {
    place,
    shape,
    layout: layOut([]),
    levelFt: floorFt,
    stepFt: 0,
    followedFt: floorFt,
    underBrinkFt: Infinity,
    exportLooseYd3: 0,
    costUsd,
    scoreUsd: costUsd + limits.penaltyUsd,
    breaches: limits.breaches,
    doorIndex: drive.bestDoor(approaches, stop, floorFt),
  };
}

/** Null where some of it is not surveyed; with `lenient` only where none of it is. */
function groundUnder(
  place: Place,
  { u0, v0, u1, v1 }: Rect,
  { ground }: Judge,
  lenient: boolean,
): { highestFt: number; meanFt: number } | null {
  let highestFt = -Infinity;
  let sum = 0;
  let count = 0;
  for (let j = 0; j < LOOKS_V; j++)
    for (let i = 0; i < LOOKS_U; i++) {
      const z = heightAt(
        place,
        u0 + (i / (LOOKS_U - 1)) * (u1 - u0),
        v0 + (j / (LOOKS_V - 1)) * (v1 - v0),
        ground,
      );
      if (Number.isNaN(z)) {
        if (lenient) continue;
        return null;
      }
      if (z > highestFt) highestFt = z;
      sum += z;
      count++;
    }
  return count > 0 ? { highestFt, meanFt: sum / count } : null;
}
