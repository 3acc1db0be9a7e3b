/**
 * Volumes under a level pad with vertical sides, exact on the facets: the ground under a polygon is clipped once,
 * then any number of levels is a sum over the pieces. Method: docs/methods/earthwork.md
 */
import { clipByHalfPlane } from "../geometry/convex-clip.js";
import type { Ring } from "../geometry/plane.js";
import { signedAreaFt2 } from "../geometry/plane.js";
import type { Tin } from "../terrain/terrain.js";
import type { CutFill } from "./earthwork.js";
import { clipGround, slopesOf } from "./ground-pieces.js";
import type { GradedPiece } from "./plane-pieces.js";

/** The ground under one polygon, cut into flat pieces. */
export class Footprint {
  readonly ring: Ring;
  readonly areaFt2: number;
  /** Part of the area with surveyed ground under it: volumes count this part alone. */
  readonly coveredFt2: number;
  /** Ground heights, ft; NaN where nothing is covered. */
  readonly meanFt: number;
  readonly minFt: number;
  readonly maxFt: number;
  /** Vertex v of all pieces: easting, northing, ground height. */
  readonly #x: Float64Array;
  readonly #y: Float64Array;
  readonly #z: Float64Array;
  /** Piece i owns vertices start[i] to start[i + 1]. */
  readonly #start: Int32Array;
  readonly #area: Float64Array;
  /** ∫ ground height dA, measured from the lowest ground. */
  readonly #moment: Float64Array;
  readonly #low: Float64Array;
  readonly #high: Float64Array;
  readonly #facet: Int32Array;
  readonly #tin: Tin;
  #slopesPct: readonly [mean: number, p90: number] | null = null;

