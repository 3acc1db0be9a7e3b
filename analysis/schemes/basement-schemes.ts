/** Houses with a floor in the ground: open on the downhill side, or buried all round. */
import type { Brief } from "../request/request.js";
import { toYd3 } from "../units.js";
import {
  type FootprintShape,
  LEAST_LEVEL_DEPTH_FT,
  oneLevelShapes,
  type Rect,
  twoPartShapes,
} from "./footprints.js";
import { type GradedCase, tryGraded } from "./graded-trial.js";
import { KeptLayouts } from "./kept-layouts.js";
import { type Aprons, apronsTowards, grown, type Layout, layOut, stacked, type Tile } from "./layout.js";
import {
  type Breach,
  cornersOf,
  FLOOR_OVER_GRADE_FT,
  garageLevel,
  heightBreach,
  type Judge,
  type LevelPart,
  lowestCornerFt,
  type Model,
} from "./model.js";
import { DIG_BELOW_FLOOR_FT, type Moved, OPEN_WALL_FT, onLot, type Place } from "./sketch.js";
import { garageDeckIsTop } from "./stepped-pad.js";

/** Least share of the downhill wall that must be open for a lower level to count as one with daylight. Common practice, no source. */
export const LEAST_DAYLIGHT_SHARE = 0.5;
/** Less earth than this against the uphill wall is not a hill worth digging a lower level into. Common practice, no source. */
export const LEAST_BURIED_FT = 5;
/** More fall than this across the house and one side of a buried level stands open anyway. Common practice, no source. */
export const MOST_FALL_FOR_BURIED_FT = 6;
/** A lower level is dug in, not built up: most fill under its floor. Common practice, no source. */
export const MOST_FILL_UNDER_FLOOR_FT = 1;
/** Ground looked at for daylight, beyond the strip below the house. */
const BEYOND_STRIP_FT = 1;
const DAYLIGHT_LOOKS = 6;
/** Wall and waterproofing stand this much above the earth. */
const WALL_ABOVE_GROUND_FT = 1;
/** Pipe from the wall drain to where it can run out, when nothing better is known. */
const USUAL_OUTLET_RUN_FT = 40;

/** Floors of a house with a basement: one of its storeys goes into the ground. */
export function floorsWithBasement({ storeys }: Brief): number {
  return Math.max(2, storeys);
}

/** Lower level dug into the hill, its downhill wall open. The base level is the lower floor. */
export function daylightBasement(judge: Judge, scale = 1): Model {
  const { request, ground } = judge;
  const { rules, brief } = request;
  const floors = floorsWithBasement(brief);
  const shapes = twoPartShapes(brief, floors, LEAST_LEVEL_DEPTH_FT, scale);
  const layouts = new KeptLayouts();
  const caseAt = (place: Place, shape: FootprintShape): GradedCase => {
    const layout = layouts.at(shape, 0, () => dugIn(shape, rules.floorToFloorFt, rules.apronFt));
    const { house } = shape;
    return {
      place,
      shape,
      layout,
      stepFt: 0,
      besidesUsd: (m) => digUsd(m, judge) + stepsUsd(layout, judge) + outletUsd(place, house, judge),
      breaches: (m, floorFt) => [
        ...heightBreach(place, house, floorFt, floors, request, ground),
        ...retainedBreach(m.tallestHouseWallFt, rules.maxBasementRetainedFt),
        ...atMost(
          "fill-under-floor",
          floorFt - DIG_BELOW_FLOOR_FT - lowestCornerFt(place, house, ground),
          MOST_FILL_UNDER_FLOOR_FT,
        ),
        ...atLeast("too-flat", m.tallestHouseWallFt, LEAST_BURIED_FT),
        ...atLeast(
          "no-daylight",
          daylightShare(place, house, floorFt, rules.apronFt.downhill, judge),
          LEAST_DAYLIGHT_SHARE,
        ),
      ],
      doorFloorFt: (floorFt) => floorFt + (garageDeckIsTop(shape) ? rules.floorToFloorFt : 0),
    };
  };
  return {
    kind: "daylight-basement",
    name: "Lower level open downhill",
    shapes,
    facesDownhill: true,
    tryAt: (place, shape, effort, at) => tryGraded(judge, effort, caseAt(place, shape), at),
    levels: ({ shape, levelFt: floorFt }) => {
      const mainFt = floorFt + rules.floorToFloorFt;
      const garageFt = garageDeckIsTop(shape) ? mainFt : floorFt;
      return [
        mainLevel(shape, mainFt),
        basementLevel(shape, floorFt),
        ...garageLevel(shape, garageFt - FLOOR_OVER_GRADE_FT, garageFt),
      ];
    },
  };
}

