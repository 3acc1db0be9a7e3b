/** Two or three level pads down the fall line, each step held by a wall of the house. */
import { type FootprintShape, LEAST_LEVEL_DEPTH_FT, type Rect, twoPartShapes } from "./footprints.js";
import { CaseAt, type GradedCase, tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { type Aprons, grown, type Layout, layOut, stacked, type Tile, tallestSiteStepFt } from "./layout.js";
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
import { onLot, type Place } from "./place.js";
import { siteWallFaceUsd } from "./site-cost.js";
import type { Outlook } from "./turned-ground.js";

/** One stair riser (IRC R311.7.5.1 allows up to 7¾ in; 7½ in is common). */
export const RISER_FT = 7.5 / 12;
/** Fewest and most risers between two levels: 3 ft 1½ in to 7 ft 6 in. Common practice, no source. */
export const LEAST_RISERS = 5;
export const MOST_RISERS = 12;
/** A wall of the house stands this much above the ground it holds. */
const WALL_ABOVE_GROUND_FT = 1;

const DECK_NAMES = ["upper", "middle", "lower"] as const;

/** Stepped pad with `decks` levels (2 or 3). */
export class SteppedPad implements Model {
  readonly kind = "stepped-pad";
  readonly name: string;
  readonly shapes: readonly FootprintShape[];
  readonly facesDownhill = true;
  readonly #judge: Judge;
  readonly #decks: number;
  readonly #layouts = new KeptLayouts();

  constructor(judge: Judge, decks: number, scale = 1) {
    const { brief } = judge.request;
    this.#judge = judge;
    this.#decks = decks;
    this.name = decks === 2 ? "Stepped pad, two levels" : "Stepped pad, three levels";
    this.shapes = twoPartShapes(brief, brief.storeys, decks * LEAST_LEVEL_DEPTH_FT, scale);
  }

  outlookUsd(seen: Outlook, { house }: FootprintShape, box: Rect): number {
    const { prices, request } = this.#judge;
    const decks = this.#decks;
    const relief = seen.under(box);
    const stepFt = Math.abs(relief.riseV) * ((house.v1 - house.v0) / decks);
    return (
      levelledHouseUsd(relief, box, decks, request.rules.cutBatter, prices, {
        fallFt:
          Math.abs(relief.riseU) * (house.u1 - house.u0) +
          (Math.abs(relief.riseV) * (house.v1 - house.v0)) / decks,
        overFt: (relief.riseU * (house.u0 + house.u1)) / 2,
        piersUsd: allPiersUsd(house, prices),
      }) +
      (decks - 1) * (house.u1 - house.u0) * stepFt * prices.basementWallFt2
    );
  }

  tryAt(place: Place, shape: FootprintShape, effort: Effort, at: LevelChoice): Trial | null {
    if (at.how === "carry" || at.how === "set")
      return this.#tryWith(place, shape, risersOf(at.like), effort, at);
    if (at.how === "search") {
      const natural = naturalRisers(place, shape, this.#decks, this.#judge);
      const risers = natural ?? (effort.lenient ? LEAST_RISERS : null);
      return risers === null ? null : this.#tryWith(place, shape, risers, effort, at);
    }
    let best: Trial | null = null;
    for (const more of [-1, 0, 1]) {
      const risers = risersOf(at.like) + more;
      if (risers < LEAST_RISERS || risers > MOST_RISERS) continue;
      const trial = this.#tryWith(place, shape, risers, effort, at);
      if (trial && (!best || trial.scoreUsd < best.scoreUsd)) best = trial;
    }
    return best;
  }

  #tryWith(
    place: Place,
    shape: FootprintShape,
    risers: number,
    effort: Effort,
    at: LevelChoice,
  ): Trial | null {
    const judge = this.#judge;
    const stepFt = risers * RISER_FT;
    const { apronFt } = judge.request.rules;
    const layout = this.#layouts.at(shape, risers, () => stepped(shape, this.#decks, stepFt, apronFt));
    return tryGraded(judge, effort, new SteppedCase(judge, this.#decks, place, shape, layout, stepFt), at);
  }

  levels({ shape, levelFt, stepFt }: Trial): LevelPart[] {
    const decks = this.#decks;
    const depth = (shape.house.v1 - shape.house.v0) / decks;
    const floors = Array.from({ length: decks }, (_, i): LevelPart => {
      const elevationFt = levelFt + (decks - 1 - i) * stepFt;
      return {
        name: DECK_NAMES[decks === 2 && i === 1 ? 2 : i]!,
        role: "house",
        rect: { ...shape.house, v0: shape.house.v0 + i * depth, v1: shape.house.v0 + (i + 1) * depth },
        elevationFt,
        floorElevationFt: elevationFt + FLOOR_OVER_GRADE_FT,
      };
    });
    const garageFt = levelFt + (garageDeckIsTop(shape) ? (decks - 1) * stepFt : 0);
    return [...floors, ...garageLevel(shape, garageFt, garageFt + FLOOR_OVER_GRADE_FT)];
  }
}

class SteppedCase extends CaseAt implements GradedCase {
  readonly #topFt: number;
  readonly #lowestFt: number;
  readonly #lowestUnderDeckFt: number;
  readonly #stepsUsd: number;
  readonly #siteStepFt: number;

  constructor(
    judge: Judge,
    decks: number,
    place: Place,
    shape: FootprintShape,
    layout: Layout,
    stepFt: number,
  ) {
    super(judge, place, shape, layout, stepFt);
    this.#topFt = (decks - 1) * stepFt;
    this.#lowestFt = judge.ground.lowestCornerFt(place, shape.house);
    this.#lowestUnderDeckFt = lowestUnderDecksFt(place, shape, decks, stepFt, judge);
    this.#stepsUsd = stepWallsUsd(layout, judge);
    this.#siteStepFt = tallestSiteStepFt(layout);
  }

  brinkFt(): number {
    return pierBrinkFt(this.#lowestUnderDeckFt);
  }

  besidesUsd(_: Moved, levelFt: number): number {
    return this.#stepsUsd + likelyPiersUsd(this.shape, this.#lowestUnderDeckFt, levelFt, this.judge);
  }

  /** Each level carries the storeys of the house; the roof steps down with them, so the lowest governs. */
  check(_: Moved, levelFt: number, limits: Limits): void {
    const { request } = this.judge;
    checkHeight(this.#lowestFt, levelFt + FLOOR_OVER_GRADE_FT, request.brief.storeys, request, limits);
    limits.atMost("site-wall", this.#siteStepFt, request.rules.maxSiteWallFt);
  }

  doorFloorFt(levelFt: number): number {
    return levelFt + (garageDeckIsTop(this.shape) ? this.#topFt : 0) + FLOOR_OVER_GRADE_FT;
  }
}

function risersOf({ stepFt }: Trial): number {
  return Math.round(stepFt / RISER_FT);
}

/** Lowest ground at the corners of any deck, less that deck's height over the lowest one. */
function lowestUnderDecksFt(
  place: Place,
  { house }: FootprintShape,
  decks: number,
  stepFt: number,
  { ground }: Judge,
): number {
  const depth = (house.v1 - house.v0) / decks;
  let lowest = Infinity;
  for (let i = 0; i < decks; i++) {
    const deck = { ...house, v0: house.v0 + i * depth, v1: house.v0 + (i + 1) * depth };
    lowest = Math.min(lowest, ground.lowestCornerFt(place, deck) - (decks - 1 - i) * stepFt);
  }
  return lowest;
}

/** Decks of equal depth along v, the highest uphill; the garage lies level with the deck it is flush with. */
export function stepped(
  shape: FootprintShape,
  decks: number,
  stepFt: number,
  apron: { readonly uphill: number; readonly side: number; readonly downhill: number },
): Layout {
  const { house, garage } = shape;
  const depth = (house.v1 - house.v0) / decks;
  const aprons: Aprons = {
    plusU: apron.side,
    minusU: apron.side,
    plusV: apron.downhill,
    minusV: apron.uphill,
  };
  const floors: Tile[] = [];
  const strips: Tile[] = [];
  for (let i = 0; i < decks; i++) {
    const rect = { ...house, v0: house.v0 + i * depth, v1: house.v0 + (i + 1) * depth };
    const offsetFt = (decks - 1 - i) * stepFt;
    floors.push({ rect, offsetFt, part: "house" });
    strips.push({
      rect: grown(rect, {
        ...aprons,
        minusV: i === 0 ? aprons.minusV : 0,
        plusV: i === decks - 1 ? aprons.plusV : 0,
      }),
      offsetFt,
      part: "apron",
    });
  }
  const beside: Tile[] = [];
  const apronOfGarage: Tile[] = [];
  if (garage) {
    const offsetFt = garageDeckIsTop(shape) ? (decks - 1) * stepFt : 0;
    beside.push({ rect: garage, offsetFt, part: "garage" });
    apronOfGarage.push({ rect: grown(garage, aprons), offsetFt, part: "apron" });
  }
  return layOut(stacked([...floors, ...beside, ...apronOfGarage, ...strips]));
}

/** Flush with the uphill side, or the whole depth of the house. */
export function garageDeckIsTop({ house, garage }: FootprintShape): boolean {
  return garage === null || garage.v0 - house.v0 < house.v1 - garage.v1 + 1e-6;
}

/** Risers that follow the ground from deck to deck; null where the ground is not surveyed. */
function naturalRisers(
  { eastFt, northFt, turnRad }: Place,
  { house }: FootprintShape,
  decks: number,
  { ground }: Judge,
): number | null {
  const u = (house.u0 + house.u1) / 2;
  const half = (house.v1 - house.v0) / (2 * decks);
  const place = { eastFt, northFt, turnRad };
  const [ax, ay] = onLot(place, [u, house.v0 + half]);
  const [bx, by] = onLot(place, [u, house.v1 - half]);
  const drop = ground.elevationAt(ax, ay) - ground.elevationAt(bx, by);
  if (Number.isNaN(drop)) return null;
  return Math.min(MOST_RISERS, Math.max(LEAST_RISERS, Math.round(drop / (decks - 1) / RISER_FT)));
}

function stepWallsUsd(layout: Layout, { prices }: Judge): number {
  let usd = 0;
  for (const { lengthFt, riseFt, inHouse } of layout.steps)
    usd += inHouse
      ? lengthFt * (riseFt + WALL_ABOVE_GROUND_FT) * prices.basementWallFt2
      : siteWallFaceUsd(riseFt, lengthFt, prices);
  return usd;
}
