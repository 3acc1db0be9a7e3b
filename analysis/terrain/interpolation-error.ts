/** How far the ground between shots may be off: leave each shot out and predict it from its neighbours. */
import type { Tin } from "./terrain.js";

/** Enough shots for a root mean square good to about 2 %; more only cost time. */
const MOST_SHOTS = 1500;
/** Fewer predictions than this say nothing. */
const FEWEST_PREDICTIONS = 8;

/**
 * Root mean square, ft, of the height of a shot less the height its neighbours' triangles give when it is left out.
 * Taking a shot out of a Delaunay triangulation changes only the ground around it, and the triangle that then covers
 * its place is the one of its neighbours whose circle holds no other neighbour. Every nth shot on large surveys; shots
 * on the rim, on break lines or beside unsupported facets are left out. Null with too few predictions.
 */
export function leaveOneOutRmsFt(tin: Tin, onBreakline: Uint8Array): number | null {
  const { elevFt, triangles, halfedges, supported } = tin;
  const stride = Math.max(1, Math.floor(elevFt.length / MOST_SHOTS));
  let sum = 0;
  let count = 0;
  const ring: number[] = [];
  const x: number[] = [];
  const y: number[] = [];
  for (let v = 0; v < elevFt.length; v += stride) {
    const first = onBreakline[v] ? -1 : sideFrom(tin, v);
    if (first < 0) continue;
    ring.length = 0;
    let e = first;
    let usable = true;
    do {
      usable = supported[(e / 3) | 0] === 1;
      const back = e % 3 === 0 ? e + 2 : e - 1;
      ring.push(triangles[back]!);
      e = halfedges[back]!;
    } while (usable && e >= 0 && e !== first);
    if (!usable || e < 0) continue;
    const predicted = predict(tin, v, ring, x, y);
    if (Number.isNaN(predicted)) continue;
    sum += (elevFt[v]! - predicted) ** 2;
    count++;
  }
  return count < FEWEST_PREDICTIONS ? null : Math.sqrt(sum / count);
}

/** A side that leaves vertex v, −1 where no facet meets it. */
function sideFrom({ eastFt, northFt, triangles, index }: Tin, v: number): number {
  const col = Math.floor((eastFt[v]! - index.originEastFt) / index.cellFt);
  const row = Math.floor((northFt[v]! - index.originNorthFt) / index.cellFt);
  const bucket = row * index.cols + col;
  for (let k = index.start[bucket + 1]! - 1; k >= index.start[bucket]!; k--)
    for (let e = 3 * index.facetIds[k]!, end = e + 3; e < end; e++) if (triangles[e] === v) return e;
  return -1;
}

/** Height at vertex v on the triangle of `ring` that holds it and whose circle holds no other of the ring; x and y are room for the ring. */
function predict(
  { eastFt, northFt, elevFt }: Tin,
  v: number,
  ring: readonly number[],
  x: number[],
  y: number[],
): number {
  const vx = eastFt[v]!;
  const vy = northFt[v]!;
  const n = ring.length;
  x.length = n;
  y.length = n;
  for (let i = 0; i < n; i++) {
    x[i] = eastFt[ring[i]!]! - vx;
    y[i] = northFt[ring[i]!]! - vy;
  }
  for (let a = 0; a < n; a++)
    for (let b = a + 1; b < n; b++)
      for (let c = b + 1; c < n; c++) {
        const wa = x[b]! * y[c]! - x[c]! * y[b]!;
        const wb = x[c]! * y[a]! - x[a]! * y[c]!;
        const wc = x[a]! * y[b]! - x[b]! * y[a]!;
        const holds = (wa >= 0 && wb >= 0 && wc >= 0) || (wa <= 0 && wb <= 0 && wc <= 0);
        const total = wa + wb + wc;
        if (!holds || total === 0 || !emptyCircle(x, y, a, b, c)) continue;
        return (wa * elevFt[ring[a]!]! + wb * elevFt[ring[b]!]! + wc * elevFt[ring[c]!]!) / total;
      }
  return NaN;
}

function emptyCircle(x: readonly number[], y: readonly number[], a: number, b: number, c: number): boolean {
  const bx = x[b]! - x[a]!;
  const by = y[b]! - y[a]!;
  const cx = x[c]! - x[a]!;
  const cy = y[c]! - y[a]!;
  const d = 2 * (bx * cy - by * cx);
  if (d === 0) return false;
  const bb = bx * bx + by * by;
  const cc = cx * cx + cy * cy;
  const ux = (cy * bb - by * cc) / d;
  const uy = (bx * cc - cx * bb) / d;
  const radius2 = (ux * ux + uy * uy) * (1 - 1e-9);
  for (let i = 0; i < x.length; i++) {
    if (i === a || i === b || i === c) continue;
    if ((x[i]! - x[a]! - ux) ** 2 + (y[i]! - y[a]! - uy) ** 2 < radius2) return false;
  }
  return true;
}
