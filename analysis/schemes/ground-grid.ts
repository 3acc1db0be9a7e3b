/** Quick looks at the ground and at what is allowed where, for the thousands of trials of a search. */
import type { Grid } from "../geometry/grid.js";
import type { MultiPolygon, Point } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Site } from "../lot/site.js";
import type { Rect } from "./footprints.js";
import type { Place } from "./place.js";

/** What a cell of `GroundGrid.allows` says: graded slopes may lie here; inside the lot line and outside every easement and protected area. */
export const USABLE = 1;
export const OWN_GROUND = 2;

/** The innermost loops of the search read its columns themselves: a fraction handed from function to function is put into memory of its own each time. */
export class GroundGrid {
  readonly grid: Grid;
  /** Ground height at cell centres, ft; NaN where not surveyed. */
  readonly heightsFt: Float32Array;
  readonly slopesPct: Float32Array;
  readonly allows: Uint8Array;

  constructor({ terrain, lot, survey }: Site) {
    this.grid = terrain.elevation.grid;
    this.heightsFt = terrain.elevation.values;
    this.slopesPct = terrain.slope.values;
    const free: MultiPolygon = [[survey.boundary]];
    const own = scanPolygons(this.grid, free).values;
    for (const { polygons } of survey.noBuild) {
      const taken = scanPolygons(this.grid, polygons).values;
      for (let i = 0; i < taken.length; i++) if (taken[i]) own[i] = 0;
    }
    this.allows = scanPolygons(this.grid, lot.usable).values;
    for (let i = 0; i < own.length; i++) if (own[i]) this.allows[i]! |= OWN_GROUND;
  }

  /**
   * Heights and slopes (rise per foot) at the middles of `cols` × `rows` parts of a placed rectangle, written from `from`
   * on; where it stopped. −1 at the first point nobody surveyed, which is passed over where that is allowed.
   */
  readTile(
    { eastFt, northFt, turnRad }: Place,
    { u0, v0, u1, v1 }: Rect,
    cols: number,
    rows: number,
    heightsFt: Float64Array,
    slopes: Float32Array,
    from: number,
    lenient: boolean,
  ): number {
    const z = this.heightsFt;
    const slopesPct = this.slopesPct;
    const { originEastFt, originNorthFt, cellFt, cols: width, rows: height } = this.grid;
    const cos = Math.cos(turnRad) / cellFt;
    const sin = Math.sin(turnRad) / cellFt;
    const du = (u1 - u0) / cols;
    const dv = (v1 - v0) / rows;
    const mostCol = width - 1;
    const mostRow = height - 1;
    const startCol = (eastFt - originEastFt) / cellFt - 0.5 + (u0 + du / 2) * cos;
    const startRow = (northFt - originNorthFt) / cellFt - 0.5 + (u0 + du / 2) * sin;
    let n = from;
    for (let j = 0; j < rows; j++) {
      const v = v0 + (j + 0.5) * dv;
      let c = startCol - v * sin;
      let r = startRow + v * cos;
      for (let i = 0; i < cols; i++, c += du * cos, r += du * sin) {
        let ft = NaN;
        if (c >= 0 && r >= 0 && c < mostCol && r < mostRow) {
          const col = c | 0;
          const row = r | 0;
          const at = row * width + col;
          const south = z[at]! + (c - col) * (z[at + 1]! - z[at]!);
          const north = z[at + width]! + (c - col) * (z[at + width + 1]! - z[at + width]!);
          ft = south + (r - row) * (north - south);
        }
        if (Number.isNaN(ft)) {
          if (lenient) continue;
          return -1;
        }
        heightsFt[n] = ft;
        slopes[n] = slopesPct[((r + 0.5) | 0) * width + ((c + 0.5) | 0)]! * 0.01;
        n++;
      }
    }
    return n;
  }

  /** Ground height, bilinear between cell centres, ft; NaN where not surveyed. */
  elevationAt(eastFt: number, northFt: number): number {
    const { originEastFt, originNorthFt, cellFt, cols, rows } = this.grid;
    const c = (eastFt - originEastFt) / cellFt - 0.5;
    const r = (northFt - originNorthFt) / cellFt - 0.5;
    if (!(c >= 0 && r >= 0 && c < cols - 1 && r < rows - 1)) return NaN;
    const col = c | 0;
    const row = r | 0;
    const i = row * cols + col;
    const z = this.heightsFt;
    const south = z[i]! + (c - col) * (z[i + 1]! - z[i]!);
    const north = z[i + cols]! + (c - col) * (z[i + cols + 1]! - z[i + cols]!);
    return south + (r - row) * (north - south);
  }

  /** The same for points from one to before another, `outFt` away from each along its direction. */
  elevationsAt(
    points: { east: Float64Array; north: Float64Array; outEast: Float64Array; outNorth: Float64Array },
    outFt: number,
    from: number,
    to: number,
    into: Float64Array,
  ): void {
    const { originEastFt, originNorthFt, cellFt, cols, rows } = this.grid;
    const { east, north, outEast, outNorth } = points;
    const z = this.heightsFt;
    for (let k = from; k < to; k++) {
      const c = (east[k]! + outFt * outEast[k]! - originEastFt) / cellFt - 0.5;
      const r = (north[k]! + outFt * outNorth[k]! - originNorthFt) / cellFt - 0.5;
      if (c >= 0 && r >= 0 && c < cols - 1 && r < rows - 1) {
        const col = c | 0;
        const row = r | 0;
        const i = row * cols + col;
        const southFt = z[i]! + (c - col) * (z[i + 1]! - z[i]!);
        const northFt = z[i + cols]! + (c - col) * (z[i + cols + 1]! - z[i + cols]!);
        into[k] = southFt + (r - row) * (northFt - southFt);
      } else into[k] = NaN;
    }
  }

  /** Lowest ground at the corners of a placed rectangle; NaN where one of them is not surveyed. */
  lowestCornerFt({ eastFt, northFt, turnRad }: Place, { u0, v0, u1, v1 }: Rect): number {
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    return Math.min(
      this.elevationAt(eastFt + u0 * cos - v0 * sin, northFt + u0 * sin + v0 * cos),
      this.elevationAt(eastFt + u1 * cos - v0 * sin, northFt + u1 * sin + v0 * cos),
      this.elevationAt(eastFt + u1 * cos - v1 * sin, northFt + u1 * sin + v1 * cos),
      this.elevationAt(eastFt + u0 * cos - v1 * sin, northFt + u0 * sin + v1 * cos),
    );
  }

  /** Inside the lot line and outside every easement and protected area. */
  ownGroundAt(eastFt: number, northFt: number): boolean {
    const i = this.#cell(eastFt, northFt);
    return i >= 0 && (this.allows[i]! & OWN_GROUND) !== 0;
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
