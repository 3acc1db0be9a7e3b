/** What a bank must give way to: ground nearer to another edge, other pads, and the lot line. */
import { flatten, TriangleClipper } from "../geometry/convex-clip.js";
import type { Box, Point, Ring } from "../geometry/plane.js";
import { boxOf, distanceToRingFt, ringContains } from "../geometry/plane.js";
import type { Pad, Zone } from "./batter-zones.js";
import { boxesMeet, type HalfPlane, PlaneIntegral, subtractConvex } from "./plane-pieces.js";

/** Heights and distances below this are rounding. */
export const TOUCH_FT = 1e-7;

/** A simple ring, flat. */
interface Shape {
  readonly flat: Float64Array;
  readonly count: number;
  readonly box: Box;
}

export class Surroundings {
  /** Banks no longer than this cannot reach the limit. */
  readonly clearFt: number;
  /** For each zone the regions, as half-planes, that lie nearer to another zone's pad than to its own. */
  readonly #rivals: readonly (readonly HalfPlane[])[][];
  /** Pads that a zone's bank could run into. */
  readonly #blocks: readonly (readonly Shape[])[];
  readonly #limit: Shape | null;
  readonly #integral = new PlaneIntegral();
  readonly #clipper = new TriangleClipper();

  constructor(pads: readonly Pad[], zones: readonly Zone[], limit: Ring | null) {
    this.#rivals = zones.map((zone) => {
      const [da, db, dc] = zone.distance;
      return zones
        .filter(({ base }) => facesAny(zone, base))
        .map(({ lines, distance: [ra, rb, rc] }) => [...lines, { a: da - ra, b: db - rb, c: rc - dc }]);
    });
    const shapes = pads.map(({ ring }) => shapeOf(ring));
    this.#blocks = zones.map((zone) => shapes.filter((_, i) => facesAny(zone, pads[i]!.ring)));
    this.#limit = limit ? shapeOf(limit) : null;
    this.clearFt = limit ? clearanceFt(pads, limit) : Infinity;
  }

  /** True when a polygon lies outside the box of the limit. */
  liesBeyond(piece: Float64Array): boolean {
    return this.#limit !== null && !boxesMeet(piece, this.#limit.box);
  }

  /** A convex polygon of a zone less the parts that lie nearer to rival zones' pads: convex pieces. */
  ownParts(zoneIndex: number, piece: Float64Array): Float64Array[] {
    let parts = [piece];
    for (const nearer of this.#rivals[zoneIndex]!) {
      if (parts.length === 0) break;
      parts =
        parts.length === 1
          ? subtractConvex(parts[0]!, nearer)
          : parts.flatMap((part) => subtractConvex(part, nearer));
    }
    return parts;
  }

  /** Area of a convex polygon inside the limit, and the volume under the plane a·x + b·y + c over it. */
  withinLimit(piece: Float64Array, a: number, b: number, c: number) {
    return this.#within(piece, this.#limit!, a, b, c);
  }

  /** The same, on the pads that the zone's bank could run into. */
  onPads(zoneIndex: number, piece: Float64Array, a: number, b: number, c: number) {
    const sum = { areaFt2: 0, volumeFt3: 0 };
    for (const pad of this.#blocks[zoneIndex]!) {
      if (!boxesMeet(piece, pad.box)) continue;
      const { areaFt2, volumeFt3 } = this.#within(piece, pad, a, b, c);
      sum.areaFt2 += areaFt2;
      sum.volumeFt3 += volumeFt3;
    }
    return sum;
  }

  /** Clips the ring by the triangles of the polygon's fan: right for any simple ring. */
  #within(
    piece: Float64Array,
    shape: Shape,
    a: number,
    b: number,
    c: number,
  ): { areaFt2: number; volumeFt3: number } {
    let areaFt2 = 0;
    let volumeFt3 = 0;
    for (let i = 1; 2 * i + 3 < piece.length; i++) {
      const n = this.#clipper.clip(
        shape.flat,
        shape.count,
        piece[0]!,
        piece[1]!,
        piece[2 * i]!,
        piece[2 * i + 1]!,
        piece[2 * i + 2]!,
        piece[2 * i + 3]!,
      );
      this.#integral.over(this.#clipper.xy, n, a, b, c);
      areaFt2 += this.#integral.areaFt2;
      volumeFt3 += this.#integral.volumeFt3;
    }
    return { areaFt2, volumeFt3 };
  }
}

/**
 * True when some of the points may lie nearer to a point of the zone than the zone's own base: those before its edge,
 * or before its corner as seen along either side of a wedge. Around one convex pad there are none.
 */
function facesAny({ distance: [da, db, dc], base: [apex], rays }: Zone, points: readonly Point[]): boolean {
  if (rays === null) return liesBefore(da, db, dc, points);
  for (const [rx, ry] of rays) if (liesBefore(rx, ry, -rx * apex[0] - ry * apex[1], points)) return true;
  return false;
}

/** True when a·x + b·y + c is more than rounding at one of the points. */
function liesBefore(a: number, b: number, c: number, points: readonly Point[]): boolean {
  for (let i = 0; i < points.length; i++) {
    const at = points[i]!;
    if (a * at[0] + b * at[1] + c > TOUCH_FT) return true;
  }
  return false;
}

function shapeOf(ring: Ring): Shape {
  return { flat: flatten(ring), count: ring.length, box: boxOf(ring) };
}

/** Shortest distance between pads and the limit; 0 where a pad lies across it. */
function clearanceFt(pads: readonly Pad[], limit: Ring): number {
  let best = Infinity;
  for (const { ring } of pads) {
    if (!ring.every((point) => ringContains(limit, point))) return 0;
    for (const point of ring) best = Math.min(best, distanceToRingFt(limit, point));
    for (const point of limit) best = Math.min(best, distanceToRingFt(ring, point));
  }
  return best;
}