  constructor(tin: Tin, ring: Ring) {
    const ccw = signedAreaFt2(ring) < 0 ? [...ring].reverse() : ring;
    if (!(signedAreaFt2(ccw) > 0)) throw new RangeError("A footprint needs a ring with an area");
    this.#tin = tin;
    this.ring = ccw;
    this.areaFt2 = signedAreaFt2(ccw);
    const pieces = clipGround(tin, ccw);
    this.#x = Float64Array.from(pieces.x);
    this.#y = Float64Array.from(pieces.y);
    this.#z = Float64Array.from(pieces.z);
    this.#start = Int32Array.from(pieces.start);
    this.#facet = Int32Array.from(pieces.facet);
    const count = pieces.facet.length;
    this.#area = new Float64Array(count);
    this.#moment = new Float64Array(count);
    this.#low = new Float64Array(count);
    this.#high = new Float64Array(count);
    let min = Infinity;
    let max = -Infinity;
    for (const z of pieces.z) {
      if (z < min) min = z;
      if (z > max) max = z;
    }
    let covered = 0;
    let moment = 0;
    for (let i = 0; i < count; i++) {
      const from = this.#start[i]!;
      const to = this.#start[i + 1]!;
      let low = Infinity;
      let high = -Infinity;
      for (let v = from; v < to; v++) {
        if (this.#z[v]! < low) low = this.#z[v]!;
        if (this.#z[v]! > high) high = this.#z[v]!;
      }
      let twice = 0;
      let six = 0;
      for (let v = from + 1; v + 1 < to; v++) {
        const cross = this.#cross(from, v, v + 1);
        twice += cross;
        six += cross * (this.#z[from]! + this.#z[v]! + this.#z[v + 1]! - 3 * min);
      }
      this.#area[i] = twice / 2;
      this.#moment[i] = six / 6;
      this.#low[i] = low;
      this.#high[i] = high;
      covered += twice / 2;
      moment += six / 6;
    }
    this.coveredFt2 = covered;
    this.meanFt = covered > 0 ? min + moment / covered : NaN;
    this.minFt = covered > 0 ? min : NaN;
    this.maxFt = covered > 0 ? max : NaN;
  }

  /** Area-weighted steepness of the ground. */
  get slopeMeanPct(): number {
    return this.#slopes()[0];
  }

  /** Steepness that 90 % of the area stays below or at. */
  get slopeP90Pct(): number {
    return this.#slopes()[1];
  }

  #slopes(): readonly [mean: number, p90: number] {
    this.#slopesPct ??= slopesOf(this.#tin, this.#facet, this.#area);
    return this.#slopesPct;
  }

  /**
   * Volumes between the ground and a level pad with vertical sides: cut = ∫ max(0, g − level) dA, fill = ∫ max(0, level − g) dA.
   * Exact on the facets; over the covered part alone.
   */
  evaluate(levelFt: number): CutFill {
    let cutFt3 = 0;
    let fillFt3 = 0;
    let cutFt2 = 0;
    let fillFt2 = 0;
    const below = levelFt - this.minFt;
    for (let i = 0; i < this.#area.length; i++) {
      const area = this.#area[i]!;
      const net = this.#moment[i]! - below * area;
      if (levelFt <= this.#low[i]!) {
        cutFt3 += net;
        cutFt2 += area;
      } else if (levelFt >= this.#high[i]!) {
        fillFt3 -= net;
        fillFt2 += area;
      } else {
        const [above, aboveFt2] = this.#above(i, levelFt);
        cutFt3 += above;
        cutFt2 += aboveFt2;
        fillFt3 += above - net;
        fillFt2 += area - aboveFt2;
      }
    }
    return {
      cutFt3: Math.max(0, cutFt3),
      fillFt3: Math.max(0, fillFt3),
      cutFt2: Math.max(0, cutFt2),
      fillFt2: Math.max(0, fillFt2),
      maxCutFt: Math.max(0, this.maxFt - levelFt) || 0,
      maxFillFt: Math.max(0, levelFt - this.minFt) || 0,
    };
  }

  /** Level at which cut × `compactedPerBank` just makes the fill; NaN without covered ground. */
  balanceLevelFt(compactedPerBank = 1): number {
    let low = this.minFt;
    let high = this.maxFt;
    for (let i = 0; i < 60 && high - low > 1e-7; i++) {
      const level = (low + high) / 2;
      const { cutFt3, fillFt3 } = this.evaluate(level);
      if (cutFt3 * compactedPerBank > fillFt3) low = level;
      else high = level;
    }
    return (low + high) / 2;
  }

  /** The same volumes as polygons with a height over each. */
  pieces(levelFt: number): GradedPiece[] {
    const { gradEast, gradNorth } = this.#tin;
    const kept: GradedPiece[] = [];
    for (let i = 0; i < this.#area.length; i++) {
      const from = this.#start[i]!;
      const count = this.#start[i + 1]! - from;
      const xy = new Float64Array(2 * count);
      for (let k = 0; k < count; k++) {
        xy[2 * k] = this.#x[from + k]!;
        xy[2 * k + 1] = this.#y[from + k]!;
      }
      const f = this.#facet[i]!;
      const a = gradEast[f]!;
      const b = gradNorth[f]!;
      const c = this.#z[from]! - a * this.#x[from]! - b * this.#y[from]! - levelFt;
      for (const [side, sign] of [
        ["cut", 1],
        ["fill", -1],
      ] as const) {
        if (sign > 0 ? this.#high[i]! <= levelFt : this.#low[i]! >= levelFt) continue;
        if (sign > 0 ? this.#low[i]! > levelFt : this.#high[i]! < levelFt) {
          kept.push({ side, xy, a: sign * a, b: sign * b, c: sign * c });
          continue;
        }
        const out = new Float64Array(4 * count + 4);
        const n = clipByHalfPlane(xy, count, sign * a, sign * b, -sign * c, out);
        if (n >= 3) kept.push({ side, xy: out.slice(0, 2 * n), a: sign * a, b: sign * b, c: sign * c });
      }
    }
    return kept;
  }

  /** Volume and area of one piece above the level: the piece is clipped there while it is walked round. */
  #above(piece: number, levelFt: number): [volumeFt3: number, areaFt2: number] {
    const from = this.#start[piece]!;
    const to = this.#start[piece + 1]!;
    let started = 0;
    let x0 = 0;
    let y0 = 0;
    let h0 = 0;
    let qx = 0;
    let qy = 0;
    let qh = 0;
    let twice = 0;
    let six = 0;
    const add = (x: number, y: number, h: number) => {
      if (started === 0) {
        x0 = x;
        y0 = y;
        h0 = h;
      } else if (started > 1) {
        const cross = (qx - x0) * (y - y0) - (qy - y0) * (x - x0);
        twice += cross;
        six += cross * (h0 + qh + h);
      }
      qx = x;
      qy = y;
      qh = h;
      started++;
    };
    let px = this.#x[to - 1]!;
    let py = this.#y[to - 1]!;
    let ph = this.#z[to - 1]! - levelFt;
    for (let v = from; v < to; v++) {
      const x = this.#x[v]!;
      const y = this.#y[v]!;
      const h = this.#z[v]! - levelFt;
      if (h > 0 !== ph > 0) {
        const t = ph / (ph - h);
        add(px + t * (x - px), py + t * (y - py), 0);
      }
      if (h > 0) add(x, y, h);
      px = x;
      py = y;
      ph = h;
    }
    return [six / 6, twice / 2];
  }

  #cross(o: number, p: number, q: number): number {
    return (
      (this.#x[p]! - this.#x[o]!) * (this.#y[q]! - this.#y[o]!) -
      (this.#y[p]! - this.#y[o]!) * (this.#x[q]! - this.#x[o]!)
    );
  }
}

/** Clips the ground under a polygon once, for `evaluate` at many levels. The ring may run either way and be any simple polygon. */
export function prepareFootprint(tin: Tin, ring: Ring): Footprint {
  return new Footprint(tin, ring);
}

/** Exact volumes between the ground and one level pad with vertical sides. */
export function padCutFill(tin: Tin, ring: Ring, levelFt: number): CutFill {
  return new Footprint(tin, ring).evaluate(levelFt);
}
