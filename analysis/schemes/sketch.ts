/**
 * The earth moved by a layout at a place and level, from samples of the ground: quick enough for a search.
 * The pad is a sum over equal cells aligned with it; slopes beside it are sections taken outward at even stations,
 * and fans of rays at the corners. The chosen design is computed again exactly; see docs/methods/schemes.md.
 */
import type { GroundGrid } from "./ground-grid.js";
import type { Layout } from "./layout.js";
import { clearHeld, type Moved, nothingMoved } from "./moved.js";
import type { Place } from "./place.js";
import { type Stations, stations } from "./stations.js";
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

/** Ground on which a house is likely to be carried by piers whatever is graded (1 in 5). Common practice, no source. */
export const STEEP_SLOPE = 0.2;
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
/** Most parts a side is read in, and most stations of all sides and corners together. */
const MOST_PARTS = 64;
const MOST_STATIONS = 4096;
/** A corner looks across the steepest ground: its fan may climb this many times more than a side before it is given up. */
const FAN_LENIENCE = 2;
/** Distance over which the slope beside an edge is read for the quick closed form. */
const SLOPE_ARM_FT = 10;

/** Spacing of samples over the tiles and of stations along their sides, and rays at each outside corner. */
export interface Density {
  readonly stepFt: number;
  readonly edgeStepFt: number;
  readonly rays: number;
  /** Pass over unsurveyed ground instead of giving up. */
  readonly lenient?: boolean;
}

export class Sketch {
  readonly #ground: GroundGrid;
  readonly #rules: SketchRules;
  #count = 0;
  #heights = new Float64Array(1024);
  #slopes = new Float32Array(1024);
  #cellFt2 = new Float64Array(1024);
  readonly #stations: Stations = stations(MOST_STATIONS);
  /** Even parts each side of the layout was read in. */
  readonly #parts: number[] = [];
  readonly moved = nothingMoved();
  /** Heights of the ground less the layout's own offsets, over the tiles. */
  /** Part of the samples on ground steeper than 1 in 5. */
  steepShare = 0;
  lowestFt = 0;
  highestFt = 0;
  meanFt = 0;

  constructor(ground: GroundGrid, rules: SketchRules) {
    this.#ground = ground;
    this.#rules = rules;
  }

  /** Reads the ground under and around a layout. False where a tile lies on ground the survey does not show. */
  read(place: Place, layout: Layout, density: Density): boolean {
    const lenient = density.lenient ?? false;
    return (
      this.#readTiles(place, layout, density.stepFt, lenient) &&
      this.#readSides(place, layout, density, lenient)
    );
  }

