/**
 * The ground outside level pads, divided into zones in which the distance to the nearest pad is a plane:
 * a strip beside each battered edge, and at each outward corner a fan of narrow wedges (or, for mitred corners,
 * strips that meet on the bisector). Method: docs/methods/earthwork.md
 */
import type { Point, Ring } from "../geometry/plane.js";
import { signedAreaFt2 } from "../geometry/plane.js";

/** What stands along an edge of a pad: a sloped bank, a wall, or nothing but a vertical face. */
export type Side = "batter" | "wall" | "vertical";

/** A level piece of the design surface. */
export interface Pad {
  readonly ring: Ring;
  readonly levelFt: number;
  /** One for all edges, or one for each edge from ring[i] to ring[i + 1]; "batter" when not said. */
  readonly sides?: Side | readonly Side[];
}

/** How two banks meet at an outward corner: rounded keeps the slope constant, mitred keeps the planes. */
export type Corners = "round" | "mitre";

/** Where one plane of distance holds: a·x + b·y ≥ c for each line. */
export interface Zone {
  readonly pad: number;
  readonly levelFt: number;
  readonly lines: readonly ZoneLine[];
  /** Distance to the pad: a·x + b·y + c. */
  readonly distance: readonly [a: number, b: number, c: number];
  /** Where the bank starts: an edge, or a corner twice. */
  readonly base: readonly [Point, Point];
  /** Directions of a wedge's two sides; null for strips. */
  readonly rays: readonly [Point, Point] | null;
  /** Largest relative error of the distance; 0 but in wedges. */
  readonly error: number;
}

interface ZoneLine {
  readonly a: number;
  readonly b: number;
  readonly c: number;
  /** Zone on the other side of the line, −1 for none. */
  readonly beyond: number;
}

/** Wedges in a right-angled corner. */
const WEDGES_PER_QUARTER = 8;
/** Corners that turn by less than this are part of a straight side. */
const STRAIGHT_RAD = 1e-6;

export function sidesOf({ ring, sides = "batter" }: Pad): readonly Side[] {
  if (typeof sides === "string") return ring.map(() => sides);
  if (sides.length !== ring.length)
    throw new RangeError(`A pad of ${ring.length} edges needs as many sides, got ${sides.length}`);
  return sides;
}

/** Pads with their rings counter-clockwise and a side for each edge. */
export function orient(pad: Pad): Pad & { readonly sides: readonly Side[] } {
  const sides = sidesOf(pad);
  if (signedAreaFt2(pad.ring) > 0) return { ...pad, sides };
  const n = sides.length;
  // reversed, the edge from corner i runs to corner i − 1
  return { ...pad, ring: [...pad.ring].reverse(), sides: sides.map((_, i) => sides[(2 * n - 2 - i) % n]!) };
}

/** True when every corner turns left or not at all: its zones cannot overlap. */
export function isConvex(ring: Ring): boolean {
  return ring.every((_, i) => turnAt(ring, i) > -STRAIGHT_RAD);
}

/** Zones of all pads; rings must run counter-clockwise. */
export function zonesOf(
  pads: readonly (Pad & { readonly sides: readonly Side[] })[],
  corners: Corners,
): Zone[] {
  const zones: Zone[] = [];
  pads.forEach((pad, index) => {
    addZones(zones, pad, index, corners);
  });
  return zones;
}

function addZones(
  zones: Zone[],
  { ring, levelFt, sides }: Pad & { readonly sides: readonly Side[] },
  pad: number,
  corners: Corners,
): void {
  const n = ring.length;
  const stripAt = new Int32Array(n).fill(-1);
  /** Number of wedges at the start corner of each edge. */
  const wedges = new Int32Array(n);
  let next = zones.length;
  for (let i = 0; i < n; i++) {
    const turn = turnAt(ring, i);
    const both = sides[i] === "batter" && sides[(i + n - 1) % n] === "batter";
    wedges[i] =
      corners === "round" && both && turn > STRAIGHT_RAD
        ? Math.ceil((WEDGES_PER_QUARTER * turn) / (Math.PI / 2) - 1e-9)
        : 0;
    next += wedges[i]!;
    if (sides[i] === "batter") stripAt[i] = next++;
  }
  for (let i = 0; i < n; i++) {
    const before = (i + n - 1) % n;
    const after = (i + 1) % n;
    if (wedges[i]! > 0)
      addWedges(zones, ring, i, wedges[i]!, {
        pad,
        levelFt,
        fromStrip: stripAt[before]!,
        toStrip: stripAt[i]!,
      });
    if (sides[i] !== "batter") continue;
    const [px, py] = ring[i]!;
    const [qx, qy] = ring[after]!;
    const [tx, ty] = directionOf(ring, i);
    const [nx, ny] = [ty, -tx];
    const start = endLine(ring, i, corners, sides[before] === "batter", tx, ty, -1);
    const end = endLine(ring, after, corners, sides[after] === "batter", -tx, -ty, 1);
    zones.push({
      pad,
      levelFt,
      lines: [
        { a: nx, b: ny, c: nx * px + ny * py, beyond: -1 },
        { ...start, beyond: wedges[i]! > 0 ? stripAt[i]! - 1 : stripAt[before]! },
        { ...end, beyond: wedges[after]! > 0 ? firstWedge(stripAt, wedges, after) : stripAt[after]! },
      ],
      distance: [nx, ny, -(nx * px + ny * py)],
      base: [
        [px, py],
        [qx, qy],
      ],
      rays: null,
      error: 0,
    });
  }
}

