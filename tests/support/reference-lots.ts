/** The published data sets in tests/reference as sites; where each came from is in its PROVENANCE.md. */
import { readFileSync } from "node:fs";
import type { Point, Point3 } from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/index.js";
import type { RequestInput } from "../../analysis/request/index.js";
import { siteOf } from "./sites.js";

const folder = new URL("../reference/", import.meta.url);

function rows(path: string): number[][] {
  const [, ...lines] = readFileSync(new URL(path, folder), "utf8").trim().split(/\r?\n/);
  return lines.map((line) => line.split(",").map(Number));
}

/** Local feet are survey feet less this, so that numbers stay small, as the intake does it. */
export type Shift = readonly [eastFt: number, northFt: number];

/** Shots (point, northing, easting, elevation) and corners (corner, northing, easting) of a set. */
export function referencePoints(
  set: string,
  [dx, dy]: Shift = [0, 0],
): { points: Point3[]; boundary: Point[] } {
  return {
    points: rows(`${set}/points.csv`).map(
      ([, north, east, elev]): Point3 => [east! - dx, north! - dy, elev!],
    ),
    boundary: rows(`${set}/boundary.csv`).map(([, north, east]): Point => [east! - dx, north! - dy]),
  };
}

export function referenceSite(set: string, request: RequestInput = {}, shift?: Shift): Site {
  return siteOf({ ...referencePoints(set, shift), request });
}

export function referenceValues<T>(path: string): T {
  return JSON.parse(readFileSync(new URL(path, folder), "utf8")) as T;
}
