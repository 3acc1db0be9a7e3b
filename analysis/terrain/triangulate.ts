/** Ground shots joined to triangles. */
import Delaunator from "delaunator";
import type { JoinedGround } from "./join-breaklines.js";
import type { Mesh } from "./mesh.js";
import { settleTies } from "./settle-ties.js";

interface Constrainer {
  /** Sides to be looked at again after a flip. */
  flips: FlippedSides;
  /** Flips sides until the two points are joined; throws where that cannot be. */
  constrainOne(from: number, to: number): number;
  isConstrained(side: number): boolean;
}
// The package offers its TypeScript sources as types, and those do not pass this project's compiler options: so it is loaded by name.
const CONSTRAINER: string = "@kninnug/constrainautor";
const { default: Constrainautor } = (await import(/* @vite-ignore */ CONSTRAINER)) as {
  default: new (triangulation: object) => Constrainer;
};

/** The package walks through one bit for every side of the mesh after each side it forces; this walks through the flipped ones. */
class FlippedSides extends Set<number> {
  set(side: number, isFlipped: boolean): boolean {
    if (isFlipped) this.add(side);
    else this.delete(side);
    return isFlipped;
  }
}

/**
 * Delaunay triangles over the points, with the sides of break lines forced in, then `faceSides`, the sides of facets
 * the surveyor drew (pairs of points), as far as they cross no break line. The points are put in Hilbert order
 * first: neighbours in space become neighbours in memory. Empty when all points lie on one line.
 */
export function triangulate(
  { sides, ...ground }: JoinedGround,
  faceSides: Uint32Array = new Uint32Array(),
): Mesh {
  const order = hilbertOrder(ground.eastFt, ground.northFt);
  const eastFt = gather(ground.eastFt, order);
  const northFt = gather(ground.northFt, order);
  const elevFt = gather(ground.elevFt, order);
  const xy = new Float64Array(2 * order.length);
  for (let i = 0; i < order.length; i++) {
    xy[2 * i] = eastFt[i]!;
    xy[2 * i + 1] = -northFt[i]!; // Delaunator counts round with y down
  }
  const triangulation = new Delaunator(xy);
  const { triangles, halfedges } = triangulation;
  const onBreakline = new Uint8Array(order.length);
  const mesh = { eastFt, northFt, elevFt, onBreakline, triangles, halfedges };
  if (sides.length + faceSides.length === 0 || triangles.length === 0) {
    settleTies(mesh);
    return { ...mesh, sidesLost: 0, faceSidesLost: 0 };
  }
  const place = new Uint32Array(order.length);
  for (let i = 0; i < order.length; i++) place[order[i]!] = i;
  const constrainer = new Constrainautor(triangulation);
  constrainer.flips = new FlippedSides();
  const isLost = (a: number, b: number) => {
    try {
      constrainer.constrainOne(place[a]!, place[b]!);
      return false;
    } catch {
      return true;
    }
  };
  let sidesLost = 0;
  for (const [a, b] of sides) {
    onBreakline[place[a]!] = 1;
    onBreakline[place[b]!] = 1;
    if (isLost(a, b)) sidesLost++;
  }
  let faceSidesLost = 0;
  for (let i = 0; i < faceSides.length; i += 2) if (isLost(faceSides[i]!, faceSides[i + 1]!)) faceSidesLost++;
  settleTies(mesh, (side) => constrainer.isConstrained(side));
  return { ...mesh, sidesLost, faceSidesLost };
}

function gather(values: Float64Array, order: Uint32Array): Float64Array {
  const out = new Float64Array(order.length);
  for (let i = 0; i < order.length; i++) out[i] = values[order[i]!]!;
  return out;
}

/** Finest Hilbert grid: 2048 × 2048 cells. */
const MOST_HILBERT_BITS = 11;

/** Order of the points along a Hilbert curve through about as many cells as there are points; within a cell as given. */
function hilbertOrder(xs: Float64Array, ys: Float64Array): Uint32Array {
  const n = xs.length;
  let minX = Infinity;
  let minY = Infinity;
  let maxX = -Infinity;
  let maxY = -Infinity;
  for (let i = 0; i < n; i++) {
    const x = xs[i]!;
    const y = ys[i]!;
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  const bits = Math.min(MOST_HILBERT_BITS, Math.ceil(Math.log2(n + 1) / 2));
  const scale = (2 ** bits - 1) / Math.max(maxX - minX, maxY - minY, Number.MIN_VALUE);
  const keys = new Uint32Array(n);
  const start = new Uint32Array(4 ** bits + 1);
  for (let i = 0; i < n; i++) {
    const key = hilbertKey(((xs[i]! - minX) * scale) | 0, ((ys[i]! - minY) * scale) | 0, bits);
    keys[i] = key;
    start[key + 1]!++;
  }
  for (let k = 1; k < start.length; k++) start[k]! += start[k - 1]!;
  const order = new Uint32Array(n);
  for (let i = 0; i < n; i++) order[start[keys[i]!]!++] = i;
  return order;
}

/** Distance along the Hilbert curve of a cell (x, y) in a grid of 2^bits cells a side. */
function hilbertKey(x: number, y: number, bits: number): number {
  let key = 0;
  for (let s = 1 << (bits - 1); s > 0; s >>= 1) {
    const rx = x & s ? 1 : 0;
    const ry = y & s ? 1 : 0;
    key = (key << 2) | ((3 * rx) ^ ry);
    if (ry === 0) {
      if (rx === 1) {
        x = s - 1 - (x & (s - 1));
        y = s - 1 - (y & (s - 1));
      }
      const t = x;
      x = y;
      y = t;
    }
  }
  return key;
}
