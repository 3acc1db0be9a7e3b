/**
 * Cut and fill of a design surface made of level pads and the banks around them, exact on the facets.
 * final = min(max(ground, level − d / fillBatter), level + d / cutBatter), d = distance to the pad, and only ground
 * connected to the pad. Method: docs/methods/earthwork.md
 */
import type { Ring } from "../geometry/plane.js";
import type { Tin } from "../terrain/terrain.js";
import { BankWalk, type Sums } from "./bank-walk.js";
import { type Corners, orient, type Pad, zonesOf } from "./batter-zones.js";
import type { CutFill } from "./earthwork.js";
import { type Footprint, prepareFootprint } from "./footprint.js";
import type { GradedPiece } from "./plane-pieces.js";

export interface Grading {
  /** Level pads that do not overlap; an edge shared by two pads must be "wall" or "vertical" on both. */
  readonly pads: readonly Pad[];
  /** Run per unit of rise. */
  readonly cutBatter: number;
  readonly fillBatter: number;
  /** Banks stop here: the lot line. */
  readonly limit?: Ring | null;
  readonly corners?: Corners;
  /** Counts and draws one side alone: a pit is all cut. */
  readonly only?: "cut" | "fill";
}

/** Volumes and areas of pads and banks together. */
export interface GradedSurface extends CutFill {
  readonly onPads: CutFill;
  readonly footprints: readonly Footprint[];
  /** Pads and banks in plan. */
  readonly disturbedFt2: number;
  /** Farthest a bank reaches from its pad. */
  readonly cutReachFt: number;
  readonly fillReachFt: number;
  /** Highest banks, from the pad to where they meet the ground. */
  readonly cutBankFt: number;
  readonly fillBankFt: number;
  /** A bank would cross the limit; it was stopped there. */
  readonly leavesLimit: boolean;
  /** Plan area of bank beyond the limit, as far as it was followed: a lower bound. */
  readonly beyondLimitFt2: number;
  /** A bank had not met the ground where the survey ends: volumes are lower bounds. */
  readonly leavesSurvey: boolean;
  /** Pad area without surveyed ground under it. */
  readonly unsurveyedFt2: number;
  /** Bound of the error that rounded corners, taken as narrow wedges, put into cut and fill each. */
  readonly errorFt3: number;
  /** A bank ran against another pad, or across an inward corner, and was stopped there. */
  readonly meetsPads: boolean;
  readonly banks: readonly GradedPiece[];
  readonly limit: Ring | null;
  readonly pads: readonly Pad[];
  readonly only: "cut" | "fill" | "both";
}

/**
 * How many times higher than at the pad's edge a bank has grown where it meets ground that slopes by `slope` (rise ÷ run)
 * straight against it: 1 / (1 − b·s). Null when it never meets: b·s ≥ 1.
 */
export function catchMultiplier(batter: number, slope: number): number | null {
  const rest = 1 - batter * slope;
  return rest > 1e-12 ? 1 / rest : null;
}

/**
 * Volumes between the ground and the design surface of one or several pads.
 *
 * @throws {RangeError} for a batter that is negative, a ring without area, or sides that do not match the edges.
 */
export function gradeSurface(tin: Tin, grading: Grading): GradedSurface {
  const { cutBatter, fillBatter, limit = null, corners = "round", only = "both" } = grading;
  for (const [name, value] of Object.entries({ cutBatter, fillBatter }))
    if (!(value >= 0 && value < Infinity)) throw new RangeError(`${name} must be a number ≥ 0, got ${value}`);
  const pads = grading.pads.map(orient);
  const footprints = pads.map(({ ring }) => prepareFootprint(tin, ring));
  const sum = { cutFt3: 0, fillFt3: 0, cutFt2: 0, fillFt2: 0, maxCutFt: 0, maxFillFt: 0 };
  footprints.forEach((footprint, i) => {
    addSides(sum, footprint.evaluate(pads[i]!.levelFt), only);
  });
  const onPads = { ...sum };
  const walk = new BankWalk(tin, pads, zonesOf(pads, corners), limit);
  if (only !== "fill" && cutBatter > 0) walk.run("cut", cutBatter);
  if (only !== "cut" && fillBatter > 0) walk.run("fill", fillBatter);
  addSides(sum, walk.sum, only);
  const padFt2 = footprints.reduce((area, { areaFt2 }) => area + areaFt2, 0);
  return {
    ...sum,
    onPads,
    footprints,
    disturbedFt2: padFt2 + walk.sum.cutFt2 + walk.sum.fillFt2,
    cutReachFt: walk.reachFt.cut,
    fillReachFt: walk.reachFt.fill,
    cutBankFt: cutBatter > 0 ? walk.reachFt.cut / cutBatter : 0,
    fillBankFt: fillBatter > 0 ? walk.reachFt.fill / fillBatter : 0,
    leavesLimit: walk.leavesLimit,
    beyondLimitFt2: walk.beyondLimitFt2,
    leavesSurvey: walk.leavesSurvey,
    unsurveyedFt2: footprints.reduce((area, f) => area + Math.max(0, f.areaFt2 - f.coveredFt2), 0),
    errorFt3: Math.max(walk.errorFt3.cut, walk.errorFt3.fill),
    meetsPads: walk.meetsPads,
    banks: walk.pieces,
    limit: walk.leavesLimit ? limit : null,
    pads,
    only,
  };
}

function addSides(sum: Sums, part: CutFill, only: "cut" | "fill" | "both"): void {
  if (only !== "fill") {
    sum.cutFt3 += part.cutFt3;
    sum.cutFt2 += part.cutFt2;
    sum.maxCutFt = Math.max(sum.maxCutFt, part.maxCutFt);
  }
  if (only !== "cut") {
    sum.fillFt3 += part.fillFt3;
    sum.fillFt2 += part.fillFt2;
    sum.maxFillFt = Math.max(sum.maxFillFt, part.maxFillFt);
  }
}