/** A level pad with a whole floor beneath it. The base level is the pad. */
export function fullBasement(judge: Judge, scale = 1): Model {
  const { request, ground } = judge;
  const { rules, brief } = request;
  const floors = floorsWithBasement(brief);
  const layouts = new KeptLayouts();
  const caseAt = (place: Place, shape: FootprintShape): GradedCase => {
    const layout = layouts.byDownhill(place, shape, ground, (downhill) =>
      buried(shape, apronsTowards(rules.apronFt, downhill), rules.floorToFloorFt),
    );
    return {
      place,
      shape,
      layout,
      stepFt: 0,
      besidesUsd: (m) => {
        const beside = besideBuried(place, shape.house, layout, judge);
        return (
          toYd3(m.cutFt3) * (judge.prices.digYd3 - judge.prices.cutYd3) +
          digBesideUsd(beside.digFt3, beside.shoreFt2, judge) +
          stepsUsd(layout, judge) +
          USUAL_OUTLET_RUN_FT * judge.prices.tightlineFt
        );
      },
      breaches: (_, padFt) => [
        ...heightBreach(place, shape.house, padFt + FLOOR_OVER_GRADE_FT, floors - 1, request, ground),
        ...retainedBreach(rules.floorToFloorFt - FLOOR_OVER_GRADE_FT, rules.maxBasementRetainedFt),
        ...atMost("too-steep-to-bury", fallAcross(place, shape.house, judge), MOST_FALL_FOR_BURIED_FT),
      ],
      doorFloorFt: (padFt) => padFt + FLOOR_OVER_GRADE_FT,
    };
  };
  return {
    kind: "full-basement",
    name: "Full basement",
    shapes: oneLevelShapes(brief, floors, scale),
    facesDownhill: false,
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

function mainLevel({ house }: FootprintShape, floorFt: number): LevelPart {
  return {
    name: "main",
    role: "house",
    rect: house,
    elevationFt: floorFt - FLOOR_OVER_GRADE_FT,
    floorElevationFt: floorFt,
  };
}

function basementLevel({ house }: FootprintShape, floorFt: number): LevelPart {
  return {
    name: "basement",
    role: "basement",
    rect: house,
    elevationFt: floorFt - DIG_BELOW_FLOOR_FT,
    floorElevationFt: floorFt,
  };
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
      plusV: apron.downhill,
      minusV: apron.uphill,
    };
    tiles.push(
      { rect: garage, offsetFt, part: "garage" },
      { rect: grown(garage, aprons), offsetFt, part: "apron" },
    );
  }
  if (apron.downhill > 0)
    tiles.push({
      rect: { ...house, v0: house.v1, v1: house.v1 + apron.downhill },
      offsetFt: -FLOOR_OVER_GRADE_FT,
      part: "apron",
    });
  return layOut(stacked(tiles), (tile) => tile.part === "house");
}

function buried({ house, garage }: FootprintShape, aprons: Aprons, floorToFloorFt: number): Layout {
  const tiles: Tile[] = [
    { rect: house, offsetFt: FLOOR_OVER_GRADE_FT - floorToFloorFt - DIG_BELOW_FLOOR_FT, part: "house" },
    ...(garage ? [{ rect: garage, offsetFt: 0, part: "garage" } as const] : []),
    { rect: grown(house, aprons), offsetFt: 0, part: "apron" },
    ...(garage ? [{ rect: grown(garage, aprons), offsetFt: 0, part: "apron" } as const] : []),
  ];
  return layOut(stacked(tiles), (tile) => tile.part === "house");
}

