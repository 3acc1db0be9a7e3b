/** Walls of a pad that the drive as laid bears on. */
import type { Driveway } from "../access/index.js";
import type { Wall } from "../earthwork/index.js";
import { distanceToRingFt, type Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { elevationAt } from "../terrain/index.js";
import type { SchemeDesign } from "./scheme.js";

/** A drive this little under the top of a wall still bears on it. Judgement. */
const BELOW_TOP_FT = 0.5;

/**
 * The site walls with those marked as loaded that a drive runs above: no lower than the top of the wall, and no farther
 * from it than the wall is high (a load spreads downward at about 45°; common practice, no source).
 */
export function loadedByDrive(
  { terrain, request }: Site,
  { walls, levels }: Pick<SchemeDesign, "walls" | "levels">,
  driveway: Pick<Driveway, "line">,
): readonly Wall[] {
  const halfFt = request.rules.driveway.widthFt / 2;
  return walls.map((wall) => {
    if (wall.kind !== "site" || wall.surcharge) return wall;
    const padFt = (at: Point) =>
      levels.reduce(
        (near, { ring, elevationFt }) => {
          const awayFt = distanceToRingFt(ring, at);
          return awayFt < near.awayFt ? { awayFt, elevationFt } : near;
        },
        { awayFt: Infinity, elevationFt: Number.NEGATIVE_INFINITY },
      ).elevationFt;
    const isLoaded = wall.line.some((at, i) => {
      const groundFt = elevationAt(terrain.tin, at[0], at[1]);
      // a wall in a cut ends at the ground it holds, one under fill at the pad
      const topFt = Math.max(padFt(at), Number.isNaN(groundFt) ? Number.NEGATIVE_INFINITY : groundFt);
      return driveway.line.some(
        ([x, y, z]) =>
          z >= topFt - BELOW_TOP_FT &&
          Math.hypot(x - at[0], y - at[1]) <= (wall.heightsFt[i] ?? wall.retainedFt) + halfFt,
      );
    });
    return isLoaded ? { ...wall, surcharge: true } : wall;
  });
}
