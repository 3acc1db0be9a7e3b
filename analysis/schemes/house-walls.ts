/** Walls of the house that hold earth. */
import { groundHeights, retainingWall, sideOf, type Wall } from "../earthwork/index.js";
import type { Point, Ring } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { cornersOf } from "./footprint-outline.js";
import type { Judge, LevelPart, Trial } from "./model.js";
import { onLot } from "./place.js";
import { DIG_BELOW_FLOOR_FT } from "./sketch.js";
import { LEAST_WALL_FT } from "./wall-rule.js";
import { wingWall } from "./wing-wall.js";

/** Spacing of heights along a wall, ft. */
const WALL_STEP_FT = 2;

/** Walls of the house that hold earth: basement walls against the ground beside them, the steps between levels, and a wing wall beside the open one. */
export function houseWalls(
  { layout, place, shape }: Trial,
  basement: LevelPart | undefined,
  { terrain, request }: Site,
  { ground }: Judge,
  downhill: Point,
): Wall[] {
  const walls: Wall[] = [];
  const ring: Ring = basement ? cornersOf(basement.rect).map((p) => onLot(place, p)) : [];
  for (const side of layout.sides) {
    if (side.hold !== "house-wall" || !basement) continue;
    const line = [onLot(place, side.from), onLot(place, side.to)];
    const heightsFt = groundHeights(terrain.tin, line, basement.floorElevationFt, WALL_STEP_FT).map((h) =>
      Math.max(0, h),
    );
    if (!heightsFt.some((h) => h > LEAST_WALL_FT)) continue;
    walls.push(
      retainingWall({
        kind: "basement",
        where: sideOf(ring, nearestEdge(ring, line), downhill),
        line,
        heightsFt,
        surcharge: false,
      }),
    );
  }
  for (const step of layout.steps) {
    const line = [onLot(place, step.from), onLot(place, step.to)];
    const retained = basement && step.inHouse ? step.riseFt - DIG_BELOW_FLOOR_FT : step.riseFt;
    if (retained <= LEAST_WALL_FT) continue;
    walls.push(
      retainingWall({
        kind: step.inHouse ? "basement" : "site",
        where: basement && step.inHouse ? sideOf(ring, nearestEdge(ring, line), downhill) : "between",
        line,
        heightsFt: [retained, retained],
        surcharge: false,
      }),
    );
  }
  const wing =
    basement && layout.sides.some(({ hold }) => hold === "house-wall")
      ? wingWall(place, shape, basement.floorElevationFt, request.rules, ground)
      : null;
  if (wing?.heightsFt.some((h) => h > LEAST_WALL_FT))
    walls.push(
      retainingWall({
        kind: "site",
        where: "downhill",
        line: [onLot(place, [wing.u, wing.v0]), onLot(place, [wing.u, wing.v1])],
        heightsFt: wing.heightsFt,
        surcharge: true,
      }),
    );
  return walls;
}

/** Edge of a ring nearest the middle of a line. */
function nearestEdge(ring: Ring, line: readonly Point[]): number {
  const [a, b] = [line[0]!, line[line.length - 1]!];
  const x = (a[0] + b[0]) / 2;
  const y = (a[1] + b[1]) / 2;
  let best = 0;
  let least = Infinity;
  ring.forEach(([px, py], i) => {
    const [qx, qy] = ring[(i + 1) % ring.length]!;
    const off = Math.abs((qx - px) * (y - py) - (qy - py) * (x - px)) / Math.hypot(qx - px, qy - py);
    if (off < least) {
      least = off;
      best = i;
    }
  });
  return best;
}
