/** Quick looks at the ground and at what is allowed where, for the thousands of trials of a search. */
import type { Grid } from "../geometry/grid.js";
import type { MultiPolygon, Point } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Site } from "../lot/site.js";

export class GroundGrid {
  readonly grid: Grid;
  readonly #elevation: Float32Array;
  readonly #slope: Float32Array;
  /** 1 where graded slopes may lie. */
  readonly #usable: Uint8Array;
  readonly #lot: Uint8Array;

  constructor({ terrain, lot, survey }: Site) {
    this.grid = terrain.elevation.grid;
    this.#elevation = terrain.elevation.values;
    this.#slope = terrain.slope.values;
    this.#usable = scanPolygons(this.grid, lot.usable).values;
    const free: MultiPolygon = [[survey.boundary]];
    this.#lot = scanPolygons(this.grid, free).values;
    for (const { polygons } of survey.noBuild) {
      const taken = scanPolygons(this.grid, polygons).values;
      for (let i = 0; i < taken.length; i++) if (taken[i]) this.#lot[i] = 0;
    }
  }

  /** Ground height, bilinear between cell centres, ft; NaN where not surveyed. */
  elevationAt(eastFt: number, northFt: number): number {
    const { originEastFt, originNorthFt, cellFt, cols, rows } = this.grid;
    const c = (eastFt - originEastFt) / cellFt - 0.5;
    const r = (northFt - originNorthFt) / cellFt - 0.5;
    const col = Math.floor(c);
    const row = Math.floor(r);
    if (!(col >= 0 && row >= 0 && col + 1 < cols && row + 1 < rows)) return NaN;
    const i = row * cols + col;
    const z = this.#elevation;
    const fc = c - col;
    const fr = r - row;
    const south = z[i]! + fc * (z[i + 1]! - z[i]!);
    const north = z[i + cols]! + fc * (z[i + cols + 1]! - z[i + cols]!);
    return south + fr * (north - south);
  }

  /** Heights and slopes (rise per foot) at `count` points in a line, written from `from` on; false at the first point nobody surveyed. */
  readLine(
    eastFt: number,
    northFt: number,
    stepEastFt: number,
    stepNorthFt: number,
    count: number,
    heightsFt: Float64Array,
    slopes: Float32Array,
    from: number,
  ): boolean {
    const { originEastFt, originNorthFt, cellFt, cols, rows } = this.grid;
    const z = this.#elevation;
    const dc = stepEastFt / cellFt;
    const dr = stepNorthFt / cellFt;
    let c = (eastFt - originEastFt) / cellFt - 0.5;
    let r = (northFt - originNorthFt) / cellFt - 0.5;
    for (let k = from; k < from + count; k++, c += dc, r += dr) {
      const col = Math.floor(c);
      const row = Math.floor(r);
      if (!(col >= 0 && row >= 0 && col + 1 < cols && row + 1 < rows)) return false;
      const i = row * cols + col;
      const fc = c - col;
      const south = z[i]! + fc * (z[i + 1]! - z[i]!);
      const north = z[i + cols]! + fc * (z[i + cols + 1]! - z[i + cols]!);
      const height = south + (r - row) * (north - south);
      if (Number.isNaN(height)) return false;
      heightsFt[k] = height;
      slopes[k] = this.#slope[i + (fc < 0.5 ? 0 : 1) + (r - row < 0.5 ? 0 : cols)]! / 100;
    }
    return true;
  }

  slopePctAt(eastFt: number, northFt: number): number {
    const i = this.#cell(eastFt, northFt);
    return i < 0 ? NaN : this.#slope[i]!;
  }

  usableAt(eastFt: number, northFt: number): boolean {
    const i = this.#cell(eastFt, northFt);
    return i >= 0 && this.#usable[i] === 1;
  }

  /** Inside the lot line and outside every easement and protected area. */
  ownGroundAt(eastFt: number, northFt: number): boolean {
    const i = this.#cell(eastFt, northFt);
    return i >= 0 && this.#lot[i] === 1;
  }

  /** Downhill gradient around a point, from heights `radiusFt` away on both axes: rise per foot, pointing down. */
  downhillAt([eastFt, northFt]: Point, radiusFt: number): Point {
    const dx = this.elevationAt(eastFt + radiusFt, northFt) - this.elevationAt(eastFt - radiusFt, northFt);
    const dy = this.elevationAt(eastFt, northFt + radiusFt) - this.elevationAt(eastFt, northFt - radiusFt);
    return [-dx / (2 * radiusFt), -dy / (2 * radiusFt)];
  }

  #cell(eastFt: number, northFt: number): number {
    const { originEastFt, originNorthFt, cellFt, cols, rows } = this.grid;
    const col = Math.floor((eastFt - originEastFt) / cellFt);
    const row = Math.floor((northFt - originNorthFt) / cellFt);
    return col >= 0 && row >= 0 && col < cols && row < rows ? row * cols + col : -1;
  }
}
