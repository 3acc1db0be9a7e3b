/** Carrying a lane's height, cost and possible climb along its pieces, from the door outwards. */
import type { LaneGround } from "./access.js";
import { APRON_FT, centreLimit, DEEPEST_FT, type DriveRules, STRAIGHT_OUT_FT } from "./drive-rules.js";
import { GroundLook } from "./ground-look.js";
import { benchCost } from "./lane-cost.js";
import { along, type Piece, type Pose } from "./lane-path.js";

const SAMPLE_FT = 4;
/** The tightest curve against straight lane of the same length; wider ones in proportion. Drivers and trucks dislike them. Judgement. */
const CURVE_COST = 0.3;
/** Shorter pieces are rounding. */
const SHORTEST_FT = 1e-6;

export class LaneWalk {
  /** Of the lane at the place come to, ft, and how far that lies over the ground. */
  elevFt = 0;
  overFt = 0;
  /** Cost so far, in feet of plain lane. */
  spentFt = 0;
  /** Most the lane so far could have climbed, ft. */
  climbFt = 0;
  readonly #look: GroundLook;
  readonly #lotLook: GroundLook;
  readonly #rules: DriveRules;
  readonly #needFt: number;

  /** `lot` is the ground before the house stands on it: by the door nothing keeps off the house's own wall. */
  constructor(ground: LaneGround, lot: LaneGround, rules: DriveRules) {
    this.#look = new GroundLook(ground);
    this.#lotLook = new GroundLook(lot);
    this.#rules = rules;
    this.#needFt = rules.halfBedFt - ground.grid.cellFt / 4; // clearances are known to half a cell
  }

  resume(elevFt: number, overFt: number, spentFt: number, climbFt: number): void {
    this.elevFt = elevFt;
    this.overFt = overFt;
    this.spentFt = spentFt;
    this.climbFt = climbFt;
  }

  /** Along several pieces, `fromFt` from the door at their start; where it ends, or null where one has no room. */
  travel(start: Pose, pieces: readonly Piece[], fromFt: number, towardFt: number): Pose | null {
    let pose = start;
    let ft = fromFt;
    for (const piece of pieces) {
      let done = 0;
      // the door's and the apron's own rules end within a piece
      for (const untilFt of [STRAIGHT_OUT_FT, APRON_FT, Infinity]) {
        const lengthFt = Math.min(piece.lengthFt - done, untilFt - ft);
        if (lengthFt < SHORTEST_FT) continue;
        if (!this.walk(along(pose, piece, done), { ...piece, lengthFt }, ft, towardFt)) return null;
        done += lengthFt;
        ft += lengthFt;
      }
      pose = along(pose, piece, piece.lengthFt);
    }
    return pose;
  }

  /**
   * Along one piece that begins `fromFt` from the door: the lane follows the ground, or makes for a height, as fast as its
   * limit allows. False where there is no room or it lies too deep or too high.
   */
  walk(
    { x, y, heading }: Pose,
    { turn, lengthFt, radiusFt }: Piece,
    fromFt: number,
    towardFt: number,
  ): boolean {
    const rules = this.#rules;
    const onApron = fromFt < APRON_FT - SHORTEST_FT;
    const byDoor = fromFt < STRAIGHT_OUT_FT - SHORTEST_FT;
    const curveLimit = centreLimit(rules.limit, turn === 0 ? Infinity : radiusFt, rules.widthFt);
    const limit = onApron ? Math.min(rules.apronGrade, curveLimit) : curveLimit;
    const steps = Math.ceil(lengthFt / SAMPLE_FT);
    const stepFt = lengthFt / steps;
    const perFt = turn === 0 ? 1 : 1 + (CURVE_COST * rules.radiusFt) / radiusFt;
    const look = this.#look;
    const room = byDoor ? this.#lotLook : look;
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
      if (!room.at(px, py) || room.clearanceFt < this.#needFt) return false;
      if (byDoor && !look.at(px, py)) return false;
      const ground = look.elevFt;
      const goal = Number.isNaN(towardFt) ? ground : towardFt;
      this.elevFt += Math.max(-limit * stepFt, Math.min(limit * stepFt, goal - this.elevFt));
      this.overFt = this.elevFt - ground;
      if (Math.abs(this.overFt) > DEEPEST_FT) return false;
      const side = byDoor ? 0 : look.gradNorth * ahead - look.gradEast * up;
      this.spentFt += stepFt * (perFt + benchCost(this.overFt, side, rules));
    }
    this.climbFt += limit * lengthFt;
    return true;
  }
}
