/** What the structure rules read off a scheme: rings by role, ground at points, floors. */
import { areaFt2, type Point, type Ring } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import type { Level, SchemeDesign } from "../schemes/scheme.js";
import { elevationAt } from "../terrain/index.js";

export type SideName = "uphill" | "downhill" | "left" | "right";

export function levelsOf(design: SchemeDesign, role: Level["role"]): Level[] {
  return design.levels.filter((level) => level.role === role);
}

export function ringsAreaFt2(levels: readonly Level[]): number {
  return areaFt2(levels.map((level) => [level.ring]));
}

/** Natural ground, NaN where nobody surveyed. */
export function groundAt({ terrain }: Site, [east, north]: Point): number {
  return elevationAt(terrain.tin, east, north);
}

export interface RingEdge {
  readonly from: Point;
  readonly to: Point;
  readonly lengthFt: number;
  /** Unit vector out of a counter-clockwise ring. */
  readonly outward: Point;
  readonly side: SideName;
}

/** Edges of a counter-clockwise ring with the side of the house each stands on, looking downhill. */
export function edgesOf(ring: Ring, downhill: Point): RingEdge[] {
  return ring.flatMap((from, i) => {
    const to = ring[(i + 1) % ring.length]!;
    const lengthFt = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (lengthFt < 1e-6) return [];
    const outward: Point = [(to[1] - from[1]) / lengthFt, (from[0] - to[0]) / lengthFt];
    return [{ from, to, lengthFt, outward, side: sideOf(outward, downhill) }];
  });
}

function sideOf(outward: Point, downhill: Point): SideName {
  const along = outward[0] * downhill[0] + outward[1] * downhill[1];
  if (along > Math.SQRT1_2 - 1e-9) return "downhill";
  if (along < -Math.SQRT1_2 + 1e-9) return "uphill";
  return downhill[0] * outward[1] - downhill[1] * outward[0] > 0 ? "left" : "right";
}

/** Storeys of the house that stand over its lowest "house" floor: a basement takes one of them. */
export function storeysAbove(design: SchemeDesign, storeys: number): number {
  return levelsOf(design, "basement").length > 0 ? Math.max(2, storeys) - 1 : storeys;
}
