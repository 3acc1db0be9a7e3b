/**
 * The earth moved by a layout at a place and level, from samples of the ground: quick enough for a search.
 * The pad is a sum over equal cells aligned with it; slopes beside it are sections taken outward at even stations,
 * and fans of rays at the corners. The chosen design is computed again exactly; see docs/methods/schemes.md.
 */
import { type GroundGrid, OWN_GROUND, USABLE } from "./ground-grid.js";
import { GroundReading } from "./ground-reading.js";
import { clearHeld, type Moved, nothingMoved } from "./moved.js";
import { CORNER_RAY, HOUSE_WALL, OPEN_SIDE, UNKNOWN } from "./stations.js";
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
    this.#measureSides(levelFt, exact);
    return m;
  }

  #measureSides(levelFt: number, exact: boolean): void {
    const { count, groundFt, overFt, reachFt, kind, walled, before, after, slope, share } = this.stations;
    const { keySlope } = this.#rules;
    const m = this.moved;
    for (let k = 0; k < count; k++) {
      const h = groundFt[k]! - levelFt;
      overFt[k] = h;
      const what = kind[k]!;
      walled[k] = 0;
      if (what === HOUSE_WALL) this.#houseWall(k);
      else if (what === UNKNOWN) continue;
      else if (h <= FLUSH_FT && h >= -FLUSH_FT) walled[k] = this.#isSteepAt(k) ? 1 : 0;
      else if (what === CORNER_RAY && (walled[before[k]!] || walled[after[k]!])) continue;
      else if (exact ? this.#walks(k) : this.#runsStraight(k)) {
        const reach = reachFt[k]!;
        if (h > 0) {
          if (reach > m.cutReachFt) m.cutReachFt = reach;
        } else {
          if (reach > m.fillReachFt) m.fillReachFt = reach;
          if (what === OPEN_SIDE && -slope[k]! > keySlope) {
            m.keyFt += share[k]!;
            m.benchedFt2 += reach * share[k]!;
          }
        }
      } else if (what === CORNER_RAY) {
        walled[k] = 1;
        m.lostCorners++;
      } else {
        walled[k] = 1;
        this.#siteWall(k);
        if (h < 0 && -slope[k]! > keySlope) m.keyFt += share[k]!;
      }
    }
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
  #houseWall(k: number): void {
    const m = this.moved;
    const s = this.stations;
    const overBottomFt = s.overFt[k]!;
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

  #siteWall(k: number): void {
    const m = this.moved;
    const s = this.stations;
    const h = s.overFt[k]!;
    const heightFt = Math.abs(h);
    const loaded = h > 0 && s.slope[k]! > LOADING_SLOPE;
    (loaded ? m.loadedWallFaceFt2 : m.wallFaceFt2)[wallClass(heightFt)]! += heightFt * s.share[k]!;
    // a station stands for the stretch around it: at its end the wall is taller by half the change to the next
    const other = s.side[k - 1] === s.side[k] ? k - 1 : k + 1;
    const change = s.side[other] === s.side[k] ? Math.abs(s.groundFt[other]! - s.groundFt[k]!) / 2 : 0;
    if (heightFt + change > m.tallestWallFt) m.tallestWallFt = heightFt + change;
  }

  /** Adds the slope at a station as if the ground beyond ran on straight, and notes its reach; false where a wall must stand instead. */
  #runsStraight(k: number): boolean {
    const s = this.stations;
    const h = s.overFt[k]!;
    const batter = h > 0 ? this.#rules.cutBatter : this.#rules.fillBatter;
    // how fast the slope and the ground close on each other, per foot
    const closing = 1 / batter - (h > 0 ? s.slope[k]! : -s.slope[k]!);
    const depth = Math.abs(h);
    const reach = depth / closing;
    const fan = s.kind[k] === CORNER_RAY;
    if (!(closing > 0) || isHeldByWall(depth, fan ? reach / FAN_LENIENCE : reach, batter)) return false;
    s.reachFt[k] = reach;
    if (!this.#mayEnd(k)) return false;
    this.#add(k, fan ? (depth * reach * reach) / 6 : (depth * reach) / 2);
    return true;
  }

  /** The same, walking outward until slope and ground meet. */
  #walks(k: number): boolean {
    const s = this.stations;
    const h = s.overFt[k]!;
    const batter = h > 0 ? this.#rules.cutBatter : this.#rules.fillBatter;
    const fall = 1 / batter;
    const sign = h > 0 ? 1 : -1;
    const designFt = s.groundFt[k]! - h + s.offsetFt[k]!;
    const fan = s.kind[k] === CORNER_RAY;
    const { heightsFt: z, grid } = this.ground;
    const { cellFt, cols, rows } = grid;
    const stride = Math.max(1, cellFt);
    const mostCol = cols - 1;
    const mostRow = rows - 1;
    const c0 = (s.east[k]! - grid.originEastFt) / cellFt - 0.5;
    const r0 = (s.north[k]! - grid.originNorthFt) / cellFt - 0.5;
    const dc = s.outEast[k]! / cellFt;
    const dr = s.outNorth[k]! / cellFt;
    const giveUpFt = CATCH_TO_EDGE * Math.abs(h) * batter * (fan ? FAN_LENIENCE : 1);
    let before = Math.abs(h);
    let volume = 0;
    let t = 0;
    for (;;) {
      const next = t + stride;
      const c = c0 + next * dc;
      const r = r0 + next * dr;
      // not surveyed: it cannot be shown to meet the ground
      if (!(c >= 0 && r >= 0 && c < mostCol && r < mostRow)) return false;
      const col = c | 0;
      const row = r | 0;
      const i = row * cols + col;
      const south = z[i]! + (c - col) * (z[i + 1]! - z[i]!);
      const north = z[i + cols]! + (c - col) * (z[i + cols + 1]! - z[i + cols]!);
      const depth = sign * (south + (r - row) * (north - south) - designFt) - next * fall;
      if (Number.isNaN(depth)) return false;
      if (depth <= 0) {
        const dt = (stride * before) / (before - depth);
        s.reachFt[k] = t + dt;
        if (t + dt > giveUpFt || !this.#mayEnd(k)) return false;
        this.#add(k, volume + (fan ? wedge(before, 0, t, dt) : (before * dt) / 2));
        return true;
      }
      if (next > giveUpFt) return false;
      volume += fan ? wedge(before, depth, t, stride) : ((before + depth) * stride) / 2;
      before = depth;
      t = next;
    }
  }

  /** Slopes end on ground that may be graded; the fan at a corner may lie in a setback too, but not beyond the lot. */
  #mayEnd(k: number): boolean {
    const s = this.stations;
    const { grid, allows } = this.ground;
    const { cellFt, cols, rows } = grid;
    const reach = s.reachFt[k]!;
    const col = Math.floor((s.east[k]! + reach * s.outEast[k]! - grid.originEastFt) / cellFt);
    const row = Math.floor((s.north[k]! + reach * s.outNorth[k]! - grid.originNorthFt) / cellFt);
    if (!(col >= 0 && row >= 0 && col < cols && row < rows)) return false;
    return (allows[row * cols + col]! & (s.kind[k] === CORNER_RAY ? OWN_GROUND : USABLE)) !== 0;
  }

  /** Earth of the slope at a station, by the section (of a fan: the moment) that its share is multiplied with. */
  #add(k: number, sectionFt2: number): void {
    const s = this.stations;
    const m = this.moved;
    const reach = s.reachFt[k]!;
    const share = s.share[k]!;
    const areaFt2 = share * (s.kind[k] === CORNER_RAY ? (reach * reach) / 2 : reach);
    if (s.overFt[k]! > 0) m.cutFt3 += sectionFt2 * share;
    else {
      m.fillFt3 += sectionFt2 * share;
      m.fillFt2 += areaFt2;
    }
    m.disturbedFt2 += areaFt2;
  }
}

/** Depth falling in a straight line from `near` to `far` over radii t … t + dt, times radius: ∫ d(r) r dr. */
function wedge(near: number, far: number, t: number, dt: number): number {
  return dt * (t * (near + far) * 0.5 + dt * (near / 6 + far / 3));
}
