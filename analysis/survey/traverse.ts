/** Courses walked one after another: latitudes, departures, misclosure, and the compass rule. */
import type { Point } from "../geometry/plane.js";
import { type Curve, radians } from "./arc.js";

/** One course: a line, or the chord of a curve. Lengths in one unit throughout. */
export interface Course {
  readonly azimuthDeg: number;
  readonly length: number;
  readonly curve?: Curve;
}

/** Northing and easting gained along a course. */
export interface Step {
  readonly latitude: number;
  readonly departure: number;
}

export interface Traverse {
  readonly steps: readonly Step[];
  readonly misclosure: { readonly latitude: number; readonly departure: number; readonly length: number };
  /** Sum of the courses' lengths. */
  readonly perimeter: number;
}

/** Latitude = L·cos(azimuth), departure = L·sin(azimuth); the sums of both are the misclosure. */
export function walk(courses: readonly Course[]): Traverse {
  const steps = courses.map(({ azimuthDeg, length }) => ({
    latitude: length * Math.cos(radians(azimuthDeg)),
    departure: length * Math.sin(radians(azimuthDeg)),
  }));
  const latitude = steps.reduce((sum, step) => sum + step.latitude, 0);
  const departure = steps.reduce((sum, step) => sum + step.departure, 0);
  return {
    steps,
    misclosure: { latitude, departure, length: Math.hypot(latitude, departure) },
    perimeter: courses.reduce((sum, { length }) => sum + length, 0),
  };
}

/** Compass (Bowditch) rule: each course is corrected by −misclosure × its length ÷ the perimeter (NAVEDTRA 14071, ch. 7). */
export function adjustByCompass(
  courses: readonly Course[],
  { steps, misclosure, perimeter }: Traverse,
): Step[] {
  return steps.map((step, i) => {
    const share = courses[i]!.length / perimeter;
    return {
      latitude: step.latitude - misclosure.latitude * share,
      departure: step.departure - misclosure.departure * share,
    };
  });
}

/** The corners in order from `start`; the end of the last step is left out, as it is the start again. */
export function cornersOf(start: Point, steps: readonly Step[]): Point[] {
  const corners: Point[] = [start];
  for (const { latitude, departure } of steps.slice(0, -1)) {
    const [x, y] = corners.at(-1)!;
    corners.push([x + departure, y + latitude]);
  }
  return corners;
}
