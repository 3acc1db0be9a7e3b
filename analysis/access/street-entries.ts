/** Where a car can come in from the street. Method: docs/methods/access.md */
import { type Point, type Ring, signedAreaFt2 } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { elevationAt } from "../terrain/index.js";
import type { Reach, StreetEntry } from "./access.js";

/** Spacing of the places tried along the frontage. */
const ENTRY_SPACING_FT = 8;
/** Lane edge to the corner of the lot, so that the flare of the throat stays in front of it. Common practice, no source. */
const CORNER_CLEAR_FT = 3;
/** How far in from the lot line the ground is looked for where the survey stops short of it. */
const LOOK_IN_FT = 24;

export interface Entries {
  readonly origin: Reach["entryOrigin"];
  /** In order along the frontage. */
  readonly all: readonly StreetEntry[];
  /** The one given, else the middle of the frontage. */
  readonly main: StreetEntry | null;
  /** Boundary edges the lane may cross. */
  readonly openEdges: readonly number[];
}

/** The entry the caller gave, else places along the frontage; none when nobody knows the street or the ground beside it. */
export function findEntries(site: Site): Entries {
  const { boundary, accessPoint } = site.survey;
  if (accessPoint) {
    const edge = nearestEdge(boundary, accessPoint);
    const all = entriesBeside(site, boundary, edge, accessPoint);
    const away = all.map(({ at }) => Math.hypot(at[0] - accessPoint[0], at[1] - accessPoint[1]));
    return { origin: "given", all, main: all[away.indexOf(Math.min(...away))] ?? null, openEdges: [edge] };
  }
  const openEdges = boundary.flatMap((_, i) => (site.lot.edges[i]!.frontage ? [i] : []));
  const all = openEdges.flatMap((edge) => entriesAlong(site, boundary, edge));
  const origin =
    all.length === 0 ? "unknown" : site.lot.frontageOrigin === "given" ? "frontage midpoint" : "guessed";
  return { origin, all, main: all[Math.floor((all.length - 1) / 2)] ?? null, openEdges };
}

/** The point given, and places so near to it along the lot line that nobody would call them another entry. */
function entriesBeside(site: Site, boundary: Ring, edge: number, street: Point): StreetEntry[] {
  const at = nearestOn(boundary, edge, street);
  const [a, b] = edgeOf(boundary, edge);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  return BESIDE_FT.flatMap((ft) => {
    const place: Point = [at[0] + (ft / length) * (b[0] - a[0]), at[1] + (ft / length) * (b[1] - a[1])];
    const beyond = Math.hypot(...minus(place, nearestOn(boundary, edge, place))) > 0.01;
    return beyond
      ? []
      : (entryOn(site, boundary, edge, place, [street[0] + place[0] - at[0], street[1] + place[1] - at[1]]) ??
          []);
  });
}

/** A point on a map is meant this loosely. Judgement. */
const BESIDE_FT = [-10, -5, 0, 5, 10] as const;

function minus(a: Point, b: Point): [number, number] {
  return [a[0] - b[0], a[1] - b[1]];
}

function entriesAlong(site: Site, boundary: Ring, edge: number): StreetEntry[] {
  const [a, b] = edgeOf(boundary, edge);
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const half = site.request.rules.driveway.widthFt / 2;
  const count = boundary.length;
  // frontage that bends goes on round the corner
  const from = site.lot.edges[(edge + count - 1) % count]!.frontage ? 0 : half + CORNER_CLEAR_FT;
  const to = length - (site.lot.edges[(edge + 1) % count]!.frontage ? 0 : half + CORNER_CLEAR_FT);
  const steps = Math.max(0, Math.round((to - from) / ENTRY_SPACING_FT));
  const at = (t: number): Point => [a[0] + (t / length) * (b[0] - a[0]), a[1] + (t / length) * (b[1] - a[1])];
  const places =
    to <= from
      ? [at(length / 2)]
      : Array.from({ length: steps + 1 }, (_, k) => at(from + ((to - from) * k) / Math.max(1, steps)));
  return places.flatMap((place) => entryOn(site, boundary, edge, place, place) ?? []);
}

function entryOn(site: Site, boundary: Ring, edge: number, at: Point, street: Point): StreetEntry | null {
  const [a, b] = edgeOf(boundary, edge);
  const turn = signedAreaFt2(boundary) > 0 ? 1 : -1;
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const inward: Point = [(-turn * (b[1] - a[1])) / length, (turn * (b[0] - a[0])) / length];
  const given = site.request.access.streetElevationFt;
  const elevFt = given ?? groundNear(site, street, at, inward);
  return elevFt === null ? null : { at, inward, elevFt };
}

/** Ground at the street, else at the lot line, else the first surveyed ground inward of it. */
function groundNear({ terrain }: Site, street: Point, at: Point, inward: Point): number | null {
  const there = elevationAt(terrain.tin, street[0], street[1]);
  if (!Number.isNaN(there)) return there;
  for (let t = 0; t <= LOOK_IN_FT; t++) {
    const z = elevationAt(terrain.tin, at[0] + t * inward[0], at[1] + t * inward[1]);
    if (!Number.isNaN(z)) return z;
  }
  return null;
}

function edgeOf(ring: Ring, i: number): readonly [Point, Point] {
  return [ring[i]!, ring[(i + 1) % ring.length]!];
}

function nearestEdge(ring: Ring, point: Point): number {
  let best = 0;
  let bestFt = Infinity;
  for (let i = 0; i < ring.length; i++) {
    const on = nearestOn(ring, i, point);
    const ft = Math.hypot(on[0] - point[0], on[1] - point[1]);
    if (ft < bestFt) {
      bestFt = ft;
      best = i;
    }
  }
  return best;
}

function nearestOn(ring: Ring, i: number, [x, y]: Point): Point {
  const [[ax, ay], [bx, by]] = edgeOf(ring, i);
  const dx = bx - ax;
  const dy = by - ay;
  const t = Math.max(0, Math.min(1, ((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy)));
  return [ax + t * dx, ay + t * dy];
}
