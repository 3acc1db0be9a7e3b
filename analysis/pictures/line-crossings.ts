/** Where a straight line meets polylines and rings. */
import type { Point, Ring } from "../geometry/plane.js";

export interface Crossing {
  /** Distance along the straight line. */
  readonly atFt: number;
  /** Share of the polyline's own length passed, 0 to 1. */
  readonly share: number;
}

/** Crossings of the line from `from` in a direction (unit vector) with a polyline, in the order of the straight line. */
export function crossings(
  line: readonly Point[],
  closed: boolean,
  from: Point,
  [dx, dy]: Point,
  lengthFt: number,
): Crossing[] {
  const found: { atFt: number; passedFt: number }[] = [];
  let passedFt = 0;
  for (let i = 0; i + (closed ? 0 : 1) < line.length; i++) {
    const a = line[i]!;
    const b = line[(i + 1) % line.length]!;
    // Signed distances of both ends from the straight line.
    const da = dx * (a[1] - from[1]) - dy * (a[0] - from[0]);
    const db = dx * (b[1] - from[1]) - dy * (b[0] - from[0]);
    const pieceFt = Math.hypot(b[0] - a[0], b[1] - a[1]);
    if (da > 0 !== db > 0) {
      const t = da / (da - db);
      const atFt = (a[0] + (b[0] - a[0]) * t - from[0]) * dx + (a[1] + (b[1] - a[1]) * t - from[1]) * dy;
      if (atFt >= 0 && atFt <= lengthFt) found.push({ atFt, passedFt: passedFt + pieceFt * t });
    }
    passedFt += pieceFt;
  }
  return found
    .map((crossing) => ({ atFt: crossing.atFt, share: passedFt > 0 ? crossing.passedFt / passedFt : 0 }))
    .sort((a, b) => a.atFt - b.atFt);
}

/** Stretches of the line inside a ring, as [enter, leave] distances; the ends of the line count as outside. */
export function spansInside(ring: Ring, from: Point, direction: Point, lengthFt: number): [number, number][] {
  const at = crossings(ring, true, from, direction, lengthFt).map((crossing) => crossing.atFt);
  const spans: [number, number][] = [];
  for (let i = 0; i + 1 < at.length; i += 2) spans.push([at[i]!, at[i + 1]!]);
  return spans;
}
