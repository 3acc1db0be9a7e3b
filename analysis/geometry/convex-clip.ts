/**
 * Clipping kernels over flat arrays, for loops that visit every facet. A polygon is x0, y0, x1, y1, … with `count` vertices.
 */

/**
 * Keeps the part of a polygon where a·x + b·y ≥ c (Sutherland–Hodgman, one half-plane). The polygon may be any
 * simple one; a non-convex result is joined by edges that run back along the line, so its signed area stays exact.
 * `out` must hold one vertex more than twice the input's. Returns the number of vertices written.
 */
export function clipByHalfPlane(
  xy: Float64Array,
  count: number,
  a: number,
  b: number,
  c: number,
  out: Float64Array,
): number {
  if (count === 0) return 0;
  let n = 0;
  let px = xy[2 * count - 2]!;
  let py = xy[2 * count - 1]!;
  let pd = a * px + b * py - c;
  for (let i = 0; i < count; i++) {
    const x = xy[2 * i]!;
    const y = xy[2 * i + 1]!;
    const d = a * x + b * y - c;
    if (d >= 0 !== pd >= 0) {
      const t = pd / (pd - d);
      out[n++] = px + t * (x - px);
      out[n++] = py + t * (y - py);
    }
    if (d >= 0) {
      out[n++] = x;
      out[n++] = y;
    }
    px = x;
    py = y;
    pd = d;
  }
  return n / 2;
}

/** Clips rings by counter-clockwise triangles, reusing its buffers; the result of the last clip lies in `xy`. */
export class TriangleClipper {
  /** The clipped polygon: x0, y0, x1, y1, … */
  xy: Float64Array = new Float64Array(64);
  #other: Float64Array = new Float64Array(64);

  /** Vertices of ring ∩ triangle, left in `xy`. The ring is given flat. */
  clip(
    ring: Float64Array,
    ringCount: number,
    ax: number,
    ay: number,
    bx: number,
    by: number,
    cx: number,
    cy: number,
  ): number {
    const room = 2 * (8 * ringCount + 8);
    if (this.xy.length < room) {
      this.xy = new Float64Array(room);
      this.#other = new Float64Array(room);
    }
    // inside is left of each edge: normal (−dy, dx)
    let n = clipByHalfPlane(ring, ringCount, ay - by, bx - ax, (ay - by) * ax + (bx - ax) * ay, this.xy);
    n = clipByHalfPlane(this.xy, n, by - cy, cx - bx, (by - cy) * bx + (cx - bx) * by, this.#other);
    return clipByHalfPlane(this.#other, n, cy - ay, ax - cx, (cy - ay) * cx + (ax - cx) * cy, this.xy);
  }
}

/** Signed area of a flat polygon, about its first vertex. */
export function flatArea(xy: Float64Array, count: number): number {
  const x0 = xy[0]!;
  const y0 = xy[1]!;
  let twice = 0;
  for (let i = 1; i + 1 < count; i++) {
    twice += (xy[2 * i]! - x0) * (xy[2 * i + 3]! - y0) - (xy[2 * i + 2]! - x0) * (xy[2 * i + 1]! - y0);
  }
  return twice / 2;
}

/** A ring as x0, y0, x1, y1, … */
export function flatten(ring: readonly (readonly [number, number])[]): Float64Array {
  const flat = new Float64Array(2 * ring.length);
  ring.forEach(([x, y], i) => {
    flat[2 * i] = x;
    flat[2 * i + 1] = y;
  });
  return flat;
}
