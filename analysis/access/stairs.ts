/** From the drive to the door of the house. */
import { distanceToRingFt, type Point, type Ring, ringContains } from "../geometry/plane.js";
import type { Driveway } from "./access.js";
import { RISER_FT, TREAD_FT } from "./drive-rules.js";
import type { DriveTarget } from "./drive-target.js";

/** A smaller step is a threshold. */
const LEAST_RISE_FT = 0.1;
/** A rise of exactly so many risers takes no more. */
const ROUNDING = 1e-6;

/** Rise from the garage (or the place the car stops) to the nearest house floor, risers at the tallest the code allows, and the walk with the stairs' own run in it. IRC R311.7.5. */
export function stairsTo({
  levels,
  garageAt,
  garageFloorFt,
}: DriveTarget): Pick<Driveway, "stairsRiseFt" | "stairsCount" | "walkFt"> {
  const floors = levels.filter(({ role }) => role !== "garage");
  let best: { riseFt: number; ring: Ring } | null = null;
  for (const { ring, floorElevationFt } of floors) {
    const riseFt = Math.abs(floorElevationFt - garageFloorFt);
    if (best === null || riseFt < best.riseFt) best = { riseFt, ring };
  }
  if (best === null || best.riseFt < LEAST_RISE_FT)
    return { stairsRiseFt: 0, stairsCount: 0, walkFt: best ? walkTo(best.ring, garageAt) : 0 };
  const stairsCount = Math.ceil(best.riseFt / RISER_FT - ROUNDING);
  return {
    stairsRiseFt: best.riseFt,
    stairsCount,
    walkFt: Math.max(walkTo(best.ring, garageAt), (stairsCount - 1) * TREAD_FT),
  };
}

function walkTo(ring: Ring, at: Point): number {
  return ringContains(ring, at) ? 0 : distanceToRingFt(ring, at);
}
