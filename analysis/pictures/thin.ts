/** Fewer vertices and fewer digits: what a drawing cannot show need not travel. */
import { type MultiPolygon, type Point, type Point3, type Ring, signedAreaFt2 } from "../geometry/plane.js";

/** Survey shots are read to 0.01 ft. */
export function to01(value: number): number {
  const rounded = Math.round(value * 100) / 100;
  return rounded === 0 ? 0 : rounded;
}

export function roundPoint([east, north]: Point): Point {
  return [to01(east), to01(north)];
}

/**
 * Keeps the vertices of an open line that lie farther than the tolerance from the chord of their neighbours
 * (Douglas and Peucker, 1973). First and last always stay.
 */
export function keepIndices(
  count: number,
  distance: (i: number, from: number, to: number) => number,
  tolerance: number,
): number[] {
  if (count < 3) return Array.from({ length: count }, (_, i) => i);
  const keep = new Uint8Array(count);
  keep[0] = keep[count - 1] = 1;
  const stack: [number, number][] = [[0, count - 1]];
  for (let range = stack.pop(); range; range = stack.pop()) {
    const [from, to] = range;
    let farthest = -1;
    let farthestBy = tolerance;
    for (let i = from + 1; i < to; i++) {
      const by = distance(i, from, to);
      if (by > farthestBy) {
        farthest = i;
        farthestBy = by;
      }
    }
    if (farthest < 0) continue;
    keep[farthest] = 1;
    stack.push([from, farthest], [farthest, to]);
  }
  const kept: number[] = [];
  for (let i = 0; i < count; i++) if (keep[i]) kept.push(i);
  return kept;
}

function chordDistance(p: Point | Point3, a: Point | Point3, b: Point | Point3): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const lengthSquared = dx * dx + dy * dy;
  const t =
    lengthSquared === 0
      ? 0
      : Math.max(0, Math.min(1, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / lengthSquared));
  return Math.hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy);
}

/** By plan position; heights ride along. */
export function thinLine<P extends Point | Point3>(line: readonly P[], toleranceFt: number): P[] {
  return keepIndices(line.length, (i, a, b) => chordDistance(line[i]!, line[a]!, line[b]!), toleranceFt).map(
    (i) => line[i]!,
  );
}

/** Thins a closed ring about its two farthest-apart vertices; undefined when nothing with an area is left. */
function thinRing(ring: Ring, toleranceFt: number): Ring | undefined {
  if (ring.length < 3) return undefined;
  let far = 0;
  let farFt = -1;
  ring.forEach(([x, y], i) => {
    const d = Math.hypot(x - ring[0]![0], y - ring[0]![1]);
    if (d > farFt) {
      far = i;
      farFt = d;
    }
  });
  const there = thinLine(ring.slice(0, far + 1), toleranceFt);
  const back = thinLine([...ring.slice(far), ring[0]!], toleranceFt);
  const kept = [...there.slice(0, -1), ...back.slice(0, -1)].map(roundPoint);
  return kept.length >= 3 && Math.abs(signedAreaFt2(kept)) > 0 ? kept : undefined;
}

/** Rings smaller than the given area are dropped: an outer one with its holes, a hole alone. */
export function thinPolygons(polygons: MultiPolygon, toleranceFt: number, smallestFt2: number): MultiPolygon {
  const thinned: Ring[][] = [];
  for (const [outer, ...holes] of polygons) {
    if (!outer || Math.abs(signedAreaFt2(outer)) < smallestFt2) continue;
    const ring = thinRing(outer, toleranceFt);
    if (!ring) continue;
    const kept = holes
      .filter((hole) => Math.abs(signedAreaFt2(hole)) >= smallestFt2)
      .map((hole) => thinRing(hole, toleranceFt))
      .filter((hole) => hole !== undefined);
    thinned.push([ring, ...kept]);
  }
  return thinned;
}
