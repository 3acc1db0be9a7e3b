/** What a floor in the ground costs beside the pad: the hole around it, its walls, drains and bracing. */
import type { Point } from "../geometry/plane.js";
import type { Brief } from "../request/request.js";
import { toYd3 } from "../units.js";
import type { FootprintShape, Rect } from "./footprints.js";
import type { Layout } from "./layout.js";
import { FLOOR_OVER_GRADE_FT, heightAt, type Judge, type LevelPart } from "./model.js";
import type { Moved } from "./moved.js";
import { onLot, type Place } from "./place.js";
import { DIG_BELOW_FLOOR_FT } from "./sketch.js";

/** Wall and waterproofing stand this much above the earth. Common practice, no source. */
export const WALL_ABOVE_GROUND_FT = 1;
/** Pipe from the wall drain to where it can run out, when nothing better is known. Judgement. */
export const USUAL_OUTLET_RUN_FT = 40;
/** Invert of the wall drain below the floor (common practice), and how far down the hill its fall is read. */
const DRAIN_BELOW_FLOOR_FT = 1.5;
const LOOK_DOWN_FT = 20;
/** Flatter than this a run is priced as if it were this steep: it would be pumped. */
const LEAST_CLOSING = 0.02;

/** Floors of a house with a basement: one of its storeys goes into the ground. */
export function floorsWithBasement({ storeys }: Brief): number {
  return Math.max(2, storeys);
}

/** Basement dig, walls against earth with their drains, bracing and backfill. */
export function digUsd(m: Moved, judge: Judge): number {
  const { prices } = judge;
  return (
    confinedDigUsd(m, judge) +
    digBesideUsd(m.digBesideFt3, m.shoreFt2, judge) +
    (m.houseWallFaceFt2 + WALL_ABOVE_GROUND_FT * m.buriedFt) * prices.basementWallFt2 +
    m.buriedFt * prices.wallDrainFt
  );
}

/** A basement is dug in a confined hole, dearer than open cut, which is counted elsewhere. */
export function confinedDigUsd({ cutFt3 }: Moved, { prices }: Judge): number {
  return toYd3(cutFt3) * (prices.digYd3 - prices.cutYd3);
}

/** Dug beside the walls and put back, and faces braced where no slope has room. */
export function digBesideUsd(digFt3: number, shoreFt2: number, { prices }: Judge): number {
  return (
    toYd3(digFt3) * (prices.digYd3 + prices.compactedPerBank * prices.backfillYd3) +
    shoreFt2 * prices.shoreFt2
  );
}

/** Feet that each face of a house is buried by, uphill first and on round. */
export interface BuriedFaces {
  readonly minusV: number;
  readonly plusU: number;
  readonly plusV: number;
  readonly minusU: number;
}

/** The hole beside buried faces on even ground: a slope back to it where that ends on the own lot, bracing where not. */
export function besideFacesUsd(place: Place, house: Rect, buriedFt: BuriedFaces, judge: Judge): number {
  const { workingSpaceFt, temporaryBatter } = judge.request.rules;
  const { u0, v0, u1, v1 } = house;
  const u = (u0 + u1) / 2;
  const v = (v0 + v1) / 2;
  let digFt3 = 0;
  let shoreFt2 = 0;
  const beside = (retainedFt: number, lengthFt: number, at: Point, out: Point) => {
    if (!(retainedFt > 0)) return;
    const deepFt = retainedFt + DIG_BELOW_FLOOR_FT;
    const reachFt = workingSpaceFt + temporaryBatter * deepFt;
    const [x, y] = onLot(place, [at[0] + reachFt * out[0], at[1] + reachFt * out[1]]);
    digFt3 += workingSpaceFt * deepFt * lengthFt;
    if (judge.ground.ownGroundAt(x, y)) digFt3 += ((temporaryBatter * deepFt * deepFt) / 2) * lengthFt;
    else shoreFt2 += deepFt * lengthFt;
  };
  beside(buriedFt.minusV, u1 - u0, [u, v0], [0, -1]);
  beside(buriedFt.plusU, v1 - v0, [u1, v], [1, 0]);
  beside(buriedFt.plusV, u1 - u0, [u, v1], [0, 1]);
  beside(buriedFt.minusU, v1 - v0, [u0, v], [-1, 0]);
  return digBesideUsd(digFt3, shoreFt2, judge);
}

/** Steps between levels are walls of the house, drained at their foot. */
export function stepsUsd({ steps }: Layout, { prices }: Judge): number {
  let usd = 0;
  for (const { lengthFt, riseFt, inHouse } of steps)
    if (inHouse && riseFt > DIG_BELOW_FLOOR_FT)
      usd +=
        lengthFt *
        ((riseFt - DIG_BELOW_FLOOR_FT + WALL_ABOVE_GROUND_FT) * prices.basementWallFt2 + prices.wallDrainFt);
  return usd;
}

/** Solid pipe from the wall drain to the surface downhill: its foot lies below the floor, so the flatter the ground the longer the run. */
export function outletUsd(place: Place, house: Rect, { ground, request, prices }: Judge): number {
  const [x, y] = onLot(place, [(house.u0 + house.u1) / 2, house.v1]);
  const [dx, dy] = ground.downhillAt([x, y], LOOK_DOWN_FT);
  const closing = Math.hypot(dx, dy) - request.rules.drainage.minPipeSlopePct / 100;
  const run = DRAIN_BELOW_FLOOR_FT / Math.max(LEAST_CLOSING, closing);
  return (Number.isNaN(run) ? USUAL_OUTLET_RUN_FT : run) * prices.tightlineFt;
}

export function mainLevel({ house }: FootprintShape, floorFt: number): LevelPart {
  const elevationFt = floorFt - FLOOR_OVER_GRADE_FT;
  return { name: "main", role: "house", rect: house, elevationFt, floorElevationFt: floorFt };
}

export function basementLevel({ house }: FootprintShape, floorFt: number): LevelPart {
  const elevationFt = floorFt - DIG_BELOW_FLOOR_FT;
  return { name: "basement", role: "basement", rect: house, elevationFt, floorElevationFt: floorFt };
}

/** Highest less lowest natural ground at the corners. */
export function fallAcrossFt(place: Place, { u0, v0, u1, v1 }: Rect, { ground }: Judge): number {
  const a = heightAt(place, u0, v0, ground);
  const b = heightAt(place, u1, v0, ground);
  const c = heightAt(place, u1, v1, ground);
  const d = heightAt(place, u0, v1, ground);
  return Math.max(a, b, c, d) - Math.min(a, b, c, d);
}
