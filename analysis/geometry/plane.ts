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

/** The same for places held as columns, from one to before another. */
export function boxOfColumns(eastFt: Float64Array, northFt: Float64Array, from = 0, to = eastFt.length): Box {
  let minEastFt = Infinity;
  let minNorthFt = Infinity;
  let maxEastFt = -Infinity;
  let maxNorthFt = -Infinity;
  for (let i = from; i < to; i++) {
    const x = eastFt[i]!;
    const y = northFt[i]!;
    if (x < minEastFt) minEastFt = x;
    if (x > maxEastFt) maxEastFt = x;
    if (y < minNorthFt) minNorthFt = y;
    if (y > maxNorthFt) maxNorthFt = y;
  }
  return { minEastFt, minNorthFt, maxEastFt, maxNorthFt };
}

/** Even-odd test against one ring; points on the edge may fall on either side. Called in hot loops: no tuples are unpacked. */
export function ringContains(ring: Ring, point: Point): boolean {
  const x = point[0];
  const y = point[1];
  let inside = false;
  let b = ring[ring.length - 1]!;
  for (let i = 0; i < ring.length; i++) {
    const a = ring[i]!;
    if (a[1] > y !== b[1] > y && x < ((b[0] - a[0]) * (y - a[1])) / (b[1] - a[1]) + a[0]) inside = !inside;
    b = a;
  }
  return inside;
}

export function polygonsContain(polygons: MultiPolygon, point: Point): boolean {
  for (const polygon of polygons) {
    // even-odd over the rings of a polygon: inside the outer ring and in none of its holes
    let inside = false;
    for (const ring of polygon) if (ringContains(ring, point)) inside = !inside;
    if (inside) return true;
  }
  return false;
}

/** Shortest distance from a point to the edges of a ring, ≥ 0, inside or outside. */
export function distanceToRingFt(ring: Ring, point: Point): number {
  const x = point[0];
  const y = point[1];
  let best2 = Infinity;
  let a = ring[ring.length - 1]!;
  for (let i = 0; i < ring.length; i++) {
    const b = ring[i]!;
    const dx = b[0] - a[0];
    const dy = b[1] - a[1];
    const length2 = dx * dx + dy * dy;
    const along = length2 === 0 ? 0 : ((x - a[0]) * dx + (y - a[1]) * dy) / length2;
    const t = Math.max(0, Math.min(1, along));
    const offX = x - a[0] - t * dx;
    const offY = y - a[1] - t * dy;
    const off2 = offX * offX + offY * offY;
    if (off2 < best2) best2 = off2;
    a = b;
  }
  return Math.sqrt(best2);
}
