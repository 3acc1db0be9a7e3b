/**
 * The earth moved by a layout at a place and level, from samples of the ground: quick enough for a search.
 * The pad is a sum over equal cells aligned with it; slopes beside it are sections taken outward at even stations,
 * and fans of rays at the corners. The chosen design is computed again exactly; see docs/methods/schemes.md.
 */
import type { GroundGrid } from "./ground-grid.js";
import { GroundReading } from "./ground-reading.js";
import { clearHeld, type Moved, nothingMoved } from "./moved.js";
import { CATCH_TO_EDGE, isHeldByWall, wallClass } from "./wall-rule.js";

export interface SketchRules {
  readonly cutBatter: number;
  readonly fillBatter: number;
  /** Natural slope above which fill needs a key and benches, rise/run. */
  readonly keySlope: number;
  readonly fillMaxSlope: number;
  readonly temporaryBatter: number;
  readonly workingSpaceFt: number;
}

/** Ground that climbs more than this above a wall bears on it. Common practice, no source. */
const LOADING_SLOPE = 0.1;
/** Depth over which a hand's breadth of grade change needs neither slope nor wall. */
const FLUSH_FT = 0.25;
/** Ground within this of a floor leaves the wall open to the daylight; ground this far above it buries the wall. Common practice, no source. */
export const OPEN_WALL_FT = 0.5;
export const BURIED_WALL_FT = 1.5;
/** Bottom of a basement dig below its floor: 5 in slab, 6 in gravel, up to 2 in of barrier and blinding. Common practice, no source. */
export const DIG_BELOW_FLOOR_FT = 1.1;
/** Fill thinner than this on steep ground is dressing, not structure. */
const DRESSING_FT = 1;
/** A corner looks across the steepest ground: its fan may climb this many times more than a side before it is given up. */
const FAN_LENIENCE = 2;

export class Sketch extends GroundReading {
  readonly #rules: SketchRules;
  readonly moved = nothingMoved();

  constructor(ground: GroundGrid, rules: SketchRules) {
    super(ground);
    this.#rules = rules;
  }

  /** Fills `moved` for one base level. `exact` walks outward over the ground; otherwise the slope beside each edge is taken as straight. */
  measure(levelFt: number, exact: boolean): Moved {
    const m = this.moved;
    const { fillMaxSlope, keySlope } = this.#rules;
    const { count, heights, slopes, cellFt2, halfRises } = this;
    let cut = 0;
    let fill = 0;
    let fillFt2 = 0;
    let tooSteep = 0;
    let benched = 0;
    for (let i = 0; i < count; i++) {
      const depth = heights[i]! - levelFt;
      const a = cellFt2[i]!;
      const half = halfRises[i]!;
      // where the level runs through a sample's cell, part of it is cut and part filled
      const cutFt =
        depth >= half ? depth : depth <= -half ? 0 : ((depth + half) * (depth + half)) / (4 * half);
      cut += cutFt * a;
      fill += (cutFt - depth) * a;
      if (depth <= 0) {
        fillFt2 += a;
        const slope = slopes[i]!;
        if (slope > keySlope) benched += a;
        if (slope > fillMaxSlope && depth < -DRESSING_FT) tooSteep += a;
      }
    }
    m.cutFt3 = cut;
    m.fillFt3 = fill;
    m.fillFt2 = fillFt2;
    m.disturbedFt2 = this.areaFt2;
    m.tooSteepFillFt2 = tooSteep;
    m.benchedFt2 = benched;
    clearHeld(m);
    const { count: stations, groundFt, kind, walled, before, after, slope, share } = this.stations;
    for (let k = 0; k < stations; k++) {
      const h = groundFt[k]! - levelFt;
      const what = kind[k]!;
      if (what === 1) this.#houseWall(k, h);
      else if (h <= FLUSH_FT && h >= -FLUSH_FT) walled[k] = this.#isSteepAt(k) ? 1 : 0;
      else if (what === 0) {
        const reach = exact ? this.#walk(k, h) : this.#straight(k, h);
        if (reach < 0) {
          walled[k] = 1;
          this.#siteWall(k, h);
        } else {
          walled[k] = 0;
          if (h > 0) {
            if (reach > m.cutReachFt) m.cutReachFt = reach;
          } else if (reach > m.fillReachFt) m.fillReachFt = reach;
        }
        if (h < 0 && -slope[k]! > keySlope) {
          m.keyFt += share[k]!;
          if (reach > 0) m.benchedFt2 += reach * share[k]!;
        }
      } else if (!walled[before[k]!] && !walled[after[k]!]) {
        const reach = exact ? this.#walk(k, h) : this.#straight(k, h);
        walled[k] = reach < 0 ? 1 : 0;
        if (reach < 0) m.lostCorners++;
        else if (h > 0) {
          if (reach > m.cutReachFt) m.cutReachFt = reach;
        } else if (reach > m.fillReachFt) m.fillReachFt = reach;
      }
    }
    return m;
  }

