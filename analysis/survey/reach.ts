/** Is there enough ground, and is it where the lot is? */
import { boxOf, type Ring } from "../geometry/plane.js";
import type { IntakeNotes } from "./notes.js";
import type { GroundPoints } from "./survey.js";

/** A survey thinner than this is a line of shots. */
const THINNEST_FT = 0.5;

/** False with a problem when no facet can be made. */
export function checkEnough(ground: GroundPoints, notes: IntakeNotes): boolean {
  if (ground.count < 3) {
    notes.problems.push({
      code: "topo-too-few-points",
      where: "topo",
      message: `${ground.count} usable ground ${ground.count === 1 ? "shot is" : "shots are"} left; a surface needs three, a lot needs dozens.`,
      remedy: "Send more ground shots; look at the rows that were left out and at survey.codes.",
    });
    return false;
  }
  if (widthAcross(ground) < THINNEST_FT) {
    notes.problems.push({
      code: "topo-on-one-line",
      where: "topo",
      message: "All ground shots lie on one line, so they describe a profile and not a surface.",
      remedy: "Check northings and eastings; send shots spread over the lot.",
    });
    return false;
  }
  return true;
}

/** Spread of the shots across their longest direction, ft. */
function widthAcross({ count, eastFt, northFt }: GroundPoints): number {
  let far = 0;
  let farFt = -1;
  for (let i = 1; i < count; i++) {
    const d = Math.hypot(eastFt[i]! - eastFt[0]!, northFt[i]! - northFt[0]!);
    if (d > farFt) [far, farFt] = [i, d];
  }
  if (farFt <= 0) return 0;
  const ux = (eastFt[far]! - eastFt[0]!) / farFt;
  const uy = (northFt[far]! - northFt[0]!) / farFt;
  let left = 0;
  let right = 0;
  for (let i = 1; i < count; i++) {
    const across = ux * (northFt[i]! - northFt[0]!) - uy * (eastFt[i]! - eastFt[0]!);
    left = Math.max(left, across);
    right = Math.min(right, across);
  }
  return left - right;
}

/** False with a problem when no shot lies in the box of the lot and none surrounds it. */
export function checkReach(
  { count, eastFt, northFt }: GroundPoints,
  boundary: Ring,
  notes: IntakeNotes,
): boolean {
  const box = boxOf(boundary);
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let i = 0; i < count; i++) {
    minX = Math.min(minX, eastFt[i]!);
    maxX = Math.max(maxX, eastFt[i]!);
    minY = Math.min(minY, northFt[i]!);
    maxY = Math.max(maxY, northFt[i]!);
  }
  if (minX < box.maxEastFt && maxX > box.minEastFt && minY < box.maxNorthFt && maxY > box.minNorthFt)
    return true;
  notes.problems.push({
    code: "topo-misses-lot",
    where: "topo",
    message: "None of the ground shots reaches the lot.",
    remedy: "Send both files in one coordinate system.",
  });
  return false;
}
