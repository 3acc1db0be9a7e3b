/** What a whole centre line is likely to cost, with heights that reach both its ends. Method: docs/methods/access.md */
import type { LaneGround } from "./access.js";
import {
  APRON_FT,
  DEEPEST_FT,
  type DriveRules,
  riseLostFt,
  SHORT_DRIVE_FT,
  THROAT_FT,
} from "./drive-rules.js";
import type { BenchCosts } from "./lane-cost.js";
import { along, type LanePath, lengthFt, type Piece, type Pose } from "./lane-path.js";
import type { FoundLane } from "./lane-search.js";
import { curveCost, LaneWalk, limitOn, partsByDoor, SAMPLE_FT } from "./lane-walk.js";

/** Where a piece of the line read last ends, with the lane and the samples from the door to there. */
interface Joint {
  readonly piece: Piece;
  readonly end: Pose;
  readonly ft: number;
  readonly samples: number;
}

export class LineCost {
  readonly #walk: LaneWalk;
  readonly #rules: DriveRules;
  readonly #bench: BenchCosts;
  readonly #floorFt: number;
  #line = new Samples(FIRST_ROOM);
  #count = 0;
  /** Lines tried one after another begin alike: their first pieces are read once. */
  readonly #joints: Joint[] = [];

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
    const count = this.#count;
    const { groundFt, gradeFt, sideGrade, stepFt, perFt, onGround, cost } = this.#line;
    let leftAtLeast = 0;
    for (let i = 0; i < count; i++) leftAtLeast += onGround[i]!;
    if (leftAtLeast > budgetFt) return null;
    const climbFt = this.#limitRises(totalFt);
    const { limit, apronGrade, throatGrade } = this.#rules;
    const lostFt =
      totalFt <= SHORT_DRIVE_FT ? 0 : riseLostFt(apronGrade, limit) + riseLostFt(throatGrade, limit);
    if (climbFt - lostFt < Math.abs(entry.elevFt - this.#floorFt) - ROUNDING_FT) return null;
    setNearest(this.#line, count, this.#floorFt, entry.elevFt, climbFt);
    let sum = 0;
    for (let i = 0; i < count; i++) {
      const overFt = gradeFt[i]! - groundFt[i]!;
      if (!(Math.abs(overFt) <= DEEPEST_FT)) return null;
      cost[i] = stepFt[i]! * (perFt[i]! + this.#bench.at(overFt, sideGrade[i]!));
      sum += cost[i]!;
      leftAtLeast -= onGround[i]!;
      if (sum + leftAtLeast > budgetFt) return null;
    }
    return sum;
  }

  /** What each piece of the line priced last costs. */
  byPiece(): number[] {
    let i = 0;
    return this.#joints.map(({ samples }) => {
      let sum = 0;
      for (; i < samples; i++) sum += this.#line.cost[i]!;
      return sum;
    });
  }

  /** Sets the largest rise of each step (short drives and the throat keep to the throat's grade) and tells their sum. */
  #limitRises(totalFt: number): number {
    const { throatGrade } = this.#rules;
    const { laneMostFt, mostFt, stepFt } = this.#line;
    const short = totalFt <= SHORT_DRIVE_FT;
    let leftFt = short ? totalFt : THROAT_FT;
    let sum = 0;
    for (let i = this.#count - 1; i >= 0; i--) {
      const ft = stepFt[i]!;
      const onThroatFt = Math.min(ft, Math.max(0, leftFt));
      mostFt[i] =
        onThroatFt === 0
          ? laneMostFt[i]!
          : short
            ? throatGrade * ft
            : Math.min(laneMostFt[i]!, throatGrade * onThroatFt + laneMostFt[i]! * (1 - onThroatFt / ft));
      leftFt -= ft;
      sum += mostFt[i]!;
    }
    return sum;
  }

  /** Ground, side slope and grade limit along the line; false where there is no room. */
  #readAlong({ start, pieces }: LanePath): boolean {
    let known = 0;
    while (known < this.#joints.length && this.#joints[known]!.piece === pieces[known]) known++;
    this.#joints.length = known;
    const last = this.#joints[known - 1];
    this.#count = last?.samples ?? 0;
    let pose = last?.end ?? start;
    let ft = last?.ft ?? 0;
    for (let i = known; i < pieces.length; i++) {
      const piece = pieces[i]!;
      const end = this.#readPiece(piece, pose, ft);
      if (!end) return false;
      pose = end;
      ft += piece.lengthFt;
      this.#joints.push({ piece, end, ft, samples: this.#count });
    }
    return true;
  }