/** Zones are numbered corner by corner: the wedges at a corner come just before the strip that starts there. */
function firstWedge(stripAt: Int32Array, wedges: Int32Array, corner: number): number {
  return stripAt[corner]! - wedges[corner]!;
}

/** Where a strip ends at a corner: square to the edge, or on the bisector at inward and mitred corners. */
function endLine(
  ring: Ring,
  corner: number,
  corners: Corners,
  neighbourBattered: boolean,
  inwardX: number,
  inwardY: number,
  after: 1 | -1,
): { a: number; b: number; c: number } {
  const [x, y] = ring[corner]!;
  const turn = turnAt(ring, corner);
  const bisected = turn < -STRAIGHT_RAD || (corners === "mitre" && neighbourBattered && turn > STRAIGHT_RAD);
  if (!bisected) return { a: inwardX, b: inwardY, c: inwardX * x + inwardY * y };
  const [ux, uy] = directionOf(ring, corner - 1);
  const [vx, vy] = directionOf(ring, corner);
  // difference of the outward normals: on it the two distances are the same
  const away = (turn < 0 ? 1 : -1) * after;
  const a = away * (vy - uy);
  const b = away * (ux - vx);
  return { a, b, c: a * x + b * y };
}

function addWedges(
  zones: Zone[],
  ring: Ring,
  corner: number,
  count: number,
  { pad, levelFt, fromStrip, toStrip }: { pad: number; levelFt: number; fromStrip: number; toStrip: number },
): void {
  const [x, y] = ring[corner]!;
  const [ux, uy] = directionOf(ring, corner - 1);
  const first = Math.atan2(-ux, uy);
  const step = turnAt(ring, corner) / count;
  // scales the plane so that its mean distance over the wedge is right
  const scale = step / 2 / Math.sin(step / 2);
  const self = zones.length;
  for (let k = 0; k < count; k++) {
    const from = first + k * step;
    const to = from + step;
    const a = scale * Math.cos(from + step / 2);
    const b = scale * Math.sin(from + step / 2);
    const left = { a: -Math.sin(from), b: Math.cos(from) };
    const right = { a: Math.sin(to), b: -Math.cos(to) };
    zones.push({
      pad,
      levelFt,
      lines: [
        { ...left, c: left.a * x + left.b * y, beyond: k === 0 ? fromStrip : self + k - 1 },
        { ...right, c: right.a * x + right.b * y, beyond: k === count - 1 ? toStrip : self + k + 1 },
      ],
      distance: [a, b, -(a * x + b * y)],
      base: [
        [x, y],
        [x, y],
      ],
      rays: [
        [Math.cos(from), Math.sin(from)],
        [Math.cos(to), Math.sin(to)],
      ],
      error: Math.max(scale - 1, 1 - scale * Math.cos(step / 2)),
    });
  }
}

function directionOf(ring: Ring, edge: number): [number, number] {
  const n = ring.length;
  const [px, py] = ring[(edge + n) % n]!;
  const [qx, qy] = ring[(edge + 1 + n) % n]!;
  const length = Math.hypot(qx - px, qy - py);
  if (!(length > 0)) throw new RangeError("A pad must not repeat a corner");
  return [(qx - px) / length, (qy - py) / length];
}

/** Left turn at a corner, in (−π, π). */
function turnAt(ring: Ring, corner: number): number {
  const [ux, uy] = directionOf(ring, corner - 1);
  const [vx, vy] = directionOf(ring, corner);
  return Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
}
