/** Finding facets: which ones touch a box, which one holds a point, how high the ground is there. */
import { boxOfColumns } from "../geometry/plane.js";
import type { Tin } from "./terrain.js";

type Vertices = Pick<Tin, "eastFt" | "northFt" | "triangles">;

/** Facets a bucket should hold on average. */
const FACETS_PER_BUCKET = 4;
/** Of a million shots a bucket holds more: all counts together stay in the nearer caches of a processor. */
const MOST_BUCKETS = 2 ** 18;

/** Uniform buckets over the facets; a facet lies in every bucket its box touches. */
export function indexFacets({ eastFt, northFt, triangles }: Vertices): Tin["index"] {
  const box = boxOfColumns(eastFt, northFt);
  const { minEastFt: originEastFt, minNorthFt: originNorthFt } = box;
  const width = box.maxEastFt - originEastFt;
  const height = box.maxNorthFt - originNorthFt;
  const buckets = Math.min(triangles.length / 3 / FACETS_PER_BUCKET, MOST_BUCKETS);
  const cellFt = Math.max(Math.sqrt((width * height) / buckets), (width + height) / 4096);
  const cols = Math.floor(width / cellFt) + 1;
  const rows = Math.floor(height / cellFt) + 1;
  const at = new Int32Array(eastFt.length);
  for (let v = 0; v < at.length; v++) {
    const col = Math.floor((eastFt[v]! - originEastFt) / cellFt);
    const row = Math.floor((northFt[v]! - originNorthFt) / cellFt);
    at[v] = (row << 16) | col;
  }
  const start = new Uint32Array(cols * rows + 1);
  fillBuckets(triangles, at, cols, start.subarray(1), null);
  for (let b = 0; b < cols * rows; b++) start[b + 1]! += start[b]!;
  const facetIds = new Uint32Array(start[cols * rows]!);
  fillBuckets(triangles, at, cols, start.slice(0, cols * rows), facetIds);
  return { originEastFt, originNorthFt, cellFt, cols, rows, start, facetIds };
}

/** A bucket in one number: its row above 16 bits, its column below. There are at most 4097 of each. */
const COL = 0xffff;

/** Enters each facet into the buckets its box touches, where `next` says, or only counts them there. `at` holds the bucket of each vertex. */
function fillBuckets(
  triangles: Uint32Array,
  at: Int32Array,
  cols: number,
  next: Uint32Array,
  facetIds: Uint32Array | null,
): void {
  for (let facet = 0, e = 0; e < triangles.length; facet++, e += 3) {
    const a = at[triangles[e]!]!;
    const b = at[triangles[e + 1]!]!;
    const c = at[triangles[e + 2]!]!;
    const west = Math.min(a & COL, b & COL, c & COL);
    const east = Math.max(a & COL, b & COL, c & COL);
    const north = Math.max(a, b, c) >> 16;
    for (let row = Math.min(a, b, c) >> 16; row <= north; row++)
      for (let bucket = row * cols + west, last = row * cols + east; bucket <= last; bucket++) {
        const entered = next[bucket]!++;
        if (facetIds) facetIds[entered] = facet;
      }
  }
}

/** Buckets that a box touches; none where col0 > col1 or row0 > row1. */
export function bucketsOf(
  { originEastFt, originNorthFt, cellFt, cols, rows }: Tin["index"],
  west: number,
  south: number,
  east: number,
  north: number,
): { col0: number; col1: number; row0: number; row1: number } {
  return {
    col0: Math.max(0, Math.floor((west - originEastFt) / cellFt)),
    col1: Math.min(cols - 1, Math.floor((east - originEastFt) / cellFt)),
    row0: Math.max(0, Math.floor((south - originNorthFt) / cellFt)),
    row1: Math.min(rows - 1, Math.floor((north - originNorthFt) / cellFt)),
  };
}

