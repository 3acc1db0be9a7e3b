/** The ground under and around a placed layout, sampled: heights over its tiles, stations along its sides, rays at its corners. */
import type { GroundGrid } from "./ground-grid.js";
import type { Layout } from "./layout.js";
import type { Place } from "./place.js";
import { type Stations, stations } from "./stations.js";

/** Ground on which a house is likely to be carried by piers whatever is graded (1 in 5). Common practice, no source. */
export const STEEP_SLOPE = 0.2;
/** Most parts a side is read in, and most stations of all sides and corners together. */
const MOST_PARTS = 64;
const MOST_STATIONS = 4096;
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

export class GroundReading {
  protected readonly ground: GroundGrid;
  /** Samples over the tiles: heights less the layout's own offsets, slopes as rise per foot, the area each stands for. */
  protected count = 0;
  protected heights = new Float64Array(1024);
  protected slopes = new Float32Array(1024);
  protected cellFt2 = new Float64Array(1024);
  /** Half of what the ground rises across a sample's own cell. */
  protected halfRises = new Float64Array(1024);
  protected areaFt2 = 0;
  protected readonly stations: Stations = stations(MOST_STATIONS);
  /** Even parts each side of the layout was read in. */
  protected readonly parts: number[] = [];
  /** Part of the samples on ground steeper than 1 in 5. */
  steepShare = 0;
  lowestFt = 0;
  highestFt = 0;
  meanFt = 0;
  /** Highest natural ground read along the house's own walls; −Infinity where it has none. */
  highestHouseWallFt = -Infinity;

  constructor(ground: GroundGrid) {
    this.ground = ground;
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
      if (n + cols * rows > this.heights.length) this.#grow(n + cols * rows);
      const u = rect.u0 + du / 2;
      for (let j = 0; j < rows; j++) {
        const v = rect.v0 + (j + 0.5) * dv;
        const x = eastFt + u * cos - v * sin;
        const y = northFt + u * sin + v * cos;
        if (!lenient) {
          if (!this.ground.readLine(x, y, du * cos, du * sin, cols, this.heights, this.slopes, n))
            return false;
          n += cols;
        } else
          for (let i = 0; i < cols; i++)
            if (
              this.ground.readLine(x + i * du * cos, y + i * du * sin, 0, 0, 1, this.heights, this.slopes, n)
            )
              n++;
      }
      const halfCellFt = (du + dv) / 4;
      for (; done < n; done++) {
        const z = this.heights[done]! - offsetFt;
        this.heights[done] = z;
        this.cellFt2[done] = du * dv;
        this.halfRises[done] = this.slopes[done]! * halfCellFt;
        if (this.slopes[done]! > STEEP_SLOPE) steep++;
        sum += z * du * dv;
        area += du * dv;
        if (z < low) low = z;
        if (z > high) high = z;
      }
    }
    this.count = n;
    this.steepShare = steep / n;
    this.lowestFt = low;
    this.highestFt = high;
    this.meanFt = sum / area;
    this.areaFt2 = area;
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
    const { ground, parts } = this;
    const s = this.stations;
    parts.length = 0;
    let k = 0;
    let highest = -Infinity;
    for (let i = 0; i < sides.length; i++) {
      const { from, to, outward, offsetFt, hold } = sides[i]!;
      const du = to[0] - from[0];
      const dv = to[1] - from[1];
      const lengthFt = Math.sqrt(du * du + dv * dv);
      const n = Math.min(MOST_PARTS, Math.max(1, Math.round(lengthFt / edgeStepFt)));
      const kind = hold === "open" ? 0 : 1;
      const outEast = outward[0] * cos - outward[1] * sin;
      const outNorth = outward[0] * sin + outward[1] * cos;
      parts.push(n);
      for (let part = 0; part < n; part++) {
        const u = from[0] + ((part + 0.5) / n) * du;
        const v = from[1] + ((part + 0.5) / n) * dv;
        const x = eastFt + u * cos - v * sin;
        const y = northFt + u * sin + v * cos;
        const z = ground.elevationAt(x, y);
        if (Number.isNaN(z)) {
          if (lenient) continue;
          return false;
        }
        this.#look(k, x, y, outEast, outNorth, z, offsetFt);
        s.share[k] = lengthFt / n;
        s.kind[k] = kind;
        s.side[k] = i;
        if (kind === 1 && z > highest) highest = z;
        k++;
      }
    }
    this.highestHouseWallFt = highest;
    // stations lie side by side, so a side's last one is just before the next side's first
    const firsts = [0];
    for (const n of parts) firsts.push(firsts[firsts.length - 1]! + n);
    for (let i = 0; i < corners.length; i++) {
      const { at, from, to, offsetFt, between } = corners[i]!;
      const x = eastFt + at[0] * cos - at[1] * sin;
      const y = northFt + at[0] * sin + at[1] * cos;
      const z = ground.elevationAt(x, y);
      if (Number.isNaN(z)) {
        if (lenient) continue;
        return false;
      }
      for (let ray = 0; ray < rays; ray++) {
        const angle = ((ray + 0.5) / rays) * (Math.PI / 2);
        const outU = from[0] * Math.cos(angle) + to[0] * Math.sin(angle);
        const outV = from[1] * Math.cos(angle) + to[1] * Math.sin(angle);
        const outEast = outU * cos - outV * sin;
        const outNorth = outU * sin + outV * cos;
        this.#look(k, x, y, outEast, outNorth, z, offsetFt);
        s.share[k] = Math.PI / 2 / rays;
        s.kind[k] = 2;
        s.side[k] = sides.length;
        s.before[k] = firsts[between[0] + 1]! - 1;
        s.after[k] = firsts[between[1]]!;
        k++;
      }
    }
    s.count = k;
    return true;
  }

  /** A station and the slope of the ground as seen from it. */
  #look(k: number, x: number, y: number, outEast: number, outNorth: number, z: number, offsetFt: number) {
    const s = this.stations;
    const beyond = this.ground.elevationAt(x + SLOPE_ARM_FT * outEast, y + SLOPE_ARM_FT * outNorth);
    s.east[k] = x;
    s.north[k] = y;
    s.outEast[k] = outEast;
    s.outNorth[k] = outNorth;
    s.groundFt[k] = z - offsetFt;
    s.offsetFt[k] = offsetFt;
    s.slope[k] = (beyond - z) / SLOPE_ARM_FT;
  }

  #grow(need: number): void {
    const size = 2 ** Math.ceil(Math.log2(need));
    const heights = new Float64Array(size);
    heights.set(this.heights);
    const slopes = new Float32Array(size);
    slopes.set(this.slopes);
    const cells = new Float64Array(size);
    cells.set(this.cellFt2);
    const halfRises = new Float64Array(size);
    halfRises.set(this.halfRises);
    this.heights = heights;
    this.slopes = slopes;
    this.cellFt2 = cells;
    this.halfRises = halfRises;
  }
}
