/** Two or three level pads down the fall line, each step held by a wall of the house. */
import { type FootprintShape, LEAST_LEVEL_DEPTH_FT, twoPartShapes } from "./footprints.js";
import { tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { type Aprons, grown, type Layout, layOut, stacked, type Tile, tallestSiteStepFt } from "./layout.js";
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
import { levelledHouseUsd } from "./outlook.js";
import { allPiersUsd, likelyPiersUsd, pierBrinkFt } from "./piers.js";
import { onLot, type Place } from "./place.js";
import { siteWallFaceUsd } from "./site-cost.js";

/** One stair riser (IRC R311.7.5.1 allows up to 7¾ in; 7½ in is common). */
export const RISER_FT = 7.5 / 12;
/** Fewest and most risers between two levels: 3 ft 1½ in to 7 ft 6 in. Common practice, no source. */
export const LEAST_RISERS = 5;
export const MOST_RISERS = 12;
/** A wall of the house stands this much above the ground it holds. */
const WALL_ABOVE_GROUND_FT = 1;

const DECK_NAMES = ["upper", "middle", "lower"] as const;

/** Stepped pad with `decks` levels (2 or 3). */
export function steppedPad(judge: Judge, decks: number, scale = 1): Model {
  const { request } = judge;
  const shapes = twoPartShapes(request.brief, request.brief.storeys, decks * LEAST_LEVEL_DEPTH_FT, scale);
  const layouts = new KeptLayouts();
  const tryWith = (place: Place, shape: FootprintShape, risers: number, effort: Effort, at: LevelChoice) => {
    const stepFt = risers * RISER_FT;
    const layout = layouts.at(shape, risers, () => stepped(shape, decks, stepFt, request.rules.apronFt));
    const stepsUsd = stepWallsUsd(layout, judge);
    const siteStep = tallestSiteStepFt(layout);
    const top = (decks - 1) * stepFt;
    const lowest = judge.ground.lowestCornerFt(place, shape.house);
    const lowestUnderDeck = lowestUnderDecksFt(place, shape, decks, stepFt, judge);
    const piersUsd = likelyPiersUsd(shape, lowestUnderDeck, judge);
    return tryGraded(
      judge,
      effort,
      {
        place,
        shape,
        layout,
        stepFt,
        brinkFt: () => pierBrinkFt(lowestUnderDeck),
        besidesUsd: (_, levelFt) => stepsUsd + piersUsd(levelFt),
        // each level carries the storeys of the house; the roof steps down with them, so the lowest governs
        check: (_, levelFt, limits) => {
          checkHeight(lowest, levelFt + FLOOR_OVER_GRADE_FT, request.brief.storeys, request, limits);
          limits.atMost("site-wall", siteStep, request.rules.maxSiteWallFt);
        },
        doorFloorFt: (levelFt) => levelFt + (garageDeckIsTop(shape) ? top : 0) + FLOOR_OVER_GRADE_FT,
      },
      at,
    );
  };
  return {
    kind: "stepped-pad",
    name: decks === 2 ? "Stepped pad, two levels" : "Stepped pad, three levels",
    shapes,
    facesDownhill: true,
    outlookUsd: (seen, { house }, box) => {
      const relief = seen.under(box);
      const stepFt = Math.abs(relief.riseV) * ((house.v1 - house.v0) / decks);
      return (
        levelledHouseUsd(relief, box, decks, request.rules.cutBatter, judge.prices, {
          fallFt:
            Math.abs(relief.riseU) * (house.u1 - house.u0) +
            (Math.abs(relief.riseV) * (house.v1 - house.v0)) / decks,
          overFt: (relief.riseU * (house.u0 + house.u1)) / 2,
          piersUsd: allPiersUsd(house, judge.prices),
        }) +
        (decks - 1) * (house.u1 - house.u0) * stepFt * judge.prices.basementWallFt2
      );
    },
    tryAt: (place, shape, effort, at) => {
      if (at.how === "carry" || at.how === "set") return tryWith(place, shape, risersOf(at.like), effort, at);
      if (at.how === "search") {
        const risers = naturalRisers(place, shape, decks, judge) ?? (effort.lenient ? LEAST_RISERS : null);
        return risers === null ? null : tryWith(place, shape, risers, effort, at);
      }
      let best: Trial | null = null;
      for (const more of [-1, 0, 1]) {
        const risers = risersOf(at.like) + more;
        if (risers < LEAST_RISERS || risers > MOST_RISERS) continue;
        const trial = tryWith(place, shape, risers, effort, at);
        if (trial && (!best || trial.scoreUsd < best.scoreUsd)) best = trial;
      }
      return best;
    },
    levels: ({ shape, levelFt, stepFt }) => {
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
    },
  };
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
