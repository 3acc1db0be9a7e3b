/** A quick, honest look at how long a lane to a door will be, for comparing places before any lane is laid. */
import type { StudyRequest } from "../request/request.js";
import type { Reach } from "./access.js";
import { driveRules, shortestRunFt } from "./drive-rules.js";
import { type Bearing, ShortestCurve } from "./shortest-curve.js";
import { leavingBy, nearestEntryIndex, straightOut } from "./street-shots.js";

/** A lane twice as long as the way to the street has to double back: half a turn more; less in proportion. Judgement, from lanes laid. */
const DOUBLING_TURN_RAD = Math.PI;

/** Made once for a lot and asked for thousands of doors. */
export class ApproachLength {
  readonly #entries: Reach["entries"];
  readonly #exits: readonly Bearing[];
  readonly #maxGradePct: number;
  readonly #radiusFt: number;
  readonly #curve = new ShortestCurve();

  constructor({ entries }: Reach, request: StudyRequest) {
    this.#entries = entries;
    this.#exits = entries.map(leavingBy);
    this.#maxGradePct = request.rules.driveway.maxGradePct;
    this.#radiusFt = driveRules(request).radiusFt;
  }

  /**
   * Length of lane from a door (a bearing that looks out of it) with its floor at a height to the street, ft: straight
   * out where that climbs enough at the rules' grades, else the longest of the shortest curve to an entry and the run the
   * climb asks for, with up to half a turn more where the climb makes the lane wind. Obstacles and earth are not looked
   * at. NaN without a known street; any length up to `enoughFt` where it is no longer than that.
   */
  ft(door: Bearing, floorFt: number, enoughFt = 0): number {
    const entries = this.#entries;
    if (entries.length === 0) return NaN;
    const straight = straightOut(entries, door);
    if (straight && shortestRunFt(floorFt - straight.entry.elevFt, this.#maxGradePct) <= straight.lengthFt)
      return straight.lengthFt;
    const nearest = nearestEntryIndex(entries, door.x, door.y);
    let best = Infinity;
    for (const i of [nearest, nearest - 1, nearest + 1]) {
      if (i < 0 || i === entries.length) continue;
      const climbFt = shortestRunFt(floorFt - entries[i]!.elevFt, this.#maxGradePct);
      if (climbFt >= best) continue;
      const curveFt = this.#curve.between(door, this.#exits[i]!, this.#radiusFt, best);
      const doubling = Math.min(1, Math.max(0, climbFt / curveFt - 1));
      best = Math.min(best, Math.max(curveFt, climbFt) + doubling * DOUBLING_TURN_RAD * this.#radiusFt);
      if (best <= enoughFt) break;
    }
    return best;
  }
}
