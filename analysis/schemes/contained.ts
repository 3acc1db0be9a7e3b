/** Exact tests of a footprint against the ground it may stand on. */
import { type MultiPolygon, type Point, polygonsContain, type Ring } from "../geometry/plane.js";

/** Polygon edges as x0, y0, x1, y1, …, ready for many tests. */
export class Ground {
  readonly #edges: Float64Array;
  readonly #polygons: MultiPolygon;

  constructor(polygons: MultiPolygon) {
    this.#polygons = polygons;
    const edges: number[] = [];
    for (const ring of polygons.flat())
      for (let i = 0; i < ring.length; i++) {
        const [ax, ay] = ring[i]!;
        const [bx, by] = ring[(i + 1) % ring.length]!;
        edges.push(ax, ay, bx, by);
      }
    this.#edges = Float64Array.from(edges);
  }

  get isEmpty(): boolean {
    return this.#edges.length === 0;
  }

  /** True when a ring and all it encloses lie on the ground: one corner inside, and no edge of the ground crosses or enters it. */
  holds(ring: Ring): boolean {
    if (!polygonsContain(this.#polygons, ring[0]!)) return false;
    let minX = Infinity;
    let minY = Infinity;
    let maxX = -Infinity;
    let maxY = -Infinity;
    for (const [x, y] of ring) {
      if (x < minX) minX = x;
      if (x > maxX) maxX = x;
      if (y < minY) minY = y;
      if (y > maxY) maxY = y;
    }
    const e = this.#edges;
    for (let k = 0; k < e.length; k += 4) {
      const ax = e[k]!;
      const ay = e[k + 1]!;
      const bx = e[k + 2]!;
      const by = e[k + 3]!;
      if (ax < minX ? bx < minX : ax > maxX && bx > maxX) continue;
      if (ay < minY ? by < minY : ay > maxY && by > maxY) continue;
      if (entersConvexParts(ring, ax, ay, bx, by)) return false;
    }
    return true;
  }
}

/** True when a segment crosses an edge of the ring properly, or starts inside it. */
function entersConvexParts(ring: Ring, ax: number, ay: number, bx: number, by: number): boolean {
  let inside = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [px, py] = ring[j]!;
    const [qx, qy] = ring[i]!;
    if (qy > ay !== py > ay && ax < ((px - qx) * (ay - qy)) / (py - qy) + qx) inside = !inside;
    const d1 = (bx - ax) * (py - ay) - (by - ay) * (px - ax);
    const d2 = (bx - ax) * (qy - ay) - (by - ay) * (qx - ax);
    const d3 = (qx - px) * (ay - py) - (qy - py) * (ax - px);
    const d4 = (qx - px) * (by - py) - (qy - py) * (bx - px);
    if (d1 > 0 !== d2 > 0 && d3 > 0 !== d4 > 0 && d1 !== 0 && d2 !== 0 && d3 !== 0 && d4 !== 0) return true;
  }
  return inside && deeperThanTouch(ring, [ax, ay]);
}

/** Corners of the ground lying on the ring's own edge are a touch, not an entry. */
const TOUCH_FT = 1e-6;

function deeperThanTouch(ring: Ring, [x, y]: Point): boolean {
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [px, py] = ring[j]!;
    const [qx, qy] = ring[i]!;
    const length = Math.hypot(qx - px, qy - py);
    if (Math.abs((qx - px) * (y - py) - (qy - py) * (x - px)) / length < TOUCH_FT) return false;
  }
  return true;
}
