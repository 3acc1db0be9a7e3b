/** Unions, differences, intersections and offsets of polygons in local feet, by the Clipper2 algorithms. */
import {
  Clipper,
  ClipType,
  EndType,
  FillRule,
  JoinType,
  type Path64,
  type Paths64,
  type PolyPath64,
  PolyTree64,
} from "clipper2-ts";
import type { MultiPolygon, Point, Polygon, Ring } from "./plane.js";

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
  const tree = new PolyTree64();
  Clipper.booleanOpWithPolyTree(type, subject, clip, tree, FillRule.NonZero);
  const polygons: Polygon[] = [];
  collect(tree, polygons);
  return polygons;
}

function toPaths(rings: readonly Ring[]): Paths64 {
  return rings.map((ring) =>
    ring.map(([x, y]) => ({ x: Math.round(x * UNITS_PER_FT), y: Math.round(y * UNITS_PER_FT) })),
  );
}

function toRing(path: Path64, counterClockwise: boolean): Ring {
  const ring = path.map(({ x, y }): Point => [x / UNITS_PER_FT, y / UNITS_PER_FT]);
  return Clipper.isPositive(path) === counterClockwise ? ring : ring.reverse();
}

/** Outer rings with the holes directly inside them; islands within holes become polygons of their own. */
function collect(node: PolyPath64, polygons: Polygon[]): void {
  for (let i = 0; i < node.count; i++) {
    const outer = node.child(i);
    const rings = [toRing(outer.poly ?? [], true)];
    for (let j = 0; j < outer.count; j++) {
      const hole = outer.child(j);
      rings.push(toRing(hole.poly ?? [], false));
      collect(hole, polygons);
    }
    polygons.push(rings);
  }
}
