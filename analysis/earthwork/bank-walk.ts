/** Banks followed over the facets, from the pads outward, as far as they stay off the ground. Method: docs/methods/earthwork.md */
import { clipByHalfPlane } from "../geometry/convex-clip.js";
import type { Ring } from "../geometry/plane.js";
import type { Tin } from "../terrain/terrain.js";
import { type Start, startsOf } from "./bank-starts.js";
import { Surroundings, TOUCH_FT } from "./bank-surroundings.js";
import type { Pad, Zone } from "./batter-zones.js";
import type { CutFill } from "./earthwork.js";
import { type GradedPiece, PlaneIntegral, SLIVER_FT2 } from "./plane-pieces.js";

export type Sums = { -readonly [K in keyof CutFill]: CutFill[K] };

/** Follows banks from the pads outward, facet by facet, as far as they stay above (or below) the ground. */
export class BankWalk {
  readonly sum: Sums = { cutFt3: 0, fillFt3: 0, cutFt2: 0, fillFt2: 0, maxCutFt: 0, maxFillFt: 0 };
  readonly reachFt = { cut: 0, fill: 0 };
  readonly errorFt3 = { cut: 0, fill: 0 };
  readonly pieces: GradedPiece[] = [];
  leavesLimit = false;
  leavesSurvey = false;
  meetsPads = false;
  beyondLimitFt2 = 0;

  readonly #tin: Tin;
  readonly #zones: readonly Zone[];
  readonly #surroundings: Surroundings;
  readonly #starts: readonly Start[];
  readonly #integral = new PlaneIntegral();
  #xy = new Float64Array(64);
  #other = new Float64Array(64);

  constructor(tin: Tin, pads: readonly Pad[], zones: readonly Zone[], limit: Ring | null) {
    this.#tin = tin;
    this.#zones = zones;
    this.#surroundings = new Surroundings(pads, zones, limit);
    this.#starts = startsOf(tin, zones);
  }