  /** Per side of the layout last read: which of its even parts a wall holds, as last measured. */
  walledParts(): boolean[][] {
    let k = 0;
    return this.parts.map((n) => Array.from({ length: n }, () => this.stations.walled[k++] === 1));
  }

  /** Where even a hand's breadth of slope would run away, a kerb holds the edge: it is not priced. */
  #isSteepAt(k: number): boolean {
    const rise = this.stations.slope[k]!;
    const { cutBatter, fillBatter } = this.#rules;
    return Math.max(cutBatter * rise, -fillBatter * rise) > 1 - 1 / CATCH_TO_EDGE;
  }

  /** A basement wall: earth against it above its floor, and the hole dug beside it down to the bottom of the dig. */
  #houseWall(k: number, overBottomFt: number): void {
    const m = this.moved;
    const s = this.stations;
    const lengthFt = s.share[k]!;
    const retainedFt = overBottomFt - DIG_BELOW_FLOOR_FT;
    if (retainedFt > 0) m.houseWallFaceFt2 += retainedFt * lengthFt;
    if (retainedFt > m.tallestHouseWallFt) m.tallestHouseWallFt = retainedFt;
    if (retainedFt > BURIED_WALL_FT) m.buriedFt += lengthFt;
    if (overBottomFt <= 0) return;
    const { temporaryBatter, workingSpaceFt } = this.#rules;
    const rise = s.slope[k]! || 0;
    const faceFt = Math.max(0, overBottomFt + rise * workingSpaceFt);
    m.digBesideFt3 += ((workingSpaceFt * (overBottomFt + faceFt)) / 2) * lengthFt;
    const closing = 1 - temporaryBatter * rise;
    const reach = (temporaryBatter * faceFt) / closing;
    const out = workingSpaceFt + reach;
    if (
      closing > 0 &&
      this.ground.ownGroundAt(s.east[k]! + out * s.outEast[k]!, s.north[k]! + out * s.outNorth[k]!)
    ) {
      m.digBesideFt3 += ((faceFt * reach) / 2) * lengthFt;
    } else m.shoreFt2 += faceFt * lengthFt;
  }

  #siteWall(k: number, h: number): void {
    const m = this.moved;
    const s = this.stations;
    const heightFt = Math.abs(h);
    const loaded = h > 0 && s.slope[k]! > LOADING_SLOPE;
    (loaded ? m.loadedWallFaceFt2 : m.wallFaceFt2)[wallClass(heightFt)]! += heightFt * s.share[k]!;
    // a station stands for the stretch around it: at its end the wall is taller by half the change to the next
    const other = s.side[k - 1] === s.side[k] ? k - 1 : k + 1;
    const change = s.side[other] === s.side[k] ? Math.abs(s.groundFt[other]! - s.groundFt[k]!) / 2 : 0;
    if (heightFt + change > m.tallestWallFt) m.tallestWallFt = heightFt + change;
  }

  /** Adds the slope at a station as if the ground beyond ran on straight. Reach in feet, −1 where a wall must stand instead. */
  #straight(k: number, h: number): number {
    const s = this.stations;
    const batter = h > 0 ? this.#rules.cutBatter : this.#rules.fillBatter;
    // how fast the slope and the ground close on each other, per foot
    const closing = 1 / batter - (h > 0 ? s.slope[k]! : -s.slope[k]!);
    const depth = Math.abs(h);
    const reach = depth / closing;
    const fan = s.kind[k] === 2;
    if (!(closing > 0) || isHeldByWall(depth, fan ? reach / FAN_LENIENCE : reach, batter)) return -1;
    if (!this.#mayEnd(k, reach, fan)) return -1;
    if (fan) this.#add(h > 0, (depth * reach * reach * s.share[k]!) / 6, (reach * reach * s.share[k]!) / 2);
    else this.#add(h > 0, (depth * reach * s.share[k]!) / 2, reach * s.share[k]!);
    return reach;
  }

  /** The same, walking outward until slope and ground meet. */
  #walk(k: number, h: number): number {
    const s = this.stations;
    const batter = h > 0 ? this.#rules.cutBatter : this.#rules.fillBatter;
    const sign = h > 0 ? 1 : -1;
    const designFt = s.groundFt[k]! - h + s.offsetFt[k]!;
    const fan = s.kind[k] === 2;
    const stride = Math.max(1, this.ground.grid.cellFt);
    const east = s.east[k]!;
    const north = s.north[k]!;
    const outEast = s.outEast[k]!;
    const outNorth = s.outNorth[k]!;
    const giveUpFt = CATCH_TO_EDGE * Math.abs(h) * batter * (fan ? FAN_LENIENCE : 1);
    let before = Math.abs(h);
    let volume = 0;
    let t = 0;
    for (;;) {
      const next = t + stride;
      const ground = this.ground.elevationAt(east + next * outEast, north + next * outNorth);
      const depth = sign * (ground - designFt) - next / batter;
      // not surveyed: it cannot be shown to meet the ground
      if (Number.isNaN(depth)) return -1;
      if (depth <= 0) {
        const dt = (stride * before) / (before - depth);
        const reach = t + dt;
        if (reach > giveUpFt || !this.#mayEnd(k, reach, fan)) return -1;
        volume += fan ? wedge(before, 0, t, dt) : (before * dt) / 2;
        this.#add(h > 0, volume * s.share[k]!, s.share[k]! * (fan ? (reach * reach) / 2 : reach));
        return reach;
      }
      if (next > giveUpFt) return -1;
      volume += fan ? wedge(before, depth, t, stride) : ((before + depth) * stride) / 2;
      before = depth;
      t = next;
    }
  }

  /** Slopes end on ground that may be graded; the fan at a corner may lie in a setback too, but not beyond the lot. */
  #mayEnd(k: number, reachFt: number, fan: boolean): boolean {
    const s = this.stations;
    const east = s.east[k]! + reachFt * s.outEast[k]!;
    const north = s.north[k]! + reachFt * s.outNorth[k]!;
    return fan ? this.ground.ownGroundAt(east, north) : this.ground.usableAt(east, north);
  }

  #add(isCut: boolean, volumeFt3: number, areaFt2: number): void {
    if (isCut) this.moved.cutFt3 += volumeFt3;
    else {
      this.moved.fillFt3 += volumeFt3;
      this.moved.fillFt2 += areaFt2;
    }
    this.moved.disturbedFt2 += areaFt2;
  }
}

/** Depth falling in a straight line from `near` to `far` over radii t … t + dt, times radius: ∫ d(r) r dr. */
function wedge(near: number, far: number, t: number, dt: number): number {
  return dt * (t * (near + far) * 0.5 + dt * (near / 6 + far / 3));
}