  #readTiles(
    { eastFt, northFt, turnRad }: Place,
    { tiles }: Layout,
    stepFt: number,
    lenient: boolean,
  ): boolean {
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    let n = 0;
    let done = 0;
    let steep = 0;
    let sum = 0;
    let area = 0;
    let low = Infinity;
    let high = -Infinity;
    for (const { rect, offsetFt } of tiles) {
      const cols = Math.max(1, Math.round((rect.u1 - rect.u0) / stepFt));
      const rows = Math.max(1, Math.round((rect.v1 - rect.v0) / stepFt));
      const du = (rect.u1 - rect.u0) / cols;
      const dv = (rect.v1 - rect.v0) / rows;
      if (n + cols * rows > this.#heights.length) this.#grow(n + cols * rows);
      const u = rect.u0 + du / 2;
      for (let j = 0; j < rows; j++) {
        const v = rect.v0 + (j + 0.5) * dv;
        const x = eastFt + u * cos - v * sin;
        const y = northFt + u * sin + v * cos;
        if (!lenient) {
          if (!this.#ground.readLine(x, y, du * cos, du * sin, cols, this.#heights, this.#slopes, n))
            return false;
          n += cols;
        } else
          for (let i = 0; i < cols; i++)
            if (
              this.#ground.readLine(
                x + i * du * cos,
                y + i * du * sin,
                0,
                0,
                1,
                this.#heights,
                this.#slopes,
                n,
              )
            )
              n++;
      }
      for (; done < n; done++) {
        const z = this.#heights[done]! - offsetFt;
        this.#heights[done] = z;
        this.#cellFt2[done] = du * dv;
        if (this.#slopes[done]! > STEEP_SLOPE) steep++;
        sum += z * du * dv;
        area += du * dv;
        if (z < low) low = z;
        if (z > high) high = z;
      }
    }
    this.#count = n;
    this.steepShare = steep / n;
    this.lowestFt = low;
    this.highestFt = high;
    this.meanFt = sum / area;
    return n > 0;
  }

  #readSides(
    { eastFt, northFt, turnRad }: Place,
    { sides, corners }: Layout,
    { edgeStepFt, rays }: Density,
    lenient: boolean,
  ): boolean {
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    const s = this.#stations;
    s.count = 0;
    this.#parts.length = 0;
    const put = (
      u: number,
      v: number,
      outU: number,
      outV: number,
      offsetFt: number,
      share: number,
      kind: number,
    ): boolean => {
      const x = eastFt + u * cos - v * sin;
      const y = northFt + u * sin + v * cos;
      const ox = outU * cos - outV * sin;
      const oy = outU * sin + outV * cos;
      const z = this.#ground.elevationAt(x, y);
      if (Number.isNaN(z)) return lenient;
      const beyond = this.#ground.elevationAt(x + SLOPE_ARM_FT * ox, y + SLOPE_ARM_FT * oy);
      const k = s.count++;
      s.east[k] = x;
      s.north[k] = y;
      s.outEast[k] = ox;
      s.outNorth[k] = oy;
      s.groundFt[k] = z - offsetFt;
      s.offsetFt[k] = offsetFt;
      s.slope[k] = (beyond - z) / SLOPE_ARM_FT;
      s.share[k] = share;
      s.kind[k] = kind;
      s.side[k] = this.#parts.length;
      return true;
    };
    for (const { from, to, outward, offsetFt, hold } of sides) {
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      const n = Math.min(MOST_PARTS, Math.max(1, Math.round(length / edgeStepFt)));
      this.#parts.push(n);
      for (let i = 0; i < n; i++) {
        const t = (i + 0.5) / n;
        const u = from[0] + t * (to[0] - from[0]);
        const v = from[1] + t * (to[1] - from[1]);
        if (!put(u, v, outward[0], outward[1], offsetFt, length / n, hold === "open" ? 0 : 1)) return false;
      }
    }
    // stations lie side by side, so a side's last one is just before the next side's first
    const firsts = [0];
    for (const n of this.#parts) firsts.push(firsts[firsts.length - 1]! + n);
    for (const { at, from, to, offsetFt, between } of corners)
      for (let i = 0; i < rays; i++) {
        s.before[s.count] = firsts[between[0] + 1]! - 1;
        s.after[s.count] = firsts[between[1]]!;
        const angle = ((i + 0.5) / rays) * (Math.PI / 2);
        const outU = from[0] * Math.cos(angle) + to[0] * Math.sin(angle);
        const outV = from[1] * Math.cos(angle) + to[1] * Math.sin(angle);
        if (!put(at[0], at[1], outU, outV, offsetFt, Math.PI / 2 / rays, 2)) return false;
      }
    return true;
  }

  /** Fills `moved` for one base level. `exact` walks outward over the ground; otherwise the slope beside each edge is taken as straight. */
  measure(levelFt: number, exact: boolean): Moved {
    const m = this.moved;
    const { fillMaxSlope, keySlope } = this.#rules;
    let cut = 0;
    let fill = 0;
    let fillFt2 = 0;
    let area = 0;
    let tooSteep = 0;
    let benched = 0;
    for (let i = 0; i < this.#count; i++) {
      const depth = this.#heights[i]! - levelFt;
      const a = this.#cellFt2[i]!;
      area += a;
      if (depth > 0) cut += depth * a;
      else {
        fill -= depth * a;
        fillFt2 += a;
        if (this.#slopes[i]! > keySlope) benched += a;
        if (depth < -DRESSING_FT && this.#slopes[i]! > fillMaxSlope) tooSteep += a;
      }
    }
    m.cutFt3 = cut;
    m.fillFt3 = fill;
    m.fillFt2 = fillFt2;
    m.disturbedFt2 = area;
    m.tooSteepFillFt2 = tooSteep;
    m.benchedFt2 = benched;
    clearHeld(m);
    const s = this.#stations;
    for (let k = 0; k < s.count; k++) {
      const h = s.groundFt[k]! - levelFt;
      if (s.kind[k] === 1) this.#houseWall(k, h);
      else if (Math.abs(h) <= FLUSH_FT) s.walled[k] = this.#isSteepAt(k) ? 1 : 0;
      else if (s.kind[k] === 0 || (!s.walled[s.before[k]!] && !s.walled[s.after[k]!])) {
        const reach = exact ? this.#walk(k, h) : this.#straight(k, h);
        s.walled[k] = reach < 0 ? 1 : 0;
        if (h > 0 && reach > m.cutReachFt) m.cutReachFt = reach;
        if (h < 0 && reach > m.fillReachFt) m.fillReachFt = reach;
        if (s.kind[k] === 2 && reach < 0) m.lostCorners++;
        if (s.kind[k] === 0) {
          if (reach < 0) this.#siteWall(k, h);
          if (h < 0 && -s.slope[k]! > keySlope) {
            m.keyFt += s.share[k]!;
            m.benchedFt2 += Math.max(0, reach) * s.share[k]!;
          }
        }
      }
    }
    return m;
  }

  /** Per side of the layout last read: which of its even parts a wall holds, as last measured. */
  walledParts(): boolean[][] {
    let k = 0;
    return this.#parts.map((n) => Array.from({ length: n }, () => this.#stations.walled[k++] === 1));
  }

  /** Where even a hand's breadth of slope would run away, a kerb holds the edge: it is not priced. */
  #isSteepAt(k: number): boolean {
    const rise = this.#stations.slope[k]!;
    const { cutBatter, fillBatter } = this.#rules;
    return Math.max(cutBatter * rise, -fillBatter * rise) > 1 - 1 / CATCH_TO_EDGE;
  }

  /** A basement wall: earth against it above its floor, and the hole dug beside it down to the bottom of the dig. */
  #houseWall(k: number, overBottomFt: number): void {
    const m = this.moved;
    const s = this.#stations;
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
      this.#ground.ownGroundAt(s.east[k]! + out * s.outEast[k]!, s.north[k]! + out * s.outNorth[k]!)
    ) {
      m.digBesideFt3 += ((faceFt * reach) / 2) * lengthFt;
    } else m.shoreFt2 += faceFt * lengthFt;
  }

  #siteWall(k: number, h: number): void {
    const m = this.moved;
    const s = this.#stations;
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
    const s = this.#stations;
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
    const s = this.#stations;
    const batter = h > 0 ? this.#rules.cutBatter : this.#rules.fillBatter;
    const sign = h > 0 ? 1 : -1;
    const designFt = s.groundFt[k]! - h + s.offsetFt[k]!;
    const fan = s.kind[k] === 2;
    const stride = Math.max(1, this.#ground.grid.cellFt);
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
      const ground = this.#ground.elevationAt(east + next * outEast, north + next * outNorth);
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
    const s = this.#stations;
    const east = s.east[k]! + reachFt * s.outEast[k]!;
    const north = s.north[k]! + reachFt * s.outNorth[k]!;
    return fan ? this.#ground.ownGroundAt(east, north) : this.#ground.usableAt(east, north);
  }

  #add(isCut: boolean, volumeFt3: number, areaFt2: number): void {
    if (isCut) this.moved.cutFt3 += volumeFt3;
    else {
      this.moved.fillFt3 += volumeFt3;
      this.moved.fillFt2 += areaFt2;
    }
    this.moved.disturbedFt2 += areaFt2;
  }

  #grow(need: number): void {
    const size = 2 ** Math.ceil(Math.log2(need));
    const heights = new Float64Array(size);
    heights.set(this.#heights);
    const slopes = new Float32Array(size);
    slopes.set(this.#slopes);
    const cells = new Float64Array(size);
    cells.set(this.#cellFt2);
    this.#heights = heights;
    this.#slopes = slopes;
    this.#cellFt2 = cells;
  }
}

/** Depth falling in a straight line from `near` to `far` over radii t … t + dt, times radius: ∫ d(r) r dr. */
function wedge(near: number, far: number, t: number, dt: number): number {
  return dt * (t * (near + far) * 0.5 + dt * (near / 6 + far / 3));
}
