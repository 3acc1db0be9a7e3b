/** Setbacks: how far from each lot line, and what remains inside. */
import { differenceOf, stripAlong } from "../geometry/clip.js";
import type { MultiPolygon, Ring } from "../geometry/plane.js";
import type { Setbacks } from "../request/request.js";
import type { EdgeRoles } from "./edge-roles.js";

/**
 * Setback of each lot line, ft. With roles unknown the largest of front, side and rear holds everywhere, so that the
 * buildable ground is never overstated. A line without a number of its own, which a study refuses and a look at the survey
 * does not, takes the largest number given.
 */
export function setbackPerEdge(
  setbacks: Setbacks,
  { roles, origin }: EdgeRoles,
  inputEdge: readonly number[],
): number[] {
  if ("all" in setbacks) return roles.map(() => setbacks.all);
  if ("edges" in setbacks) {
    const largest = Math.max(...setbacks.edges);
    return inputEdge.map((edge) => setbacks.edges[edge] ?? largest);
  }
  const largest = Math.max(setbacks.front, setbacks.side, setbacks.rear);
  return roles.map((role) => (origin === "unknown" ? largest : setbacks[role]));
}

/**
 * The lot less a strip with round ends along each line: every remaining point is at least each line's setback away
 * from that line, also where the lot turns inward.
 */
export function insideSetbacks(lot: Ring, setbackFt: readonly number[]): MultiPolygon {
  const strips = lot.flatMap((corner, i) => stripAlong([corner, lot[(i + 1) % lot.length]!], setbackFt[i]!));
  return differenceOf([[lot]], strips);
}
