/** Facets against the lot line: which lie inside, which cross it, and how much of each is in the lot. */
import { flatArea, flatten, TriangleClipper } from "../geometry/convex-clip.js";
import { type Ring, ringContains } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import { bucketsOf, facetsInBox } from "./facet-index.js";
import type { Tin } from "./terrain.js";

type Facets = Pick<Tin, "eastFt" | "northFt" | "triangles" | "index">;

export const OUTSIDE = 0;
export const INSIDE = 1;
export const CROSSING = 2;

/** OUTSIDE, INSIDE or CROSSING for each facet; a crossing facet may in truth lie a hair inside or outside. */
export function placeFacets(tin: Facets, lot: Ring): Uint8Array {
  const { triangles, index } = tin;
  const facetCount = triangles.length / 3;
  const place = new Uint8Array(facetCount);
  const nearLine = new Uint8Array(index.cols * index.rows);
  for (let i = 0; i < lot.length; i++) {
    const [ax, ay] = lot[i]!;
    const [bx, by] = lot[(i + 1) % lot.length]!;
    const pieces = Math.max(1, Math.ceil(Math.hypot(bx - ax, by - ay) / index.cellFt));
    for (let k = 0; k < pieces; k++) {
      const x0 = ax + ((bx - ax) * k) / pieces;
      const y0 = ay + ((by - ay) * k) / pieces;
      const x1 = ax + ((bx - ax) * (k + 1)) / pieces;
      const y1 = ay + ((by - ay) * (k + 1)) / pieces;
      const [west, south, east, north] = [
        Math.min(x0, x1),
        Math.min(y0, y1),
        Math.max(x0, x1),
        Math.max(y0, y1),
      ];
      const { col0, col1, row0, row1 } = bucketsOf(index, west, south, east, north);
      for (let row = row0; row <= row1; row++)
        nearLine.fill(1, row * index.cols + col0, row * index.cols + Math.max(col0, col1 + 1));
      facetsInBox(tin, west, south, east, north, (f) => {
        if (place[f] !== CROSSING && touches(tin, f, ax, ay, bx, by)) place[f] = CROSSING;
      });
    }
  }
  const side = sidesOfVertices(tin, lot, nearLine);
  for (let f = 0; f < facetCount; f++) {
    if (place[f] === CROSSING) continue;
    // a facet that does not cross the line lies on the side of any of its corners
    const at =
      side[triangles[3 * f]!]! | (side[triangles[3 * f + 1]!]! << 2) | (side[triangles[3 * f + 2]!]! << 4);
    if ((at & 0b010101) !== 0) place[f] = INSIDE;
    else if (at === 0b101010) place[f] = ringContains(lot, centroid(tin, f)) ? INSIDE : OUTSIDE;
  }
  return place;
}

const NEAR_LINE = 2;

/** OUTSIDE or INSIDE for vertices in buckets the lot line does not touch, NEAR_LINE for the others. */
function sidesOfVertices({ eastFt, northFt, index }: Facets, lot: Ring, nearLine: Uint8Array): Uint8Array {
  const { originEastFt, originNorthFt, cellFt, cols } = index;
  const inside = scanPolygons(index, [[lot]]).values;
  const side = new Uint8Array(eastFt.length);
  for (let v = 0; v < side.length; v++) {
    const col = Math.floor((eastFt[v]! - originEastFt) / cellFt);
    const row = Math.floor((northFt[v]! - originNorthFt) / cellFt);
    const bucket = row * cols + col;
    side[v] = nearLine[bucket] ? NEAR_LINE : inside[bucket]!;
  }
  return side;
}

/** The facets that the lot line crosses. */
export function crossingFacets(place: Uint8Array): number[] {
  const facets: number[] = [];
  for (let f = place.indexOf(CROSSING); f >= 0; f = place.indexOf(CROSSING, f + 1)) facets.push(f);
  return facets;
}

/** Enters the area inside the lot of the facets that the lot line crosses, by exact clipping; none where unsupported. */
export function cutAreas(
  { eastFt, northFt, triangles, supported, areaInLotFt2 }: Tin,
  lot: Ring,
  crossing: readonly number[],
): void {
  const ring = flatten(lot);
  const clipper = new TriangleClipper();
  for (const f of crossing) {
    if (!supported[f]) continue;
    const a = triangles[3 * f]!;
    const b = triangles[3 * f + 1]!;
    const c = triangles[3 * f + 2]!;
    const n = clipper.clip(
      ring,
      lot.length,
      eastFt[a]!,
      northFt[a]!,
      eastFt[b]!,
      northFt[b]!,
      eastFt[c]!,
      northFt[c]!,
    );
    areaInLotFt2[f] = n < 3 ? 0 : Math.max(0, flatArea(clipper.xy, n));
  }
}

function centroid({ eastFt, northFt, triangles }: Facets, f: number): [number, number] {
  const a = triangles[3 * f]!;
  const b = triangles[3 * f + 1]!;
  const c = triangles[3 * f + 2]!;
  return [(eastFt[a]! + eastFt[b]! + eastFt[c]!) / 3, (northFt[a]! + northFt[b]! + northFt[c]!) / 3];
}

/** Whether a segment comes within the facet: false only when a side of the facet, or the segment itself, parts the two. */
function touches(
  { eastFt, northFt, triangles }: Facets,
  f: number,
  px: number,
  py: number,
  qx: number,
  qy: number,
): boolean {
  let left = 0;
  let right = 0;
  for (let k = 0; k < 3; k++) {
    const a = triangles[3 * f + k]!;
    const b = triangles[3 * f + ((k + 1) % 3)]!;
    const ax = eastFt[a]!;
    const ay = northFt[a]!;
    const dx = eastFt[b]! - ax;
    const dy = northFt[b]! - ay;
    if (dx * (py - ay) - dy * (px - ax) < 0 && dx * (qy - ay) - dy * (qx - ax) < 0) return false;
    const side = (qx - px) * (ay - py) - (qy - py) * (ax - px);
    if (side > 0) left++;
    if (side < 0) right++;
  }
  return left < 3 && right < 3;
}
