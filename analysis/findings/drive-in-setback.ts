/** How much of a drive lies in the room asked between a house and the lines to its neighbors. */
import { distanceToRingFt, type Point3, type Ring } from "../geometry/plane.js";
import type { Lot } from "../lot/lot.js";

/** So much of a drive across the corner of a setback is not worth a question. Judgement. */
export const CORNER_CUT_FT = 10;

interface SideLine {
  readonly line: Ring;
  readonly setbackFt: number;
}

/** Lot lines to neighbors, each with its setback; the street's own setback is there for drives to cross. */
export function sideLines(boundary: Ring, edges: Lot["edges"]): SideLine[] {
  return boundary.flatMap((corner, i) => {
    const { role, frontage, setbackFt } = edges[i]!;
    return role === "front" || frontage
      ? []
      : [{ line: [corner, boundary[(i + 1) % boundary.length]!], setbackFt }];
  });
}

/** Plan length of a centre line whose near edge, `halfWidthFt` from it, lies nearer to a line than its setback, ft. */
export function lengthNearFt(
  line: readonly Point3[],
  sides: readonly SideLine[],
  halfWidthFt: number,
): number {
  let totalFt = 0;
  for (let i = 1; i < line.length; i++) {
    const [ax, ay] = line[i - 1]!;
    const [bx, by] = line[i]!;
    const isNear = sides.some(
      (side) => distanceToRingFt(side.line, [(ax + bx) / 2, (ay + by) / 2]) - halfWidthFt < side.setbackFt,
    );
    if (isNear) totalFt += Math.hypot(bx - ax, by - ay);
  }
  return totalFt;
}
