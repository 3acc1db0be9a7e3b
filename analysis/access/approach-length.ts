/** A quick, honest look at how long a lane to a door will be, for comparing places before any lane is laid. */
import type { Point } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import type { Reach } from "./access.js";
import { shortestCurveFt } from "./curve-length.js";
import { driveRules, shortestRunFt } from "./drive-rules.js";
import type { Pose } from "./lane-path.js";
import { entriesNear, leavingBy, nearestEntryIndex, straightOut } from "./street-shots.js";

/** A lane twice as long as the way to the street has to double back: half a turn more; less in proportion. Judgement, from lanes laid. */
const DOUBLING_TURN_RAD = Math.PI;

export interface DoorLook {
  readonly at: Point;
  /** Unit vector out of the door. */
  readonly outward: Point;
  readonly floorFt: number;
}

/**
 * Length of lane from a door to the street, ft: straight out where that climbs enough at the rules' grades, else the
 * longest of the shortest curve to an entry and the run the climb asks for, with up to half a turn more where the climb
 * makes the lane wind. Obstacles and earth are not looked at. NaN without a
 * known street.
 */
export function approachLengthFt(reach: Reach, door: DoorLook, request: StudyRequest): number {
  const { entries } = reach;
  if (entries.length === 0) return NaN;
  const { maxGradePct } = request.rules.driveway;
  const { radiusFt } = driveRules(request);
  const pose: Pose = { x: door.at[0], y: door.at[1], heading: Math.atan2(door.outward[1], door.outward[0]) };
  const straight = straightOut(entries, pose);
  if (straight && shortestRunFt(door.floorFt - straight.entry.elevFt, maxGradePct) <= straight.lengthFt)
    return straight.lengthFt;
  let best = Infinity;
  for (const entry of entriesNear(entries, nearestEntryIndex(entries, pose.x, pose.y))) {
    const curveFt = shortestCurveFt(pose, leavingBy(entry), radiusFt);
    const climbFt = shortestRunFt(door.floorFt - entry.elevFt, maxGradePct);
    const doubling = Math.min(1, Math.max(0, climbFt / curveFt - 1));
    best = Math.min(best, Math.max(curveFt, climbFt) + doubling * DOUBLING_TURN_RAD * radiusFt);
  }
  return best;
}
