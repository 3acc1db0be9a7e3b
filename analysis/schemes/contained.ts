/** Exact tests of a footprint against the ground it may stand on. */
import { boxOf, type MultiPolygon } from "../geometry/plane.js";

/** Bands across the ground that its edges are sorted into, and cells along each. */
const BANDS = 64;
/** What a cell knows of itself. */
const OUTSIDE = 0;
const INSIDE = 1;
const ON_EDGE = 2;

export class Ground {
  /** Edges of all rings: x0, y0, x1, y1, …; an edge stands once in each band it touches. */
  readonly #bands: Float64Array[];
  readonly #south: number;
  readonly #bandFt: number;
  readonly #west: number;
  readonly #cellFt: number;
  readonly #cells = new Uint8Array(BANDS * BANDS);
  /** Cells on an edge south-west of a corner, (BANDS + 1) × (BANDS + 1). */
  readonly #onEdge = new Uint16Array((BANDS + 1) * (BANDS + 1));

  constructor(polygons: MultiPolygon) {
    const box = boxOf(polygons.flat(2));
    const bands: number[][] = Array.from({ length: polygons.length > 0 ? BANDS : 0 }, () => []);
    this.#south = box.minNorthFt;
    this.#bandFt = (box.maxNorthFt - box.minNorthFt) / BANDS || 1;
    this.#west = box.minEastFt;
    this.#cellFt = (box.maxEastFt - box.minEastFt) / BANDS || 1;
    for (const ring of polygons.flat())
      for (let i = 0; i < ring.length; i++) {
        const [ax, ay] = ring[i]!;
        const [bx, by] = ring[(i + 1) % ring.length]!;
        const last = this.#band(Math.max(ay, by));
        for (let k = this.#band(Math.min(ay, by)); k <= last; k++) {
          bands[k]!.push(ax, ay, bx, by);
          this.#mark(k, ax, ay, bx, by);
        }
      }
    this.#bands = bands.map((edges) => Float64Array.from(edges));
    if (!this.isEmpty) this.#knowCells();
  }

  /** The cells of a band that an edge touches, or nearly. */
  #mark(band: number, ax: number, ay: number, bx: number, by: number): void {
    const south = this.#south + band * this.#bandFt - TOUCH_FT;
    const north = south + this.#bandFt + 2 * TOUCH_FT;
    const share = (y: number) => (ay === by ? 0 : Math.max(0, Math.min(1, (y - ay) / (by - ay))));
    const level = Math.abs(by - ay) < TOUCH_FT;
    const one = level ? ax : ax + share(south) * (bx - ax);
    const other = level ? bx : ax + share(north) * (bx - ax);
    const last = this.#col(Math.max(one, other) + TOUCH_FT);
    for (let col = this.#col(Math.min(one, other) - TOUCH_FT); col <= last; col++)
      this.#cells[band * BANDS + col] = ON_EDGE;
  }

