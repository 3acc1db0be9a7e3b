/** Where the survey is thin. */
import { distanceToMask } from "../geometry/distance-transform.js";
import type { Grid } from "../geometry/grid.js";
import type { Ring } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Tin } from "./terrain.js";

/** Diameter, ft, of the largest circle centred in the lot that holds no ground shot; good to about one grid cell. */
export function largestHoleFt({ eastFt, northFt }: Tin, lot: Ring, grid: Grid): number {
  const shots = new Uint8Array(grid.cols * grid.rows);
  for (let i = 0; i < eastFt.length; i++) {
    const col = Math.floor((eastFt[i]! - grid.originEastFt) / grid.cellFt);
    const row = Math.floor((northFt[i]! - grid.originNorthFt) / grid.cellFt);
    if (col >= 0 && col < grid.cols && row >= 0 && row < grid.rows) shots[row * grid.cols + col] = 1;
  }
  const distance = distanceToMask({ grid, values: shots });
  const inside = scanPolygons(grid, [[lot]]).values;
  let radiusFt = 0;
  for (let i = 0; i < inside.length; i++) if (inside[i] && distance[i]! > radiusFt) radiusFt = distance[i]!;
  return 2 * radiusFt;
}
