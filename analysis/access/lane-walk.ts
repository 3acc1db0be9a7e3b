/** Carrying a lane's height, cost and possible climb along its pieces, from the door outwards. */
import type { LaneGround } from "./access.js";
import { APRON_FT, centreLimit, DEEPEST_FT, type DriveRules, STRAIGHT_OUT_FT } from "./drive-rules.js";
import { GroundLook } from "./ground-look.js";
import type { BenchCosts } from "./lane-cost.js";
import { along, type Piece, type Pose } from "./lane-path.js";

export const SAMPLE_FT = 4;
/** The tightest curve against straight lane of the same length; wider ones in proportion. Drivers and trucks dislike them. Judgement. */
const CURVE_COST = 0.3;
/** Shorter pieces are rounding. */
const SHORTEST_FT = 1e-6;

/** Cost of a foot of lane on level ground against straight lane. */
export function curveCost({ turn, radiusFt }: Piece, tightestFt: number): number {
  return turn === 0 ? 1 : 1 + (CURVE_COST * tightestFt) / radiusFt;
}

/** Steepest the centre line may be on a piece that begins `fromFt` from the door. */
export function limitOn({ turn, radiusFt }: Piece, fromFt: number, rules: DriveRules): number {
  const limit = centreLimit(rules.limit, turn === 0 ? Infinity : radiusFt, rules.widthFt);
  return isOnApron(fromFt) ? Math.min(rules.apronGrade, limit) : limit;
}

export function isOnApron(fromFt: number): boolean {
  return fromFt < APRON_FT - SHORTEST_FT;
}

export class LaneWalk {
  /** Of the lane at the place come to, ft, and how far that lies over the ground. */
  elevFt = 0;
  overFt = 0;
  /** Cost so far, in feet of plain lane. */
  spentFt = 0;
  /** Most the lane so far could have climbed, ft. */
  climbFt = 0;
  /** Ground and its fall across the lane where it last looked. */
  groundFt = 0;
  sideGrade = 0;
  readonly #look: GroundLook;
  readonly #lotLook: GroundLook;
  readonly #rules: DriveRules;
  readonly #bench: BenchCosts;
  readonly #needFt: number;

  /** `lot` is the ground before the house stands on it: by the door nothing keeps off the house's own wall. */
  constructor(ground: LaneGround, lot: LaneGround, rules: DriveRules, bench: BenchCosts) {
    this.#look = new GroundLook(ground);
    this.#lotLook = new GroundLook(lot);
    this.#rules = rules;
    this.#bench = bench;
    this.#needFt = rules.halfBedFt - ground.grid.cellFt / 4; // clearances are known to half a cell
  }

  resume(elevFt: number, overFt: number, spentFt: number, climbFt: number): void {
    this.elevFt = elevFt;
    this.overFt = overFt;
    this.spentFt = spentFt;
    this.climbFt = climbFt;
  }

  /** Looks at the ground under a lane that heads (ahead, up), a unit vector; false where there is no room. */
  sees(eastFt: number, northFt: number, ahead: number, up: number, byDoor: boolean): boolean {
    const look = this.#look;
    const room = byDoor ? this.#lotLook : look;
    if (!room.at(eastFt, northFt) || room.clearanceFt < this.#needFt) return false;
    if (byDoor && !look.at(eastFt, northFt)) return false;
    this.groundFt = look.elevFt;
    this.sideGrade = byDoor ? 0 : look.gradNorth * ahead - look.gradEast * up;
    return true;
  }

  /** Along several pieces, `fromFt` from the door at their start; false where one has no room. */
  travel(start: Pose, pieces: readonly Piece[], fromFt: number, towardFt: number): boolean {
    let pose = start;
    let ft = fromFt;
    for (const piece of pieces) {
      for (const part of partsByDoor(piece, ft)) {
        if (!this.walk(pose, part, ft, towardFt)) return false;
        pose = along(pose, part, part.lengthFt);
        ft += part.lengthFt;
      }
    }
    return true;
  }

  /** Along one piece that begins `fromFt` from the door: the lane follows the ground (`towardFt` NaN), or makes for a height. False where it has no room, or lies too deep or too high. */
  walk({ x, y, heading }: Pose, piece: Piece, fromFt: number, towardFt: number): boolean {
    const { turn, lengthFt, radiusFt } = piece;
    const byDoor = fromFt < STRAIGHT_OUT_FT - SHORTEST_FT;
    const limit = limitOn(piece, fromFt, this.#rules);
    const steps = Math.ceil(lengthFt / SAMPLE_FT);
    const stepFt = lengthFt / steps;
    const perFt = curveCost(piece, this.#rules.radiusFt);
    const sine = Math.sin(heading);
    const cosine = Math.cos(heading);
    for (let k = 1; k <= steps; k++) {
      const ft = k * stepFt;
      let ahead = cosine;
      let up = sine;
      let px = x + ft * cosine;
      let py = y + ft * sine;
      if (turn !== 0) {
        const next = heading + (turn * ft) / radiusFt;
        ahead = Math.cos(next);
        up = Math.sin(next);
        px = x + turn * radiusFt * (up - sine);
        py = y - turn * radiusFt * (ahead - cosine);
      }
      if (!this.sees(px, py, ahead, up, byDoor)) return false;
      const goal = Number.isNaN(towardFt) ? this.groundFt : towardFt;
      const mostFt = limit * stepFt;
      this.elevFt += Math.max(-mostFt, Math.min(mostFt, goal - this.elevFt));
      this.overFt = this.elevFt - this.groundFt;
      if (!(Math.abs(this.overFt) <= DEEPEST_FT)) return false;
      this.spentFt += stepFt * (perFt + this.#bench.at(this.overFt, this.sideGrade));
    }
    this.climbFt += limit * lengthFt;
    return true;
  }
}

/** A piece in parts where the door's and the apron's own rules end within it. */
export function partsByDoor(piece: Piece, fromFt: number): Piece[] {
  if (fromFt >= APRON_FT) return [piece];
  const parts: Piece[] = [];
  let done = 0;
  for (const untilFt of [STRAIGHT_OUT_FT, APRON_FT, Infinity]) {
    const lengthFt = Math.min(piece.lengthFt - done, untilFt - fromFt - done);
    if (lengthFt < SHORTEST_FT) continue;
    parts.push({ ...piece, lengthFt });
    done += lengthFt;
  }
  return parts;
}