/** Basement dig, walls against earth with their drains, bracing and backfill. */
function digUsd(m: Moved, judge: Judge): number {
  const { prices } = judge;
  return (
    toYd3(m.cutFt3) * (prices.digYd3 - prices.cutYd3) +
    digBesideUsd(m.digBesideFt3, m.shoreFt2, judge) +
    (m.houseWallFaceFt2 + WALL_ABOVE_GROUND_FT * m.buriedFt) * prices.basementWallFt2 +
    m.buriedFt * prices.wallDrainFt
  );
}

function digBesideUsd(digFt3: number, shoreFt2: number, { prices }: Judge): number {
  return (
    toYd3(digFt3) * (prices.digYd3 + prices.compactedPerBank * prices.backfillYd3) +
    shoreFt2 * prices.shoreFt2
  );
}

/** Steps between levels are walls of the house, drained at their foot. */
function stepsUsd(layout: Layout, { prices }: Judge): number {
  let usd = 0;
  for (const { lengthFt, riseFt, inHouse } of layout.steps)
    if (inHouse && riseFt > DIG_BELOW_FLOOR_FT)
      usd +=
        lengthFt *
        ((riseFt - DIG_BELOW_FLOOR_FT + WALL_ABOVE_GROUND_FT) * prices.basementWallFt2 + prices.wallDrainFt);
  return usd;
}

/** Solid pipe from the wall drain to the surface downhill: its foot lies below the floor, so the flatter the ground the longer the run. */
function outletUsd(place: Place, house: Rect, { ground, request, prices }: Judge): number {
  const [x, y] = onLot(place, [(house.u0 + house.u1) / 2, house.v1]);
  const [dx, dy] = ground.downhillAt([x, y], LOOK_DOWN_FT);
  const closing = Math.hypot(dx, dy) - request.rules.drainage.minPipeSlopePct / 100;
  const run = DRAIN_BELOW_FLOOR_FT / Math.max(LEAST_CLOSING, closing);
  return (Number.isNaN(run) ? USUAL_OUTLET_RUN_FT : run) * prices.tightlineFt;
}

/** Invert of the wall drain below the floor, and how far down the hill its fall is read. */
const DRAIN_BELOW_FLOOR_FT = 1.5;
const LOOK_DOWN_FT = 20;
/** Flatter than this a run is priced as if it were this steep: it would be pumped. */
const LEAST_CLOSING = 0.02;

/** Share of the downhill wall before which the ground lies at or below the floor. */
function daylightShare(
  place: Place,
  house: Rect,
  floorFt: number,
  stripFt: number,
  { ground }: Judge,
): number {
  let open = 0;
  for (let i = 0; i < DAYLIGHT_LOOKS; i++) {
    const u = house.u0 + ((i + 0.5) / DAYLIGHT_LOOKS) * (house.u1 - house.u0);
    const [x, y] = onLot(place, [u, house.v1 + stripFt + BEYOND_STRIP_FT]);
    if (ground.elevationAt(x, y) <= floorFt + OPEN_WALL_FT) open++;
  }
  return open / DAYLIGHT_LOOKS;
}

function fallAcross(place: Place, house: Rect, { ground }: Judge): number {
  const heights = cornersOf(house).map((corner) => {
    const [x, y] = onLot(place, corner);
    return ground.elevationAt(x, y);
  });
  return Math.max(...heights) - Math.min(...heights);
}

/** Dig outside a wholly buried floor, from the pad down: straight sections along its faces. */
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
    const out: [number, number] = alongU
      ? [u, v + Math.sign(v - (house.v0 + house.v1) / 2) * reach]
      : [u + Math.sign(u - (house.u0 + house.u1) / 2) * reach, v];
    const [x, y] = onLot(place, out);
    if (ground.ownGroundAt(x, y)) digFt3 += ((temporaryBatter * riseFt * riseFt) / 2) * lengthFt;
    else shoreFt2 += riseFt * lengthFt;
  }
  return { digFt3, shoreFt2 };
}

function retainedBreach(retainedFt: number, limitFt: number): Breach[] {
  return atMost("basement-wall", retainedFt, limitFt);
}

function atMost(code: string, measured: number, limit: number): Breach[] {
  return measured > limit ? [{ code, measured, limit }] : [];
}

function atLeast(code: string, measured: number, limit: number): Breach[] {
  return measured < limit ? [{ code, measured, limit }] : [];
}
