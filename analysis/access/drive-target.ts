/** What a driveway leads to, and the ground as that scheme leaves it. */
import type { Grid, Raster } from "../geometry/grid.js";
import {
  type Box,
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
  const { depth } = target.graded;
  forCellsIn(grid, boxOfGrid(depth.grid), (i, x, y) => {
    const cutFt = depthAt(depth, x, y);
    if (!Number.isNaN(cutFt)) finished[i]! -= cutFt;
  });
  // inside the walls a dig is no ground a lane could meet; of levels one over the other the first says how high it lies
  for (const { ring, role } of [...target.levels].reverse())
    forCellsIn(grid, boxOf(ring), (i, x, y) => {
      if (ringContains(ring, [x, y])) finished[i] = role === "garage" ? target.garageFloorFt : elevFt[i]!;
    });
  const reachFt = 3 * grid.cellFt + NEAR_HOUSE_FT;
  for (const ring of houseRings(target))
    forCellsIn(grid, wider(boxOf(ring), reachFt), (i, x, y) => {
      const off = distanceToRingFt(ring, [x, y]) * (ringContains(ring, [x, y]) ? -1 : 1);
      if (off < room[i]!) room[i] = off;
    });
  return { grid, elevFt: finished, clearanceFt: room };
}

/** Every cell whose middle lies in a box. */
function forCellsIn(grid: Grid, box: Box, visit: (i: number, x: number, y: number) => void): void {
  const { originEastFt, originNorthFt, cellFt, cols, rows } = grid;
  const first = (fromFt: number, originFt: number) =>
    Math.max(0, Math.ceil((fromFt - originFt) / cellFt - 0.5));
  const last = (toFt: number, originFt: number) => Math.floor((toFt - originFt) / cellFt - 0.5);
  const toCol = Math.min(cols - 1, last(box.maxEastFt, originEastFt));
  const toRow = Math.min(rows - 1, last(box.maxNorthFt, originNorthFt));
  for (let row = first(box.minNorthFt, originNorthFt); row <= toRow; row++)
    for (let col = first(box.minEastFt, originEastFt); col <= toCol; col++)
      visit(row * cols + col, originEastFt + (col + 0.5) * cellFt, originNorthFt + (row + 0.5) * cellFt);
}

function boxOfGrid({ originEastFt, originNorthFt, cellFt, cols, rows }: Grid): Box {
  return {
    minEastFt: originEastFt,
    minNorthFt: originNorthFt,
    maxEastFt: originEastFt + cols * cellFt,
    maxNorthFt: originNorthFt + rows * cellFt,
  };
}

function wider({ minEastFt, minNorthFt, maxEastFt, maxNorthFt }: Box, byFt: number): Box {
  return {
    minEastFt: minEastFt - byFt,
    minNorthFt: minNorthFt - byFt,
    maxEastFt: maxEastFt + byFt,
    maxNorthFt: maxNorthFt + byFt,
  };
}

/** Clearances to the house are worked out this near to it. */
const NEAR_HOUSE_FT = 12;

/** The ground as a scheme leaves it, for cross-sections of its drive. */
export class FinishedGround {
  readonly #tin: Site["terrain"]["tin"];
  readonly #lot: Ring;
  readonly #depth: Raster;
  readonly #rings: readonly Ring[];
  readonly #box: Box;

  constructor({ terrain, survey }: Site, target: DriveTarget) {
    this.#tin = terrain.tin;
    this.#lot = survey.boundary;
    this.#depth = target.graded.depth;
    this.#rings = houseRings(target);
    this.#box = boxOf(this.#rings.flat());
  }

  /** Natural ground less what the scheme cuts, ft. NaN where nobody surveyed, and inside the walls. */
  at(x: number, y: number): number {
    const { minEastFt, maxEastFt, minNorthFt, maxNorthFt } = this.#box;
    if (x >= minEastFt && x <= maxEastFt && y >= minNorthFt && y <= maxNorthFt)
      for (const ring of this.#rings) if (ringContains(ring, [x, y])) return NaN;
    const graded = depthAt(this.#depth, x, y);
    const natural = elevationAt(this.#tin, x, y);
    return !Number.isNaN(graded) ? natural - graded : natural;
  }

  /** Whether ground may be shaped there: on the lot. */
  mayGrade(x: number, y: number): boolean {
    return ringContains(this.#lot, [x, y]);
  }
}

function depthAt({ grid, values }: Raster, x: number, y: number): number {
  const col = Math.floor((x - grid.originEastFt) / grid.cellFt);
  const row = Math.floor((y - grid.originNorthFt) / grid.cellFt);
  return col >= 0 && row >= 0 && col < grid.cols && row < grid.rows ? values[row * grid.cols + col]! : NaN;
}
