/** What a whole centre line is likely to cost, with heights that reach both its ends. Method: docs/methods/access.md */
import type { LaneGround } from "./access.js";
import { DEEPEST_FT, type DriveRules, riseLostFt, SHORT_DRIVE_FT, THROAT_FT } from "./drive-rules.js";
import type { BenchCosts } from "./lane-cost.js";
import { along, type LanePath, lengthFt, type Piece, type Pose } from "./lane-path.js";
import type { FoundLane } from "./lane-search.js";
import { curveCost, LaneWalk, limitOn, partsByDoor, SAMPLE_FT } from "./lane-walk.js";

export class LineCost {
  readonly #walk: LaneWalk;
  readonly #rules: DriveRules;
  readonly #bench: BenchCosts;
  readonly #floorFt: number;
  // by sample, from the door
  readonly #groundFt: number[] = [];
  readonly #sideGrade: number[] = [];
  readonly #stepFt: number[] = [];
  readonly #perFt: number[] = [];
  readonly #mostFt: number[] = [];
  readonly #costs: number[] = [];
  /** Pieces read last, with where each ended: lines tried one after another begin alike. */
  readonly #read: { piece: Piece; end: Pose; ft: number; samples: number }[] = [];

  constructor(ground: LaneGround, lot: LaneGround, floorFt: number, rules: DriveRules, bench: BenchCosts) {
    this.#walk = new LaneWalk(ground, lot, rules, bench);
    this.#rules = rules;
    this.#bench = bench;
    this.#floorFt = floorFt;
  }

