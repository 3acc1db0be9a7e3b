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
  return keepSplits(count, (from, to) => {
    let farthest = -1;
    let farthestBy = tolerance;
    for (let i = from + 1; i < to; i++) {
      const by = distance(i, from, to);
      if (by > farthestBy) {
        farthest = i;
        farthestBy = by;
      }
    }
    return farthest;
  });
}

/** First and last, and wherever a stretch between two that are kept is to be split; −1 where it is not. */
function keepSplits(count: number, splitAt: (from: number, to: number) => number): number[] {
  if (count < 3) return Array.from({ length: count }, (_, i) => i);
  const keep = new Uint8Array(count);
  keep[0] = keep[count - 1] = 1;
  const stack = [0, count - 1];
  while (stack.length > 0) {
    const to = stack.pop()!;
    const from = stack.pop()!;
    const split = splitAt(from, to);
    if (split < 0) continue;
    keep[split] = 1;
    stack.push(from, split, split, to);
  }
  const kept: number[] = [];
  for (let i = 0; i < count; i++) if (keep[i]) kept.push(i);
  return kept;
}

/** By plan position; heights ride along. */
export function thinLine<P extends Point | Point3>(line: readonly P[], toleranceFt: number): P[] {
  const x = new Float64Array(line.length);
  const y = new Float64Array(line.length);
  for (let i = 0; i < line.length; i++) {
    x[i] = line[i]![0];
    y[i] = line[i]![1];
  }
  return keepSplits(line.length, (from, to) => farthestFromChord(x, y, from, to, toleranceFt)).map(
    (i) => line[i]!,
  );
}

/** The vertex between two others that lies farthest from the straight line between them; −1 where none lies farther than the tolerance. */
function farthestFromChord(
  x: Float64Array,
  y: Float64Array,
  from: number,
  to: number,
  toleranceFt: number,
): number {
  const ax = x[from]!;
  const ay = y[from]!;
  const dx = x[to]! - ax;
  const dy = y[to]! - ay;
  const length2 = dx * dx + dy * dy;
  const perLength2 = length2 > 0 ? 1 / length2 : 0;
  let farthest = -1;
  let most2 = toleranceFt * toleranceFt;
  for (let i = from + 1; i < to; i++) {
    const px = x[i]! - ax;
    const py = y[i]! - ay;
    let t = (px * dx + py * dy) * perLength2;
    if (t < 0) t = 0;
    else if (t > 1) t = 1;
    const offX = px - t * dx;
    const offY = py - t * dy;
    const off2 = offX * offX + offY * offY;
    if (off2 > most2) {
      farthest = i;
      most2 = off2;
    }
  }
  return farthest;
}

/** A spur or crack of an outline no wider than this and no blunter than that angle is no shape of the ground but of how it was pieced together. */
const NEEDLE_FT = 0.5;
const NEEDLE_COSINE = Math.cos((10 * Math.PI) / 180);

/** A closed ring without the points at which it runs out and straight back, inward or outward. */
function withoutNeedles<P extends Point>(ring: readonly P[]): P[] {
  const kept = [...ring];
  for (let i = 0, looked = 0; looked < kept.length && kept.length > 3; ) {
    const n = kept.length;
    const at = i % n;
    if (isNeedle(kept[(at + n - 1) % n]!, kept[at]!, kept[(at + 1) % n]!)) {
      kept.splice(at, 1);
      // the neighbors may be needles now
      i = at + n - 2;
      looked = 0;
    } else {
      i = at + 1;
      looked++;
    }
  }
  return kept;
}

/** Whether the way to the tip b and the way back lie side by side, as near as a needle's. */
function isNeedle([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): boolean {
  const [ux, uy, vx, vy] = [ax - bx, ay - by, cx - bx, cy - by];
  const there = Math.hypot(ux, uy);
  const back = Math.hypot(vx, vy);
  const sharp = ux * vx + uy * vy >= NEEDLE_COSINE * there * back;
  return sharp && Math.abs(ux * vy - uy * vx) < NEEDLE_FT * Math.max(there, back);
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
  const kept = withoutNeedles([...there.slice(0, -1), ...back.slice(0, -1)]).map(roundPoint);
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
