/** Things that happen or not, and how likely they are. Method: docs/methods/cost.md */

import { SQUARE_FEET_PER_ACRE } from "../units.js";
import type { QuantityLine } from "./bill.js";

export interface CostEvent {
  readonly id: string;
  /** "Rock is met in the dig". */
  readonly name: string;
  /** 1 where the request says so. */
  readonly chance: number;
  readonly because: string;
  /** What it adds when it happens. */
  readonly lines: readonly QuantityLine[];
}

/** Chances when nobody knows, and consequences; from memory, order of magnitude. */
export const EVENT_ODDS = {
  rock: 0.25,
  rockShotsAdd: 0.15,
  rockShare: { low: 0.1, likely: 0.25, high: 0.5 },
  /** Where the request calls the whole ground rock. Judgement. */
  rockGroundShare: { low: 0.4, likely: 0.7, high: 0.95 },
  brokenShareOfRock: 0.25,
  water: 0.15,
  /** A dig no deeper than footings go on any lot meets no more water than they do. Judgement. */
  shallowDigFt: 2,
  waterInSwale: 0.35,
  swaleCatchmentFt2: SQUARE_FEET_PER_ACRE / 4,
  oldFill: 0.2,
  oldFillOnBench: 0.5,
  benchSlopePct: 8,
  steepAroundPct: 25,
  oldFillDepthFt: { low: 3, likely: 5, high: 8 },
  oldFillPierFt: { low: 5, likely: 7, high: 10 },
  expansive: 0.4,
  expansivePierFt: 4,
  /** A stiffened slab over a plain one, as a share of SLAB-STRUCT: 27 − 19 of 27 USD. */
  stiffenedSlabShare: 8 / 27,
  shoring: 0.1,
  shoringLeastFt: 8,
  shoringMostFt: 20,
  noSewer: 0.15,
  pump: 0.1,
  dump: 0.25,
  dumpAddsShareOfHaul: 0.5,
} as const;

export function totalOf(quantities: readonly QuantityLine[], ...codes: string[]): number {
  return quantities.reduce((sum, l) => sum + (codes.includes(l.code) ? l.quantity : 0), 0);
}