  /**
   * Length, more in curves, plus bench and walls, in feet of plain lane; null where the line has no room, cannot climb
   * enough, or no heights within the limit stay near enough to the ground, and null above `budgetFt`.
   */
  of({ path, entry }: FoundLane, budgetFt = Infinity): number | null {
    const totalFt = lengthFt(path);
    if (totalFt > budgetFt || !this.#readAlong(path)) return null;
    const count = this.#groundFt.length;
    const most = this.#mostAlong(totalFt);
    let climbFt = 0;
    for (let i = 0; i < count; i++) climbFt += most[i]!;
    const { limit, apronGrade, throatGrade } = this.#rules;
    const lostFt =
      totalFt <= SHORT_DRIVE_FT ? 0 : riseLostFt(apronGrade, limit) + riseLostFt(throatGrade, limit);
    if (climbFt - lostFt < Math.abs(entry.elevFt - this.#floorFt) - ROUNDING_FT) return null;
    const heights = nearestWithin(this.#groundFt, most, this.#floorFt, entry.elevFt, climbFt);
    let cost = 0;
    for (let i = 0; i < count; i++) {
      const overFt = heights[i]! - this.#groundFt[i]!;
      if (!(Math.abs(overFt) <= DEEPEST_FT)) return null;
      const stepCost = this.#stepFt[i]! * (this.#perFt[i]! + this.#bench.at(overFt, this.#sideGrade[i]!));
      this.#costs[i] = stepCost;
      cost += stepCost;
      if (cost > budgetFt) return null;
    }
    return cost;
  }

  /** What each piece of the line priced last costs, feet of plain lane. */
  byPiece(): number[] {
    let from = 0;
    return this.#read.map(({ samples }) => {
      let cost = 0;
      for (; from < samples; from++) cost += this.#costs[from]!;
      return cost;
    });
  }

  /** Largest rise of each step; short drives and the throat keep to the throat's grade. */
  #mostAlong(totalFt: number): Float64Array {
    const { throatGrade } = this.#rules;
    const most = new Float64Array(this.#groundFt.length);
    for (let i = 0; i < most.length; i++) most[i] = this.#mostFt[i]!;
    const short = totalFt <= SHORT_DRIVE_FT;
    for (let i = most.length - 1, leftFt = short ? totalFt : THROAT_FT; i >= 0 && leftFt > 0; i--) {
      const stepFt = this.#stepFt[i]!;
      const onThroatFt = Math.min(stepFt, leftFt);
      most[i] = short
        ? throatGrade * stepFt
        : Math.min(most[i]!, throatGrade * onThroatFt + most[i]! * (1 - onThroatFt / stepFt));
      leftFt -= stepFt;
    }
    return most;
  }

  /** Ground, side slope and grade limit along the line; false where there is no room. */
  #readAlong({ start, pieces }: LanePath): boolean {
    let known = 0;
    while (known < this.#read.length && this.#read[known]!.piece === pieces[known]) known++;
    this.#read.length = known;
    const last = this.#read[known - 1];
    this.#groundFt.length = last?.samples ?? 0;
    let pose = last?.end ?? start;
    let ft = last?.ft ?? 0;
    for (const piece of pieces.slice(known)) {
      for (const part of partsByDoor(piece, ft)) {
        if (!this.#readPart(part, pose, ft)) return false;
        pose = along(pose, part, part.lengthFt);
        ft += part.lengthFt;
      }
      this.#read.push({ piece, end: pose, ft, samples: this.#groundFt.length });
    }
    return true;
  }

  #readPart(part: Piece, pose: Pose, fromFt: number): boolean {
    const rules = this.#rules;
    const steps = Math.max(1, Math.ceil(part.lengthFt / SAMPLE_FT));
    const stepFt = part.lengthFt / steps;
    const mostFt = stepFt * limitOn(part, fromFt, rules);
    const perFt = curveCost(part, rules.radiusFt);
    const { turn, radiusFt } = part;
    // direction, turned step by step
    const cos = turn === 0 ? 1 : Math.cos(stepFt / radiusFt);
    const sin = turn === 0 ? 0 : turn * Math.sin(stepFt / radiusFt);
    const chordFt = turn === 0 ? stepFt : 2 * radiusFt * Math.sin(stepFt / (2 * radiusFt));
    const half = turn === 0 ? 0 : (turn * stepFt) / (2 * radiusFt);
    let { x, y } = pose;
    let ahead = Math.cos(pose.heading + half);
    let up = Math.sin(pose.heading + half);
    for (let k = 0; k < steps; k++) {
      x += chordFt * ahead;
      y += chordFt * up;
      if (!this.#walk.sees(x, y, ahead, up, fromFt === 0)) return false;
      const i = this.#groundFt.length;
      this.#groundFt.push(this.#walk.groundFt);
      this.#sideGrade[i] = this.#walk.sideGrade;
      this.#stepFt[i] = stepFt;
      this.#perFt[i] = perFt;
      this.#mostFt[i] = mostFt;
      const next = ahead * cos - up * sin;
      up = ahead * sin + up * cos;
      ahead = next;
    }
    return true;
  }
}

const ROUNDING_FT = 0.01;

/**
 * Heights at the samples that change by at most `mostFt` from one to the next, come from `startFt` before the first,
 * end at `endFt`, and stay as near to the ground as their largest distance goes: half-way between the highest surface
 * under the ground and the lowest over it that keep the limit (McShane's extensions), held to what both ends can reach.
 */
function nearestWithin(
  groundFt: readonly number[],
  mostFt: ArrayLike<number>,
  startFt: number,
  endFt: number,
  climbFt: number,
): Float64Array {
  const count = groundFt.length;
  const under = Float64Array.from(groundFt);
  const over = Float64Array.from(groundFt);
  for (let i = 1; i < count; i++) {
    under[i] = Math.min(under[i]!, under[i - 1]! + mostFt[i]!);
    over[i] = Math.max(over[i]!, over[i - 1]! - mostFt[i]!);
  }
  for (let i = count - 2; i >= 0; i--) {
    under[i] = Math.min(under[i]!, under[i + 1]! + mostFt[i + 1]!);
    over[i] = Math.max(over[i]!, over[i + 1]! - mostFt[i + 1]!);
  }
  let doneFt = 0;
  for (let i = 0; i < count; i++) {
    doneFt += mostFt[i]!;
    const leftFt = climbFt - doneFt;
    const lowest = Math.max(startFt - doneFt, endFt - leftFt);
    const highest = Math.min(startFt + doneFt, endFt + leftFt);
    under[i] = Math.max(lowest, Math.min(highest, (under[i]! + over[i]!) / 2));
  }
  return under;
}