/** Calls `visit` once for each facet whose buckets touch the box (a few visited facets may lie just outside it). */
export function facetsInBox(
  { index, eastFt, northFt, triangles }: Vertices & Pick<Tin, "index">,
  west: number,
  south: number,
  east: number,
  north: number,
  visit: (facet: number) => void,
): void {
  const { originEastFt, originNorthFt, cellFt, cols, start, facetIds } = index;
  const { col0, col1, row0, row1 } = bucketsOf(index, west, south, east, north);
  for (let row = row0; row <= row1; row++)
    for (let col = col0; col <= col1; col++) {
      const bucket = row * cols + col;
      for (let k = start[bucket]!; k < start[bucket + 1]!; k++) {
        const f = facetIds[k]!;
        // a facet in several buckets is met first in its own south-west one, or at the box's edge
        if (col > col0) {
          const x = Math.min(
            eastFt[triangles[3 * f]!]!,
            eastFt[triangles[3 * f + 1]!]!,
            eastFt[triangles[3 * f + 2]!]!,
          );
          if (Math.floor((x - originEastFt) / cellFt) < col) continue;
        }
        if (row > row0) {
          const y = Math.min(
            northFt[triangles[3 * f]!]!,
            northFt[triangles[3 * f + 1]!]!,
            northFt[triangles[3 * f + 2]!]!,
          );
          if (Math.floor((y - originNorthFt) / cellFt) < row) continue;
        }
        visit(f);
      }
    }
}

/** The facet that holds a point, supported or not; −1 off the triangles. */
function facetAt(
  tin: Pick<Tin, "index" | "eastFt" | "northFt" | "triangles">,
  east: number,
  north: number,
): number {
  const { originEastFt, originNorthFt, cellFt, cols, rows, start, facetIds } = tin.index;
  const col = Math.floor((east - originEastFt) / cellFt);
  const row = Math.floor((north - originNorthFt) / cellFt);
  if (!(col >= 0 && col < cols && row >= 0 && row < rows)) return -1;
  const bucket = row * cols + col;
  for (let k = start[bucket]!; k < start[bucket + 1]!; k++) {
    const f = facetIds[k]!;
    if (
      leftOf(tin, tin.triangles[3 * f]!, tin.triangles[3 * f + 1]!, east, north) &&
      leftOf(tin, tin.triangles[3 * f + 1]!, tin.triangles[3 * f + 2]!, east, north) &&
      leftOf(tin, tin.triangles[3 * f + 2]!, tin.triangles[3 * f]!, east, north)
    )
      return f;
  }
  return -1;
}

/** On or left of the line from vertex a to vertex b; a hair outside still counts, so that no point falls between two facets. */
function leftOf({ eastFt, northFt }: Vertices, a: number, b: number, x: number, y: number): boolean {
  const dx = eastFt[b]! - eastFt[a]!;
  const dy = northFt[b]! - northFt[a]!;
  return dx * (y - northFt[a]!) - dy * (x - eastFt[a]!) >= -1e-12 * (dx * dx + dy * dy);
}

/** Ground height at a point, ft: linear on the facet that holds it. NaN outside supported ground. */
export function elevationAt(tin: Tin, eastFt: number, northFt: number): number {
  const facet = facetAt(tin, eastFt, northFt);
  return facet >= 0 && tin.supported[facet] ? elevationOn(tin, facet, eastFt, northFt) : NaN;
}

/** Height of a facet's plane at a point, inside it or not. */
export function elevationOn(tin: Tin, facet: number, eastFt: number, northFt: number): number {
  const a = tin.triangles[3 * facet]!;
  return (
    tin.elevFt[a]! +
    tin.gradEast[facet]! * (eastFt - tin.eastFt[a]!) +
    tin.gradNorth[facet]! * (northFt - tin.northFt[a]!)
  );
}

/** Steepness of a facet, percent. */
export function facetSlopePct(tin: Pick<Tin, "gradEast" | "gradNorth">, facet: number): number {
  return 100 * Math.sqrt(tin.gradEast[facet]! ** 2 + tin.gradNorth[facet]! ** 2);
}
