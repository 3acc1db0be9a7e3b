/** Where a footprint of a given shape and turn may lie: a mask in its own axes and a table of sums over it. */
import type { Grid } from "../geometry/grid.js";
import { boxOf, type MultiPolygon, type Point } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { FootprintShape, Rect } from "./footprints.js";
import type { Place } from "./place.js";

/** Most cells of a turned mask; larger ground gets larger cells. */
const MOST_CELLS = 40_000;
const SMALLEST_CELL_FT = 2;

/** The admissible ground turned so that a house's u axis runs along its columns. */
export class TurnedGround {
  readonly turnRad: number;
  readonly #grid: Grid;
  /** Sums of the mask over all cells south-west of a corner; (cols + 1) × (rows + 1). */
  readonly #sums: Uint32Array;
  /** Places already found, by the size of the shape's parts. */
  readonly #found = new Map<string, readonly Place[]>();

  constructor(polygons: MultiPolygon, turnRad: number) {
    this.turnRad = turnRad;
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    const turned = polygons.map((polygon) =>
      polygon.map((ring) => ring.map(([x, y]): Point => [x * cos + y * sin, -x * sin + y * cos])),
    );
    const box = boxOf(turned.flat(2));
    const width = box.maxEastFt - box.minEastFt;
    const height = box.maxNorthFt - box.minNorthFt;
    const cellFt = Math.max(SMALLEST_CELL_FT, Math.sqrt((width * height) / MOST_CELLS));
    this.#grid = {
      originEastFt: box.minEastFt,
      originNorthFt: box.minNorthFt,
      cellFt,
      cols: Math.max(1, Math.ceil(width / cellFt)),
      rows: Math.max(1, Math.ceil(height / cellFt)),
    };
    const { cols, rows } = this.#grid;
    const mask = scanPolygons(this.#grid, turned).values;
    const sums = new Uint32Array((cols + 1) * (rows + 1));
    for (let r = 0; r < rows; r++) {
      let row = 0;
      for (let c = 0; c < cols; c++) {
        row += mask[r * cols + c]!;
        sums[(r + 1) * (cols + 1) + c + 1] = sums[r * (cols + 1) + c + 1]! + row;
      }
    }
    this.#sums = sums;
  }

  /**
   * Centres at which every cell wholly under the shape is admissible, thinned evenly to about `most`. Cells only partly
   * under it are not asked: the exact polygons are, later.
   */
  places(shape: FootprintShape, most: number): readonly Place[] {
    const { house: h, garage: g } = shape;
    const key = [h.u0, h.v0, h.u1, h.v1, g?.u0, g?.v0, g?.u1, g?.v1, most].join();
    let places = this.#found.get(key);
    if (!places) {
      places = this.#find(shape, most);
      this.#found.set(key, places);
    }
    return places;
  }

  #find(shape: FootprintShape, most: number): readonly Place[] {
    const places: Place[] = [];
    const { cols, rows, cellFt, originEastFt, originNorthFt } = this.#grid;
    const house = span(shape.house, cellFt);
    const garage = shape.garage ? span(shape.garage, cellFt) : house;
    const cos = Math.cos(this.turnRad);
    const sin = Math.sin(this.turnRad);
    const fits: number[] = [];
    for (let r = 0; r < rows; r++)
      for (let c = 0; c < cols; c++)
        if (this.#covered(c, r, house) && (garage === house || this.#covered(c, r, garage)))
          fits.push(r * cols + c);
    // one place from every block of cells that holds any, so that narrow ranges are not stepped over
    const stride = Math.max(1, Math.round(Math.sqrt(fits.length / most)));
    const blocks = Math.ceil(cols / stride);
    const seen = new Uint8Array(blocks * Math.ceil(rows / stride));
    for (const cell of fits) {
      const c = cell % cols;
      const r = (cell - c) / cols;
      const block = Math.floor(r / stride) * blocks + Math.floor(c / stride);
      if (seen[block]) continue;
      seen[block] = 1;
      const u = originEastFt + (c + 0.5) * cellFt;
      const v = originNorthFt + (r + 0.5) * cellFt;
      places.push({ eastFt: u * cos - v * sin, northFt: u * sin + v * cos, turnRad: this.turnRad });
    }
    return places;
  }

  #covered(c: number, r: number, { c0, c1, r0, r1 }: Span): boolean {
    const { cols, rows } = this.#grid;
    const a = c + c0;
    const b = c + c1 + 1;
    const d = r + r0;
    const e = r + r1 + 1;
    if (a < 0 || d < 0 || b > cols || e > rows) return false;
    const w = cols + 1;
    const s = this.#sums;
    return s[e * w + b]! - s[d * w + b]! - s[e * w + a]! + s[d * w + a]! === (b - a) * (e - d);
  }
}

/** Cells wholly inside a rectangle whose (0, 0) lies on a cell centre, as offsets from that cell. */
interface Span {
  readonly c0: number;
  readonly c1: number;
  readonly r0: number;
  readonly r1: number;
}

function span({ u0, v0, u1, v1 }: Rect, cellFt: number): Span {
  return {
    c0: Math.ceil(u0 / cellFt + 0.5),
    c1: Math.floor(u1 / cellFt - 0.5),
    r0: Math.ceil(v0 / cellFt + 0.5),
    r1: Math.floor(v1 / cellFt - 0.5),
  };
}