  /** Where a piece ends; null where it has no room. */
  #readPiece(piece: Piece, pose: Pose, fromFt: number): Pose | null {
    if (fromFt >= APRON_FT)
      return this.#readPart(piece, pose, fromFt) ? along(pose, piece, piece.lengthFt) : null;
    let from = pose;
    let ft = fromFt;
    for (const part of partsByDoor(piece, fromFt)) {
      if (!this.#readPart(part, from, ft)) return null;
      from = along(from, part, part.lengthFt);
      ft += part.lengthFt;
    }
    return from;
  }

  #readPart(part: Piece, pose: Pose, fromFt: number): boolean {
    const rules = this.#rules;
    const walk = this.#walk;
    const { turn, radiusFt, lengthFt: ft } = part;
    const steps = Math.max(1, Math.ceil(ft / SAMPLE_FT));
    const stepFt = ft / steps;
    const mostFt = stepFt * limitOn(part, fromFt, rules);
    const perFt = curveCost(part, rules.radiusFt);
    if (this.#count + steps > this.#line.room) this.#line = this.#line.wider(this.#count + steps);
    const line = this.#line;
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
      if (!walk.sees(x, y, ahead, up, fromFt === 0)) return false;
      const i = this.#count++;
      line.groundFt[i] = walk.groundFt;
      line.sideGrade[i] = walk.sideGrade;
      line.stepFt[i] = stepFt;
      line.perFt[i] = perFt;
      line.laneMostFt[i] = mostFt;
      line.onGround[i] = stepFt * (perFt + this.#bench.at(0, walk.sideGrade));
      const next = ahead * cos - up * sin;
      up = ahead * sin + up * cos;
      ahead = next;
    }
    return true;
  }
}

const ROUNDING_FT = 0.01;
const FIRST_ROOM = 256;

/** What is known of a line at each sample from the door on. */
class Samples {
  readonly room: number;
  readonly groundFt: Float64Array;
  /** Fall of the ground across the lane. */
  readonly sideGrade: Float64Array;
  /** Lane since the sample before, and what a foot of it costs on level ground. */
  readonly stepFt: Float64Array;
  readonly perFt: Float64Array;
  /** Largest rise of that step where the street is far, and in the line as it ends. */
  readonly laneMostFt: Float64Array;
  readonly mostFt: Float64Array;
  /** Height of the lane; before that, the highest surface under the ground. */
  readonly gradeFt: Float64Array;
  /** The lowest surface over the ground. */
  readonly overFt: Float64Array;
  /** Cost of that step, did the lane lie on the ground itself (about the least it can be), and in the line as it ends. */
  readonly onGround: Float64Array;
  readonly cost: Float64Array;

  constructor(room: number) {
    const column = () => new Float64Array(room);
    this.room = room;
    this.groundFt = column();
    this.sideGrade = column();
    this.stepFt = column();
    this.perFt = column();
    this.laneMostFt = column();
    this.mostFt = column();
    this.gradeFt = column();
    this.overFt = column();
    this.onGround = column();
    this.cost = column();
  }

  /** The same with room for so many, and more to come. */
  wider(room: number): Samples {
    const wider = new Samples(2 * room);
    for (const column of ["groundFt", "sideGrade", "stepFt", "perFt", "laneMostFt", "onGround"] as const)
      wider[column].set(this[column]);
    return wider;
  }
}

/**
 * Heights at the samples that change by at most `mostFt` from one to the next, come from `startFt` before the first,
 * end at `endFt`, and stay as near to the ground as their largest distance goes: half-way between the highest surface
 * under the ground and the lowest over it that keep the limit (McShane's extensions), held to what both ends can reach.
 */
function setNearest(
  { groundFt, mostFt, gradeFt: under, overFt: over }: Samples,
  count: number,
  startFt: number,
  endFt: number,
  climbFt: number,
): void {
  under[0] = groundFt[0]!;
  over[0] = groundFt[0]!;
  for (let i = 1; i < count; i++) {
    under[i] = Math.min(groundFt[i]!, under[i - 1]! + mostFt[i]!);
    over[i] = Math.max(groundFt[i]!, over[i - 1]! - mostFt[i]!);
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
}