  #knowCells(): void {
    const w = BANDS + 1;
    for (let band = 0; band < BANDS; band++)
      for (let col = 0; col < BANDS; col++) {
        const at = band * BANDS + col;
        const onEdge = this.#cells[at] === ON_EDGE;
        if (!onEdge) {
          const east = this.#west + (col + 0.5) * this.#cellFt;
          const north = this.#south + (band + 0.5) * this.#bandFt;
          this.#cells[at] = this.#crossings(east, north) ? INSIDE : OUTSIDE;
        }
        const sum = (band + 1) * w + col + 1;
        this.#onEdge[sum] =
          this.#onEdge[sum - 1]! + this.#onEdge[sum - w]! - this.#onEdge[sum - w - 1]! + (onEdge ? 1 : 0);
      }
  }

  get isEmpty(): boolean {
    return this.#bands.length === 0;
  }

  #band(y: number): number {
    return Math.max(0, Math.min(BANDS - 1, Math.floor((y - this.#south) / this.#bandFt)));
  }

  #col(x: number): number {
    return Math.max(0, Math.min(BANDS - 1, Math.floor((x - this.#west) / this.#cellFt)));
  }

  /** True when a ring (x0, y0, x1, y1, …) and all it encloses lie on the ground: one corner inside, and no edge of the ground crosses or enters it. */
  holds(ring: Float64Array): boolean {
    if (this.isEmpty) return false;
    let minX = Infinity;
    let minY = Infinity;
    let maxX = -Infinity;
    let maxY = -Infinity;
    for (let i = 0; i < ring.length; i += 2) {
      const x = ring[i]!;
      const y = ring[i + 1]!;
      if (x < minX) minX = x;
      if (x > maxX) maxX = x;
      if (y < minY) minY = y;
      if (y > maxY) maxY = y;
    }
    for (let i = 0; i < ring.length; i += 2) if (!this.#isInside(ring[i]!, ring[i + 1]!)) return false;
    const first = this.#band(minY);
    const last = this.#band(maxY);
    const sums = this.#onEdge;
    const low = first * (BANDS + 1);
    const high = (last + 1) * (BANDS + 1);
    const west = this.#col(minX);
    const east = this.#col(maxX) + 1;
    if (sums[high + east]! - sums[high + west]! - sums[low + east]! + sums[low + west]! === 0) return true;
    for (let band = first; band <= last; band++) {
      const e = this.#bands[band]!;
      for (let k = 0; k < e.length; k += 4) {
        const ax = e[k]!;
        const ay = e[k + 1]!;
        const bx = e[k + 2]!;
        const by = e[k + 3]!;
        if (ax < minX ? bx < minX : ax > maxX && bx > maxX) continue;
        if (ay < minY ? by < minY : ay > maxY && by > maxY) continue;
        if (crossesOrEnters(ring, ax, ay, bx, by)) return false;
      }
    }
    return true;
  }

  #isInside(px: number, py: number): boolean {
    const band = Math.floor((py - this.#south) / this.#bandFt);
    const col = Math.floor((px - this.#west) / this.#cellFt);
    if (!(band >= 0 && col >= 0 && band < BANDS && col < BANDS)) return false;
    const known = this.#cells[band * BANDS + col]!;
    return known === ON_EDGE ? this.#crossings(px, py) : known === INSIDE;
  }

  /** Even-odd test. */
  #crossings(px: number, py: number): boolean {
    const e = this.#bands[this.#band(py)]!;
    let inside = false;
    for (let k = 0; k < e.length; k += 4) {
      const ay = e[k + 1]!;
      const by = e[k + 3]!;
      if (ay > py !== by > py && px < ((e[k + 2]! - e[k]!) * (py - ay)) / (by - ay) + e[k]!) inside = !inside;
    }
    return inside;
  }
}

/** True when a segment crosses an edge of the ring properly, or starts inside it. */
function crossesOrEnters(ring: Float64Array, ax: number, ay: number, bx: number, by: number): boolean {
  let inside = false;
  let px = ring[ring.length - 2]!;
  let py = ring[ring.length - 1]!;
  for (let i = 0; i < ring.length; i += 2) {
    const qx = ring[i]!;
    const qy = ring[i + 1]!;
    if (qy > ay !== py > ay && ax < ((px - qx) * (ay - qy)) / (py - qy) + qx) inside = !inside;
    const d1 = (bx - ax) * (py - ay) - (by - ay) * (px - ax);
    const d2 = (bx - ax) * (qy - ay) - (by - ay) * (qx - ax);
    const d3 = (qx - px) * (ay - py) - (qy - py) * (ax - px);
    const d4 = (qx - px) * (by - py) - (qy - py) * (bx - px);
    if (d1 > 0 !== d2 > 0 && d3 > 0 !== d4 > 0 && d1 !== 0 && d2 !== 0 && d3 !== 0 && d4 !== 0) return true;
    px = qx;
    py = qy;
  }
  return inside && deeperThanTouch(ring, ax, ay);
}

/** Corners of the ground lying on the ring's own edge are a touch, not an entry. */
const TOUCH_FT = 1e-6;

function deeperThanTouch(ring: Float64Array, x: number, y: number): boolean {
  let px = ring[ring.length - 2]!;
  let py = ring[ring.length - 1]!;
  for (let i = 0; i < ring.length; i += 2) {
    const qx = ring[i]!;
    const qy = ring[i + 1]!;
    if (Math.abs((qx - px) * (y - py) - (qy - py) * (x - px)) / Math.hypot(qx - px, qy - py) < TOUCH_FT)
      return false;
    px = qx;
    py = qy;
  }
  return true;
}
