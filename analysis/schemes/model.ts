/** What a kind of scheme must be able to say for the search to place it. */
import type { StudyRequest } from "../request/request.js";
import type { DriveCost } from "./drive-cost.js";
import type { FootprintShape, Rect } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import type { Layout } from "./layout.js";
import type { Breach, Limits } from "./limits.js";
import type { Moved } from "./moved.js";
import type { Place } from "./place.js";
import type { Level, SchemeKind } from "./scheme.js";
import type { SitePrices } from "./site-cost.js";
import type { Sketch } from "./sketch.js";
import type { Outlook } from "./turned-ground.js";

/** How closely a trial looks. */
export interface Effort {
  readonly stepFt: number;
  readonly edgeStepFt: number;
  /** Rays in the fan at each outside corner. */
  readonly rays: number;
  /** Walk the slopes beside the pad over the real ground, instead of taking them as straight. */
  readonly exact: boolean;
  /** Levels looked at over the whole relief, and how finely the best is closed in on. */
  readonly levelLooks: number;
  readonly levelToFt: number;
  /** Pass over ground the survey does not show instead of giving up. */
  readonly lenient?: boolean;
}

export const GLANCE: Effort = {
  stepFt: 10,
  edgeStepFt: 15,
  rays: 1,
  exact: false,
  levelLooks: 5,
  levelToFt: 2,
};
export const QUICK: Effort = {
  stepFt: 8,
  edgeStepFt: 10,
  rays: 1,
  exact: false,
  levelLooks: 7,
  levelToFt: 0.4,
};
export const NEARER: Effort = {
  stepFt: 5,
  edgeStepFt: 7,
  rays: 2,
  exact: true,
  levelLooks: 7,
  levelToFt: 0.2,
};
export const CLOSE: Effort = {
  stepFt: 3.5,
  edgeStepFt: 5,
  rays: 3,
  exact: true,
  levelLooks: 7,
  levelToFt: 0.1,
};

/**
 * How a trial finds its level: a search over the whole relief, one near a known trial, the known trial's own level
 * carried along with the ground, or a level that is given. A trial that does not come below `giveUpUsd` is given up.
 */
export type LevelChoice = { readonly giveUpUsd?: number } & (
  | { readonly how: "search" }
  | { readonly how: "near"; readonly like: Trial }
  | { readonly how: "carry"; readonly like: Trial }
  | { readonly how: "set"; readonly like: Trial; readonly levelFt: number }
);

export interface Trial {
  readonly place: Place;
  readonly shape: FootprintShape;
  readonly layout: Layout;
  readonly levelFt: number;
  /** Step between levels, where the kind has one; 0 otherwise. */
  readonly stepFt: number;
  /** Ground height that the level goes up and down with when the scheme moves. */
  readonly followedFt: number;
  /** How far the level lies below the brink of the kind (`GradedCase.brinkFt`); Infinity where it has none. */
  readonly underBrinkFt: number;
  readonly exportLooseYd3: number;
  /** Likely site cost. */
  readonly costUsd: number;
  /** Cost with the penalties of broken limits: what is made small. */
  readonly scoreUsd: number;
  readonly breaches: readonly Breach[];
  /** Door of the shape that a car reaches for least; 0 where none is reached. */
  readonly doorIndex: number;
}

/** Everything a trial is judged by; made once for a lot. */
export interface Judge {
  readonly request: StudyRequest;
  readonly ground: GroundGrid;
  readonly sketch: Sketch;
  readonly prices: SitePrices;
  readonly drive: DriveCost;
  readonly limits: Limits;
}

/** One floor of a placed scheme, in the house's own axes. */
export interface LevelPart {
  readonly name: string;
  readonly role: Level["role"];
  readonly rect: Rect;
  readonly elevationFt: number;
  readonly floorElevationFt: number;
}

export interface Model {
  readonly kind: SchemeKind;
  readonly name: string;
  readonly shapes: readonly FootprintShape[];
  /** True when the v axis must point downhill. */
  readonly facesDownhill: boolean;
  /** Roughly what a place costs by the relief under it: tells which places deserve a look. */
  outlookUsd(seen: Outlook, shape: FootprintShape, box: Rect): number;
  /** Null where the ground under the layout is not surveyed, or the search is given up. */
  tryAt(place: Place, shape: FootprintShape, effort: Effort, at: LevelChoice): Trial | null;
  levels(trial: Trial): LevelPart[];
}

/** Floor of the house over the finished ground beside it: 6 in of wall above grade and a slab (IRC R404.1.6; 8 in to wood, R317.1). */
export const FLOOR_OVER_GRADE_FT = 0.67;
/** Roof over the top floor. Common practice, no source. */
export const ROOF_RISE_FT = 4;
/** Share of the graded ground that fill on too steep ground may take before it is a problem. Judgement. */
const TOLERATED_STEEP_FILL = 0.05;
const HEIGHT_ROUNDING_FT = 0.01;

/** The limits every graded scheme shares: wall height, corners that end on the lot, fill on steep ground. */
export function checkGrading(m: Moved, layout: Layout, { rules }: StudyRequest, limits: Limits): void {
  if (m.tallestWallFt > rules.maxSiteWallFt + HEIGHT_ROUNDING_FT)
    limits.breaks("site-wall", m.tallestWallFt, rules.maxSiteWallFt);
  limits.atMost("batter-leaves-lot", m.lostCorners, 0);
  limits.atMost("fill-too-steep", m.tooSteepFillFt2 / layout.areaFt2, TOLERATED_STEEP_FILL);
}

/** Height of the roof over the lowest natural ground at the corners of the house. */
export function checkHeight(
  lowestGroundFt: number,
  lowestFloorFt: number,
  storeys: number,
  { rules }: StudyRequest,
  limits: Limits,
): void {
  const heightFt = lowestFloorFt + storeys * rules.floorToFloorFt + ROOF_RISE_FT - lowestGroundFt;
  if (heightFt > rules.heightLimitFt + HEIGHT_ROUNDING_FT)
    limits.breaks("height", heightFt, rules.heightLimitFt);
}

/** Natural ground at a point of a layout's own axes. */
export function heightAt(
  { eastFt, northFt, turnRad }: Place,
  u: number,
  v: number,
  ground: GroundGrid,
): number {
  const cos = Math.cos(turnRad);
  const sin = Math.sin(turnRad);
  return ground.elevationAt(eastFt + u * cos - v * sin, northFt + u * sin + v * cos);
}

/** The garage as a level of its own, where there is one. */
export function garageLevel(
  { garage }: FootprintShape,
  elevationFt: number,
  floorElevationFt: number,
): LevelPart[] {
  return garage ? [{ name: "garage", role: "garage", rect: garage, elevationFt, floorElevationFt }] : [];
}
