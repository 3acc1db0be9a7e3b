/** Lowest and highest surveyed ground of the lot, and the longest stretch between two shots. */
import { type Ring, ringContains } from "../geometry/plane.js";
import { elevationOn } from "./facet-index.js";
import type { Tin } from "./terrain.js";

export interface LotExtremes {
  readonly minElevationFt: number;
  readonly maxElevationFt: number;
  /** Longest side of the supported facets that reach into the lot. */
  readonly longestSideFt: number;
}

/** Of the facets wholly inside the lot. */
export interface InnerExtremes {
  readonly lowFt: number;
  readonly highFt: number;
  readonly longestInLotFt2: number;
}

/** Heights are extreme at shots inside the lot or where the lot line enters and leaves a facet: here the facets it crosses are added. */
export function withLotLine(
  { lowFt, highFt, longestInLotFt2 }: InnerExtremes,
  tin: Tin,
  lot: Ring,
  crossing: readonly number[],
): LotExtremes {
  let minElevationFt = lowFt;
  let maxElevationFt = highFt;
  let longestFt2 = longestInLotFt2;
  const see = (z: number) => {
    if (z < minElevationFt) minElevationFt = z;
    if (z > maxElevationFt) maxElevationFt = z;
  };
  const { eastFt, northFt, elevFt, triangles, areaInLotFt2 } = tin;
  for (const f of crossing) {
    if (!(areaInLotFt2[f]! > 0)) continue;
    for (let k = 0; k < 3; k++) {
      const v = triangles[3 * f + k]!;
      const w = triangles[3 * f + ((k + 1) % 3)]!;
      longestFt2 = Math.max(longestFt2, (eastFt[w]! - eastFt[v]!) ** 2 + (northFt[w]! - northFt[v]!) ** 2);
      if (ringContains(lot, [eastFt[v]!, northFt[v]!])) see(elevFt[v]!);
    }
    for (let i = 0; i < lot.length; i++) {
      const [ax, ay] = lot[i]!;
      const [bx, by] = lot[(i + 1) % lot.length]!;
      const [from, to] = partInFacet(tin, f, ax, ay, bx, by);
      if (from > to) continue;
      see(elevationOn(tin, f, ax + from * (bx - ax), ay + from * (by - ay)));
      see(elevationOn(tin, f, ax + to * (bx - ax), ay + to * (by - ay)));
    }
  }
  return { minElevationFt, maxElevationFt, longestSideFt: Math.sqrt(longestFt2) };
}

/** The stretch [from, to] of a segment on a facet, as shares of its length; from > to when they do not meet. Cyrus & Beck's clip. */
function partInFacet(
  { eastFt, northFt, triangles }: Tin,
  f: number,
  px: number,
  py: number,
  qx: number,
  qy: number,
): [number, number] {
  let from = 0;
  let to = 1;
  for (let k = 0; k < 3; k++) {
    const a = triangles[3 * f + k]!;
    const b = triangles[3 * f + ((k + 1) % 3)]!;
    const dx = eastFt[b]! - eastFt[a]!;
    const dy = northFt[b]! - northFt[a]!;
    const atP = dx * (py - northFt[a]!) - dy * (px - eastFt[a]!);
    const atQ = dx * (qy - northFt[a]!) - dy * (qx - eastFt[a]!);
    if (atP < 0 && atQ < 0) return [1, 0];
    if (atP < 0) from = Math.max(from, atP / (atP - atQ));
    else if (atQ < 0) to = Math.min(to, atP / (atP - atQ));
  }
  return [from, to];
}
