/** Circular curves of lot lines. */
import type { Point } from "../geometry/plane.js";

/** Largest gap between the arc and the chords drawn for it, in the boundary's unit of feet. */
export const ARC_GAP_FT = 0.005;

/** An arc as surveyors give it. Lengths in one unit, angles in degrees. */
export interface Curve {
  readonly radius: number;
  /** Central angle, 0 to 360. */
  readonly deltaDeg: number;
  readonly turn: "left" | "right";
}

/** Arc L = R·Δ. */
export function arcLength({ radius, deltaDeg }: Curve): number {
  return radius * radians(deltaDeg);
}

/** Chord C = 2R·sin(Δ/2). */
export function chordLength({ radius, deltaDeg }: Curve): number {
  return 2 * radius * Math.sin(radians(deltaDeg) / 2);
}

/** Central angle of an arc length, Δ = L/R. */
export function deltaOfArc(radius: number, arc: number): number {
  return degrees(arc / radius);
}

/** Central angle of a chord, Δ = 2·asin(C/2R), never over 180°; NaN when the chord is longer than the diameter. */
export function deltaOfChord(radius: number, chord: number): number {
  return degrees(2 * Math.asin(chord / (2 * radius)));
}

/**
 * Points between the ends of an arc, without the ends, so that no chord leaves the arc by more than `gap`.
 * The arc runs from `from` to `to`; its radius follows from the chord and the central angle.
 */
export function pointsOnArc(
  from: Point,
  to: Point,
  { deltaDeg, turn }: Omit<Curve, "radius">,
  gap: number,
): Point[] {
  const delta = radians(deltaDeg);
  const chord = Math.hypot(to[0] - from[0], to[1] - from[1]);
  const radius = chord / (2 * Math.sin(delta / 2));
  if (!(chord > 0 && radius < Infinity)) return [];
  const steps = Math.min(
    400,
    Math.max(2, Math.ceil(delta / (2 * Math.acos(Math.max(-1, 1 - gap / radius))))),
  );
  const side = turn === "right" ? 1 : -1;
  // the centre lies to the right of the way for a curve to the right, behind the chord by R·cos(Δ/2)
  const [ux, uy] = [(to[0] - from[0]) / chord, (to[1] - from[1]) / chord];
  const away = radius * Math.cos(delta / 2) * side;
  const centre: Point = [(from[0] + to[0]) / 2 + uy * away, (from[1] + to[1]) / 2 - ux * away];
  const first = Math.atan2(from[1] - centre[1], from[0] - centre[0]);
  return Array.from({ length: steps - 1 }, (_, k): Point => {
    const angle = first - (side * delta * (k + 1)) / steps;
    return [centre[0] + radius * Math.cos(angle), centre[1] + radius * Math.sin(angle)];
  });
}

export function radians(deg: number): number {
  return (deg * Math.PI) / 180;
}

function degrees(rad: number): number {
  return (rad * 180) / Math.PI;
}
