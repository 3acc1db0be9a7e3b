/** Planar points and rings in feet, x east, y north. Kernels for everything above. */

export type Point = readonly [eastFt: number, northFt: number];
/** Counter-clockwise where it is an outer ring, clockwise where a hole; the first point is not repeated. */
export type Ring = readonly Point[];
/** Outer ring first, then holes. */
export type Polygon = readonly Ring[];
export type MultiPolygon = readonly Polygon[];
export type Point3 = readonly [eastFt: number, northFt: number, elevFt: number];

export interface Box {
  readonly minEastFt: number;
  readonly minNorthFt: number;
  readonly maxEastFt: number;
  readonly maxNorthFt: number;
}

/** Shoelace area: positive when the ring runs counter-clockwise. Taken about the first vertex, so large coordinates lose nothing. */
export function signedAreaFt2(ring: Ring): number {
  const [x0, y0] = ring[0] ?? [0, 0];
  let twice = 0;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    twice += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0);
  }
  return twice / 2;
}

/** Plan area of polygons with holes, ≥ 0. */
export function areaFt2(polygons: MultiPolygon): number {
  let sum = 0;
  for (const polygon of polygons)
    polygon.forEach((ring, i) => {
      sum += (i === 0 ? 1 : -1) * Math.abs(signedAreaFt2(ring));
    });
  return sum;
}

export function perimeterFt(ring: Ring): number {
  let sum = 0;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    sum += Math.hypot(bx - ax, by - ay);
  }
  return sum;
}

export function boxOf(points: Iterable<Point>): Box {
  let minEastFt = Infinity;
  let minNorthFt = Infinity;
  let maxEastFt = -Infinity;
  let maxNorthFt = -Infinity;
  for (const [x, y] of points) {
    if (x < minEastFt) minEastFt = x;
    if (x > maxEastFt) maxEastFt = x;
    if (y < minNorthFt) minNorthFt = y;
    if (y > maxNorthFt) maxNorthFt = y;
  }
  return { minEastFt, minNorthFt, maxEastFt, maxNorthFt };
}

/** Even-odd test against one ring; points on the edge may fall on either side. */
export function ringContains(ring: Ring, [x, y]: Point): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[j]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}

export function polygonsContain(polygons: MultiPolygon, point: Point): boolean {
  return polygons.some(
    ([outer, ...holes]) =>
      outer !== undefined && ringContains(outer, point) && !holes.some((hole) => ringContains(hole, point)),
  );
}

/** Shortest distance from a point to the edges of a ring, ≥ 0, inside or outside. */
export function distanceToRingFt(ring: Ring, [x, y]: Point): number {
  let best = Infinity;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const length2 = (bx - ax) ** 2 + (by - ay) ** 2;
    const t =
      length2 === 0 ? 0 : Math.max(0, Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length2));
    best = Math.min(best, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return best;
}
