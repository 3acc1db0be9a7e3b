/** Ground shots joined to triangles. */
import Delaunator from "delaunator";
import type { GroundPoints } from "../survey/survey.js";
import { settleTies } from "./settle-ties.js";

/** Triangles with their neighbours, before anything is judged. Facets run counter-clockwise. */
export interface Mesh {
  readonly eastFt: Float64Array;
  readonly northFt: Float64Array;
  readonly elevFt: Float64Array;
  readonly triangles: Uint32Array;
  /** halfedges[e] is the same side seen from the facet across it, −1 on the rim. Side e runs from triangles[e] to the facet's next vertex. */
  readonly halfedges: Int32Array;
}

/**
 * Delaunay triangles over the shots. The shots are put in Hilbert order first (neighbours in space become neighbours
 * in memory, and the result does not hang on the order of the file). Empty when all shots lie on one line.
 */
export function triangulate(ground: GroundPoints): Mesh {
  const order = hilbertOrder(ground.eastFt, ground.northFt);
  const eastFt = gather(ground.eastFt, order);
  const northFt = gather(ground.northFt, order);
  const elevFt = gather(ground.elevFt, order);
  const xy = new Float64Array(2 * order.length);
  for (let i = 0; i < order.length; i++) {
    xy[2 * i] = eastFt[i]!;
    xy[2 * i + 1] = -northFt[i]!; // Delaunator counts round with y down
  }
  const { triangles, halfedges } = new Delaunator(xy);
  const mesh: Mesh = { eastFt, northFt, elevFt, triangles, halfedges };
  settleTies(mesh);
  return mesh;
}

function gather(values: Float64Array, order: Uint32Array): Float64Array {
  const out = new Float64Array(order.length);
  for (let i = 0; i < order.length; i++) out[i] = values[order[i]!]!;
  return out;
}

const HILBERT_BITS = 15;
/** Room for the index beside the key in one exact double. */
const INDEX_SPAN = 2 ** 22;

function hilbertOrder(xs: Float64Array, ys: Float64Array): Uint32Array {
  const n = xs.length;
  if (n > INDEX_SPAN) throw new RangeError(`at most ${INDEX_SPAN} ground points, got ${n}`);
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
  const scale = (2 ** HILBERT_BITS - 1) / Math.max(maxX - minX, maxY - minY, Number.MIN_VALUE);
  const keys = new Float64Array(n);
  for (let i = 0; i < n; i++)
    keys[i] =
      hilbertKey(Math.floor((xs[i]! - minX) * scale), Math.floor((ys[i]! - minY) * scale)) * INDEX_SPAN + i;
  keys.sort();
  return Uint32Array.from(keys, (key) => key % INDEX_SPAN);
}

/** Distance along the Hilbert curve of a cell (x, y). */
function hilbertKey(x: number, y: number): number {
  let key = 0;
  for (let s = 1 << (HILBERT_BITS - 1); s > 0; s >>= 1) {
    const rx = x & s ? 1 : 0;
    const ry = y & s ? 1 : 0;
    key = key * 4 + ((3 * rx) ^ ry);
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
