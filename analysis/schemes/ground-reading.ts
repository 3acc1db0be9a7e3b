/** The ground under and around a placed layout, sampled: heights over its tiles, stations along its sides, rays at its corners. */
import type { GroundGrid } from "./ground-grid.js";
import type { Layout } from "./layout.js";
import type { Place } from "./place.js";
import { HOUSE_WALL, Stations, UNKNOWN } from "./stations.js";

/** Ground on which a house is likely to be carried by piers whatever is graded (1 in 5). Common practice, no source. */
export const STEEP_SLOPE = 0.2;
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
  protected readonly stations = new Stations();
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

  #readTiles(place: Place, { tiles }: Layout, stepFt: number, lenient: boolean): boolean {
    let n = 0;
    let done = 0;
    let steep = 0;
    let sum = 0;
    let area = 0;
    let low = Infinity;
    let high = -Infinity;
    for (let t = 0; t < tiles.length; t++) {
      const { rect, offsetFt } = tiles[t]!;
      const cols = Math.max(1, Math.round((rect.u1 - rect.u0) / stepFt));
      const rows = Math.max(1, Math.round((rect.v1 - rect.v0) / stepFt));
      const du = (rect.u1 - rect.u0) / cols;
      const dv = (rect.v1 - rect.v0) / rows;
      if (n + cols * rows > this.heights.length) this.#grow(n + cols * rows);
      n = this.ground.readTile(place, rect, cols, rows, this.heights, this.slopes, n, lenient);
      if (n < 0) return false;
      const { heights, slopes, cellFt2, halfRises } = this;
      const halfCellFt = (du + dv) / 4;
      const sampleFt2 = du * dv;
      for (; done < n; done++) {
        const z = heights[done]! - offsetFt;
        const slope = slopes[done]!;
        heights[done] = z;
        cellFt2[done] = sampleFt2;
        halfRises[done] = slope * halfCellFt;
        if (slope > STEEP_SLOPE) steep++;
        sum += z * sampleFt2;
        area += sampleFt2;
        low = Math.min(low, z);
        high = Math.max(high, z);
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

  /** Stations along the sides and rays at the corners, then the ground at each and the slope of the ground as seen from it. */
  #readSides(
    place: Place,
    { sides, corners }: Layout,
    { edgeStepFt, rays }: Density,
    lenient: boolean,
  ): boolean {
    const s = this.stations;
    const { parts, ground } = this;
    s.begin(place, rays);
    parts.length = 0;
    for (let i = 0; i < sides.length; i++) parts.push(s.alongSide(sides[i]!, i, edgeStepFt));
    for (let i = 0; i < corners.length; i++) s.atCorner(corners[i]!, parts);
    const { groundFt, offsetFt, slope, kind, count } = s;
    ground.elevationsAt(s, 0, 0, count, groundFt);
    ground.elevationsAt(s, SLOPE_ARM_FT, 0, count, slope);
    let highest = -Infinity;
    for (let k = 0; k < count; k++) {
      const z = groundFt[k]!;
      if (Number.isNaN(z)) {
        if (!lenient) return false;
        kind[k] = UNKNOWN;
      }
      if (kind[k] === HOUSE_WALL && z > highest) highest = z;
      slope[k] = (slope[k]! - z) / SLOPE_ARM_FT;
      groundFt[k] = z - offsetFt[k]!;
    }
    this.highestHouseWallFt = highest;
    return true;
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
