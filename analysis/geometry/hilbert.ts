/** Points in the order of a curve that fills the plane: neighbours in space become neighbours in memory. */
import { boxOfColumns } from "./plane.js";

/** Finest grid: 2048 × 2048 cells. */
const MOST_BITS = 11;

/**
 * Order of the points along a Hilbert curve through about as many square cells as there are points; within a cell as
 * given. Null when they already stand so.
 */
export function hilbertOrder(xs: Float64Array, ys: Float64Array): Uint32Array | null {
  const n = xs.length;
  const { minEastFt: minX, minNorthFt: minY, maxEastFt: maxX, maxNorthFt: maxY } = boxOfColumns(xs, ys);
  const bits = Math.min(MOST_BITS, Math.ceil(Math.log2(n + 1) / 2));
  const scale = (2 ** bits - 1) / Math.max(maxX - minX, maxY - minY, Number.MIN_VALUE);
  const keyAt = (i: number) => keyOf(((xs[i]! - minX) * scale) | 0, ((ys[i]! - minY) * scale) | 0, bits);
  if (risesAlong(n, keyAt)) return null;
  const keys = new Uint32Array(n);
  for (let i = 0; i < n; i++) keys[i] = keyAt(i);
  const start = new Uint32Array(4 ** bits + 1);
  for (let i = 0; i < n; i++) start[keys[i]! + 1]!++;
  for (let k = 1; k < start.length; k++) start[k]! += start[k - 1]!;
  const order = new Uint32Array(n);
  for (let i = 0; i < n; i++) order[start[keys[i]!]!++] = i;
  return order;
}

function risesAlong(n: number, keyAt: (i: number) => number): boolean {
  for (let i = 0, last = 0; i < n; i++) {
    const key = keyAt(i);
    if (key < last) return false;
    last = key;
  }
  return true;
}

/** The values in another order. */
export function inOrder<T extends Float64Array | Int32Array | Uint32Array>(values: T, order: Uint32Array): T {
  const out = new (values.constructor as new (length: number) => T)(order.length);
  for (let i = 0; i < order.length; i++) out[i] = values[order[i]!]!;
  return out;
}

/** Steps of the curve taken at once: a square is looked up as 16 × 16 cells. */
const STEP = 4;
const CELLS = 1 << (2 * STEP);
/** For each of the four ways the curve may lie in a square (bit 0: x and y exchanged, bit 1: both turned round) and each of its cells: how far along it is, and the way in it. */
const ALONG = new Uint8Array(4 * CELLS);
const WAY = new Uint8Array(4 * CELLS);
for (let i = 0; i < ALONG.length; i++) {
  let way = i >> (2 * STEP);
  for (let s = STEP - 1; s >= 0; s--) {
    const turned = way >> 1;
    const x = ((i >> (STEP + s)) & 1) ^ turned;
    const y = ((i >> s) & 1) ^ turned;
    const [rx, ry] = way & 1 ? [y, x] : [x, y];
    ALONG[i] = (ALONG[i]! << 2) | ((3 * rx) ^ ry);
    if (ry === 0) way ^= rx === 1 ? 3 : 1;
  }
  WAY[i] = way;
}

/** Distance along the curve of a cell (x, y) in a grid of 2^bits cells a side, bits up to 12. */
function keyOf(x: number, y: number, bits: number): number {
  const fine = 3 * STEP - bits;
  let key = 0;
  let way = 0;
  for (let s = 2 * STEP; s >= 0; s -= STEP) {
    const at = way * CELLS + (((x << fine) >> s) & 15) * 16 + (((y << fine) >> s) & 15);
    key = (key << (2 * STEP)) | ALONG[at]!;
    way = WAY[at]!;
  }
  return key >> (2 * fine);
}
