/** Unions, differences, intersections and offsets of polygons in local feet, by the Clipper2 algorithms. */
import { Clipper, ClipType, EndType, FillRule, JoinType, type Path64, type Paths64 } from "clipper2-ts";
import { type MultiPolygon, type Point, type Ring, ringContains, signedAreaFt2 } from "./plane.js";

/** Clipper2 works on whole numbers: one unit is a ten-thousandth of a foot. */
const UNITS_PER_FT = 10_000;
/** Largest gap between a true arc and the chords drawn for it. */
const ARC_TOLERANCE_FT = 0.002;
/** The same for openings, whose arcs lie on ground outlines that are not known so well. */
const OPENING_TOLERANCE_FT = 0.005;

/** Everything covered by any of the rings; they may overlap. Outer rings run counter-clockwise, holes clockwise. */
export function unionOf(rings: readonly Ring[]): MultiPolygon {
  return combine(ClipType.Union, toPaths(rings), null);
}

export function differenceOf(subject: MultiPolygon, clip: MultiPolygon): MultiPolygon {
  if (subject.length === 0 || clip.length === 0) return subject;
  return combine(ClipType.Difference, toPaths(subject.flat()), toPaths(clip.flat()));
}

export function intersectionOf(subject: MultiPolygon, clip: MultiPolygon): MultiPolygon {
  if (subject.length === 0 || clip.length === 0) return [];
  return combine(ClipType.Intersection, toPaths(subject.flat()), toPaths(clip.flat()));
}

/** Polygons grown by `distanceFt` (shrunk when negative) with round corners: the set of points within (or farther inside than) that distance. */
export function offsetOf(
  polygons: MultiPolygon,
  distanceFt: number,
  toleranceFt = ARC_TOLERANCE_FT,
): MultiPolygon {
  if (polygons.length === 0 || distanceFt === 0) return polygons;
  return grow(toPaths(polygons.flat()), distanceFt, EndType.Polygon, toleranceFt);
}

/** Everything within `distanceFt` of an open line: a strip with round ends. */
export function stripAlong(line: readonly Point[], distanceFt: number): MultiPolygon {
  if (!(distanceFt > 0)) return [];
  return grow(toPaths([line]), distanceFt, EndType.Round, ARC_TOLERANCE_FT);
}

/** What remains when a disc of the given diameter must fit everywhere: necks and corners narrower than it are lost. Morphological opening. */
export function openedBy(polygons: MultiPolygon, diameterFt: number): MultiPolygon {
  if (!(diameterFt > 0)) return polygons;
  const centres = offsetOf(polygons, -diameterFt / 2, OPENING_TOLERANCE_FT);
  return intersectionOf(offsetOf(centres, diameterFt / 2, OPENING_TOLERANCE_FT), polygons);
}

function grow(paths: Paths64, distanceFt: number, end: EndType, toleranceFt: number): MultiPolygon {
  const grown = Clipper.inflatePaths(
    paths,
    distanceFt * UNITS_PER_FT,
    JoinType.Round,
    end,
    2,
    toleranceFt * UNITS_PER_FT,
  );
  return combine(ClipType.Union, grown, null);
}

function combine(type: ClipType, subject: Paths64, clip: Paths64 | null): MultiPolygon {
  return nest(Clipper.booleanOp(type, subject, clip, FillRule.NonZero).map(toRing));
}

function toPaths(rings: readonly Ring[]): Paths64 {
  return rings.map((ring) =>
    ring.map(([x, y]) => ({ x: Math.round(x * UNITS_PER_FT), y: Math.round(y * UNITS_PER_FT) })),
  );
}

function toRing(path: Path64): Ring {
  return path.map(({ x, y }): Point => [x / UNITS_PER_FT, y / UNITS_PER_FT]);
}

/**
 * Puts each hole (a ring that runs clockwise) into the smallest outer ring around it. Clipper2's own tree is not used:
 * where rings touch at corners it can take an island for a hole.
 */
function nest(rings: readonly Ring[]): MultiPolygon {
  const areas = rings.map(signedAreaFt2);
  const outers = rings.map((_, i) => i).filter((i) => areas[i]! > 0);
  const polygons = new Map(outers.map((i): [number, Ring[]] => [i, [rings[i]!]]));
  rings.forEach((hole, h) => {
    if (!(areas[h]! < 0)) return;
    const around = outers.length === 1 ? outers : outers.filter((i) => holds(rings[i]!, hole));
    const home = around.reduce((best, i) => (areas[i]! < areas[best]! ? i : best), around[0] ?? -1);
    polygons.get(home)?.push(hole);
  });
  return [...polygons.values()];
}

/** Whether most of the middles of a hole's sides lie inside a ring; its corners may touch the ring. */
function holds(ring: Ring, hole: Ring): boolean {
  let inside = 0;
  hole.forEach(([ax, ay], i) => {
    const [bx, by] = hole[(i + 1) % hole.length]!;
    if (ringContains(ring, [(ax + bx) / 2, (ay + by) / 2])) inside++;
  });
  return 2 * inside > hole.length;
}
