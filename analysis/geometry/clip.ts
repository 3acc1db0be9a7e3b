/** Unions, differences, intersections and offsets of polygons in local feet, by the Clipper2 algorithms. */
import { Clipper, ClipType, EndType, FillRule, JoinType, type Path64, type Paths64 } from "clipper2-ts";
import {
  type Box,
  boxOf,
  type MultiPolygon,
  type Point,
  type Ring,
  ringContains,
  signedAreaFt2,
} from "./plane.js";
import { withoutSharedSides } from "./shared-sides.js";
import { withoutSpikes } from "./spikes.js";

/** Clipper2 works on whole numbers: one unit is a ten-thousandth of a foot. */
const UNITS_PER_FT = 10_000;
/** Largest gap between a true arc and the chords drawn for it. */
const ARC_TOLERANCE_FT = 0.002;
/** The same for openings, whose arcs lie on ground outlines that are not known so well. */
const OPENING_TOLERANCE_FT = 0.02;

/** Everything covered by any of the rings; they may overlap. Outer rings run counter-clockwise, holes clockwise. */
export function unionOf(rings: readonly Ring[]): MultiPolygon {
  return combine(ClipType.Union, toPaths(rings), null);
}

/** The same for the many pieces (x0, y0, x1, y1, … each) of one surface, which share most of their sides. */
export function unionOfPieces(pieces: readonly Float64Array[]): MultiPolygon {
  if (pieces.length === 0) return [];
  return combine(ClipType.Union, withoutSharedSides(pieces, UNITS_PER_FT), null);
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
  // most polygons of a ragged outline are specks that no disc fits in: gone without the cost of an offset
  const wide = polygons.filter(([outer]) => {
    const { minEastFt, maxEastFt, minNorthFt, maxNorthFt } = boxOf(outer!);
    return Math.min(maxEastFt - minEastFt, maxNorthFt - minNorthFt) >= diameterFt;
  });
  const centres = offsetOf(wide, -diameterFt / 2, OPENING_TOLERANCE_FT);
  return intersectionOf(offsetOf(centres, diameterFt / 2, OPENING_TOLERANCE_FT), wide);
}

function grow(paths: Paths64, distanceFt: number, end: EndType, toleranceFt: number): MultiPolygon {
  const grown = Clipper.inflatePaths(
    end === EndType.Polygon ? sound(paths) : paths,
    distanceFt * UNITS_PER_FT,
    JoinType.Round,
    end,
    2,
    toleranceFt * UNITS_PER_FT,
  );
  // inflating ends in a union
  return nest(grown.map(toRing));
}

function combine(type: ClipType, subject: Paths64, clip: Paths64 | null): MultiPolygon {
  const solution = Clipper.booleanOp(type, sound(subject), clip && sound(clip), FillRule.NonZero);
  return nest(solution.map(toRing));
}

/** The clipper may never return from a ring that runs out and back. */
function sound(paths: Paths64): Paths64 {
  return paths.map(withoutSpikes).filter((path) => path.length > 0);
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
 * where rings touch at corners it can take an island for a hole. The largest polygon comes first.
 */
function nest(rings: readonly Ring[]): MultiPolygon {
  const outers: { rings: Ring[]; areaFt2: number; box: Box }[] = [];
  const holes: Ring[] = [];
  for (const ring of rings) {
    const area = signedAreaFt2(ring);
    if (area > 0) outers.push({ rings: [ring], areaFt2: area, box: boxOf(ring) });
    else if (area < 0) holes.push(ring);
  }
  outers.sort((a, b) => a.areaFt2 - b.areaFt2);
  for (const hole of holes) {
    const box = boxOf(hole);
    const home =
      outers.length === 1
        ? outers[0]
        : outers.find((outer) => boxHolds(outer.box, box) && holds(outer.rings[0]!, hole));
    home?.rings.push(hole);
  }
  return outers.reverse().map((outer) => outer.rings);
}

function boxHolds(outer: Box, inner: Box): boolean {
  return (
    inner.minEastFt >= outer.minEastFt &&
    inner.maxEastFt <= outer.maxEastFt &&
    inner.minNorthFt >= outer.minNorthFt &&
    inner.maxNorthFt <= outer.maxNorthFt
  );
}

const HOLE_SAMPLES = 7;

/** Whether most of some middles of a hole's sides lie inside a ring; its corners may touch the ring. */
function holds(ring: Ring, hole: Ring): boolean {
  const stride = Math.ceil(hole.length / HOLE_SAMPLES);
  let votes = 0;
  for (let i = 0; i < hole.length; i += stride) {
    const [ax, ay] = hole[i]!;
    const [bx, by] = hole[(i + 1) % hole.length]!;
    votes += ringContains(ring, [(ax + bx) / 2, (ay + by) / 2]) ? 1 : -1;
  }
  return votes > 0;
}