  run(side: "cut" | "fill", batter: number): void {
    const seen = new Set<number>();
    const { facetCount } = this.#tin;
    const queue: number[] = [];
    const sign = side === "cut" ? 1 : -1;
    this.#zones.forEach(({ levelFt }, zone) => {
      const { cornerFt, facets } = this.#starts[zone]!;
      // no bank at a corner: none in its wedges but what comes in from the side
      if (sign * (cornerFt - levelFt) <= TOUCH_FT) return;
      for (const f of facets) {
        const key = zone * facetCount + f;
        if (!seen.has(key) && this.#visit(side, batter, zone, f, true, queue)) seen.add(key);
      }
    });
    while (queue.length > 0) {
      const key = queue.pop()!;
      if (seen.has(key)) continue;
      seen.add(key);
      this.#visit(side, batter, Math.floor(key / facetCount), key % facetCount, false, queue);
    }
  }

  /**
   * Adds the bank of one zone on one facet, and puts what it runs on to into the queue. False when there is none
   * (or, while looking for where banks start, when it does not touch the pad).
   */
  #visit(
    side: "cut" | "fill",
    batter: number,
    zoneIndex: number,
    f: number,
    fromBase: boolean,
    queue: number[],
  ): boolean {
    const tin = this.#tin;
    const zone = this.#zones[zoneIndex]!;
    const sign = side === "cut" ? 1 : -1;
    const [da, db, dc] = zone.distance;
    const v0 = tin.triangles[3 * f]!;
    const ga = tin.gradEast[f]!;
    const gb = tin.gradNorth[f]!;
    const a = sign * ga - da / batter;
    const b = sign * gb - db / batter;
    const c =
      sign * (tin.elevFt[v0]! - ga * tin.eastFt[v0]! - gb * tin.northFt[v0]! - zone.levelFt) - dc / batter;

    let nearest = Infinity;
    for (let k = 0; k < 3; k++) {
      const v = tin.triangles[3 * f + k]!;
      const x = tin.eastFt[v]!;
      const y = tin.northFt[v]!;
      this.#xy[2 * k] = x;
      this.#xy[2 * k + 1] = y;
      nearest = Math.min(nearest, da * x + db * y + dc);
    }
    if (fromBase && nearest > TOUCH_FT) return false;
    let n = this.#clip(3, a, b, -c);
    for (const line of zone.lines) {
      if (n < 3) return false;
      n = this.#clip(n, line.a, line.b, line.c);
    }
    if (n < 3) return false;
    const xy = this.#xy;
    let starts = false;
    let reach = 0;
    for (let i = 0; i < n; i++) {
      const d = da * xy[2 * i]! + db * xy[2 * i + 1]! + dc;
      if (d > reach) reach = d;
      if (d < TOUCH_FT && a * xy[2 * i]! + b * xy[2 * i + 1]! + c > TOUCH_FT) starts = true;
    }
    if (fromBase && !starts) return false;
    if (!tin.supported[f]) {
      this.leavesSurvey = true;
      return true;
    }
    this.#integral.over(xy, n, a, b, c);
    const areaFt2 = this.#integral.areaFt2;
    if (!(areaFt2 > SLIVER_FT2)) return true;
    const around = this.#surroundings;
    const nearLimit = reach > around.clearFt;
    if (nearLimit && around.liesBeyond(xy.subarray(0, 2 * n))) {
      this.leavesLimit = true;
      this.beyondLimitFt2 += areaFt2;
      return true;
    }
    this.#spread(zoneIndex, f, n, a, b, c, queue);

    for (const piece of around.ownParts(zoneIndex, xy.slice(0, 2 * n)))
      this.#add(side, batter, zoneIndex, piece, nearLimit, a, b, c);
    return true;
  }

  /** Adds one owned polygon, less what lies beyond the limit or on another pad. */
  #add(
    side: "cut" | "fill",
    batter: number,
    zoneIndex: number,
    piece: Float64Array,
    nearLimit: boolean,
    a: number,
    b: number,
    c: number,
  ): void {
    const zone = this.#zones[zoneIndex]!;
    const count = piece.length / 2;
    const sums = this.#integral;
    sums.over(piece, count, a, b, c);
    let { areaFt2, volumeFt3 } = sums;
    const { maxHeightFt } = sums;
    if (nearLimit) {
      const inside = this.#surroundings.withinLimit(piece, a, b, c);
      const lost = areaFt2 - inside.areaFt2;
      if (lost > 1e-6) {
        this.leavesLimit = true;
        this.beyondLimitFt2 += lost;
        ({ areaFt2, volumeFt3 } = inside);
      }
    }
    const covered = this.#surroundings.onPads(zoneIndex, piece, a, b, c);
    if (covered.areaFt2 > SLIVER_FT2) {
      this.meetsPads = true;
      areaFt2 -= covered.areaFt2;
      volumeFt3 -= covered.volumeFt3;
    }
    if (!(areaFt2 > SLIVER_FT2)) return;
    const [da, db, dc] = zone.distance;
    const cut = side === "cut";
    this.sum[cut ? "cutFt3" : "fillFt3"] += volumeFt3;
    this.sum[cut ? "cutFt2" : "fillFt2"] += areaFt2;
    if (maxHeightFt > this.sum[cut ? "maxCutFt" : "maxFillFt"])
      this.sum[cut ? "maxCutFt" : "maxFillFt"] = maxHeightFt;
    for (let i = 0; i < count; i++) {
      const d = da * piece[2 * i]! + db * piece[2 * i + 1]! + dc;
      if (d > this.reachFt[side]) this.reachFt[side] = d;
    }
    if (zone.error > 0) {
      sums.over(piece, count, da, db, dc);
      this.errorFt3[side] += (zone.error * sums.volumeFt3) / batter;
    }
    this.pieces.push({ side, xy: piece, a, b, c });
  }

  /** Puts the neighbours that the bank runs on to into the queue: across facet sides and across zone borders. */
  #spread(zoneIndex: number, f: number, n: number, a: number, b: number, c: number, queue: number[]): void {
    const tin = this.#tin;
    const xy = this.#xy;
    const { facetCount } = tin;
    for (let k = 0; k < 3; k++) {
      const p = tin.triangles[3 * f + k]!;
      const q = tin.triangles[3 * f + ((k + 1) % 3)]!;
      const ex = tin.eastFt[q]! - tin.eastFt[p]!;
      const ey = tin.northFt[q]! - tin.northFt[p]!;
      const length = Math.hypot(ex, ey);
      if (
        !this.#touches(
          xy,
          n,
          -ey / length,
          ex / length,
          (ex * tin.northFt[p]! - ey * tin.eastFt[p]!) / length,
          a,
          b,
          c,
        )
      )
        continue;
      const twin = tin.halfedges[3 * f + k]!;
      if (twin < 0) this.leavesSurvey = true;
      else queue.push(zoneIndex * facetCount + Math.floor(twin / 3));
    }
    for (const line of this.#zones[zoneIndex]!.lines)
      if (line.beyond >= 0 && this.#touches(xy, n, line.a, line.b, line.c, a, b, c))
        queue.push(line.beyond * facetCount + f);
  }

  /** True when a corner of the polygon lies on the line with the bank still off the ground there. */
  #touches(
    xy: Float64Array,
    n: number,
    la: number,
    lb: number,
    lc: number,
    a: number,
    b: number,
    c: number,
  ): boolean {
    for (let i = 0; i < n; i++) {
      const x = xy[2 * i]!;
      const y = xy[2 * i + 1]!;
      if (Math.abs(la * x + lb * y - lc) < 1e-6 && a * x + b * y + c > TOUCH_FT) return true;
    }
    return false;
  }

  #clip(n: number, a: number, b: number, c: number): number {
    const count = clipByHalfPlane(this.#xy, n, a, b, c, this.#other);
    [this.#xy, this.#other] = [this.#other, this.#xy];
    return count;
  }
}
