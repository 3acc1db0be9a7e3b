/** Where the survey is thin. */
import { distanceToMask } from "../geometry/distance-transform.js";
import type { Grid } from "../geometry/grid.js";
import type { Ring } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import { nextSide } from "./half-edge.js";
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

/** Longest side, ft, of the supported facets that reach into the lot. */
export function longestSideInLotFt({ eastFt, northFt, triangles, areaInLotFt2 }: Tin): number {
  let longest = 0;
  for (let e = 0; e < triangles.length; e++) {
    if (!(areaInLotFt2[(e / 3) | 0]! > 0)) continue;
    const a = triangles[e]!;
    const b = triangles[nextSide(e)]!;
    longest = Math.max(longest, (eastFt[b]! - eastFt[a]!) ** 2 + (northFt[b]! - northFt[a]!) ** 2);
  }
  return Math.sqrt(longest);
}
