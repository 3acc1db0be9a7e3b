/** What a driveway leads to, and the ground as that scheme leaves it. */
import type { Raster } from "../geometry/grid.js";
import {
  boxOf,
  distanceToRingFt,
  type Point,
  type Ring,
  ringContains,
  signedAreaFt2,
} from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { elevationAt } from "../terrain/index.js";
import type { LaneGround } from "./access.js";
import type { Pose } from "./lane-path.js";

/** The part of a scheme a driveway needs: scheme designs have it. */
export interface DriveTarget {
  readonly kind: string;
  /** Middle of the garage door (or of the place a car stops), on the edge of a level. */
  readonly garageAt: Point;
  readonly garageFloorFt: number;
  readonly garage: "attached" | "detached" | "none";
  readonly footprint: Ring;
  readonly levels: readonly {
    readonly role: string;
    readonly ring: Ring;
    readonly floorElevationFt: number;
  }[];
  /** Positive where the scheme cuts, negative where it fills, NaN untouched. */
  readonly graded: { readonly depth: Raster };
}

/** House and garage: what a lane may not run through. */
export function houseRings({ footprint, levels }: DriveTarget): Ring[] {
  return [footprint, ...levels.map(({ ring }) => ring)];
}

/** Standing in the door, looking out: square to the wall it is in. */
export function doorPose(target: DriveTarget): Pose {
  const { garageAt, levels, footprint } = target;
  const garages = levels.filter(({ role }) => role === "garage").map(({ ring }) => ring);
  let best = Infinity;
  let heading = 0;
  for (const ring of garages.length > 0 ? garages : [footprint]) {
    const turn = signedAreaFt2(ring) > 0 ? 1 : -1;
    for (let i = 0; i < ring.length; i++) {
      const a = ring[i]!;
      const b = ring[(i + 1) % ring.length]!;
      const off = distanceToRingFt([a, b], garageAt);
      const outward = Math.atan2(-turn * (b[0] - a[0]), turn * (b[1] - a[1]));
      // a door at a corner looks out of the wall with the house behind it
      const blocked = isInside(
        [garageAt[0] + 2 * Math.cos(outward), garageAt[1] + 2 * Math.sin(outward)],
        target,
      )
        ? 1
        : 0;
      if (off + blocked >= best) continue;
      best = off + blocked;
      heading = outward;
    }
  }
  return { x: garageAt[0], y: garageAt[1], heading };
}

function isInside(point: Point, target: DriveTarget): boolean {
  return houseRings(target).some((ring) => ringContains(ring, point));
}

/** Heights once the pad is graded, and clearances that keep off the house. */
export function groundAround({ grid, elevFt, clearanceFt }: LaneGround, target: DriveTarget): LaneGround {
  const finished = elevFt.slice();
  const room = clearanceFt.slice();
  const rings = houseRings(target);
  const box = boxOf(rings.flat());
  const graded = target.graded.depth.grid;
  const reachFt = 3 * grid.cellFt + NEAR_HOUSE_FT;
  for (let row = 0; row < grid.rows; row++) {
    const y = grid.originNorthFt + (row + 0.5) * grid.cellFt;
    if (
      y < Math.min(box.minNorthFt - reachFt, graded.originNorthFt) ||
      y > Math.max(box.maxNorthFt + reachFt, graded.originNorthFt + graded.rows * graded.cellFt)
    )
      continue;
    for (let col = 0; col < grid.cols; col++) {
      const x = grid.originEastFt + (col + 0.5) * grid.cellFt;
      const i = row * grid.cols + col;
      const depth = depthAt(target.graded.depth, x, y);
      const level = target.levels.find(({ ring }) => ringContains(ring, [x, y]));
      // inside the walls a dig is no ground a lane could meet
      if (level) finished[i] = level.role === "garage" ? target.garageFloorFt : finished[i]!;
      else if (!Number.isNaN(depth)) finished[i]! -= depth;
      if (
        x < box.minEastFt - reachFt ||
        x > box.maxEastFt + reachFt ||
        y < box.minNorthFt - reachFt ||
        y > box.maxNorthFt + reachFt
      )
        continue;
      for (const ring of rings) {
        const off = distanceToRingFt(ring, [x, y]) * (ringContains(ring, [x, y]) ? -1 : 1);
        if (off < room[i]!) room[i] = off;
      }
    }
  }
  return { grid, elevFt: finished, clearanceFt: room };
}

/** Clearances to the house are worked out this near to it. */
const NEAR_HOUSE_FT = 12;

/** Finished ground at a place, ft: natural ground less what the scheme cuts. NaN where nobody surveyed, and inside the walls. */
export function finishedGround(
  { terrain }: Site,
  target: DriveTarget,
): (eastFt: number, northFt: number) => number {
  const { depth } = target.graded;
  const rings = houseRings(target);
  const box = boxOf(rings.flat());
  return (x, y) => {
    if (x >= box.minEastFt && x <= box.maxEastFt && y >= box.minNorthFt && y <= box.maxNorthFt)
      for (const ring of rings) if (ringContains(ring, [x, y])) return NaN;
    const graded = depthAt(depth, x, y);
    const natural = elevationAt(terrain.tin, x, y);
    return !Number.isNaN(graded) ? natural - graded : natural;
  };
}

function depthAt({ grid, values }: Raster, x: number, y: number): number {
  const col = Math.floor((x - grid.originEastFt) / grid.cellFt);
  const row = Math.floor((y - grid.originNorthFt) / grid.cellFt);
  return col >= 0 && row >= 0 && col < grid.cols && row < grid.rows ? values[row * grid.cols + col]! : NaN;
}
