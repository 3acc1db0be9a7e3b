/** Ground turned to a house's own axes: where a footprint may lie, and what the heights under it amount to, from tables of sums. */
import type { Grid } from "../geometry/grid.js";
import { boxOf, type MultiPolygon, type Point } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { FootprintShape, Rect } from "./footprints.js";
import type { GroundGrid } from "./ground-grid.js";
import type { Place } from "./place.js";

/** Most cells of a turned grid; larger ground gets larger cells. */
const MOST_CELLS = 16_000;
const SMALLEST_CELL_FT = 2;
/** Fewer places than this share of those asked for, and the ground is looked over more finely. */
const FEW_PLACES = 0.25;

/** Heights under a rectangle, as far as the admissible ground reaches. */
export interface Relief {
  readonly meanFt: number;
  /** Standard deviation of the heights. */
  readonly spreadFt: number;
  /** Mean rise per foot along u and along v. */
  readonly riseU: number;
  readonly riseV: number;
}

/** What can be said of a shape at one place without a closer look. */
export interface Outlook {
  readonly place: Place;
  /** Relief under a rectangle of the shape; good until the next is asked for. */
  under(rect: Rect): Relief;
}

export class TurnedGround implements Outlook {
  readonly turnRad: number;
  readonly #cos: number;
  readonly #sin: number;
  readonly #grid: Grid;
  /** Sums over all cells south-west of a corner, (cols + 1) × (rows + 1): of the mask, of heights and of their squares. */
  readonly #cells: Uint32Array;
  readonly #heights: Float64Array;
  readonly #squares: Float64Array;
  /** Cells already found, by the parts of the shape. */
  readonly #fits = new Map<string, Int32Array>();
  /** Room for cells being found. */
  readonly #found: Int32Array;
  #datumFt = NaN;
  /** What is looked at: written over from place to place, since tens of thousands are. */
  readonly place = { eastFt: NaN, northFt: NaN, turnRad: NaN };
  readonly #relief = { meanFt: NaN, spreadFt: NaN, riseU: NaN, riseV: NaN };
  #cell = -1;
  #about: 1 | -1 = 1;
  #reliefOf: Rect | null = null;

  constructor(polygons: MultiPolygon, turnRad: number, ground: GroundGrid) {
    this.turnRad = turnRad;
    const cos = Math.cos(turnRad);
    const sin = Math.sin(turnRad);
    this.#cos = cos;
    this.#sin = sin;
    const turned = polygons.map((polygon) =>
      polygon.map((ring) => ring.map(([x, y]): Point => [x * cos + y * sin, -x * sin + y * cos])),
    );
    const box = boxOf(turned.flat(2));
    const width = box.maxEastFt - box.minEastFt;
    const height = box.maxNorthFt - box.minNorthFt;
    const cellFt = Math.max(SMALLEST_CELL_FT, Math.sqrt((width * height) / MOST_CELLS));
    const cols = Math.max(2, Math.ceil(width / cellFt));
    const rows = Math.max(2, Math.ceil(height / cellFt));
    this.#grid = { originEastFt: box.minEastFt, originNorthFt: box.minNorthFt, cellFt, cols, rows };
    this.#found = new Int32Array(cols * rows);
    const mask = scanPolygons(this.#grid, turned).values;
    const size = (cols + 1) * (rows + 1);
    this.#cells = new Uint32Array(size);
    this.#heights = new Float64Array(size);
    this.#squares = new Float64Array(size);
    for (let r = 0; r < rows; r++) {
      let count = 0;
      let sum = 0;
      let squares = 0;
      for (let c = 0; c < cols; c++) {
        if (mask[r * cols + c] === 1) {
          const u = box.minEastFt + (c + 0.5) * cellFt;
          const v = box.minNorthFt + (r + 0.5) * cellFt;
          const z = ground.elevationAt(u * cos - v * sin, u * sin + v * cos);
          if (!Number.isNaN(z)) {
            // squares of heights over the sea would drown the spread
            if (Number.isNaN(this.#datumFt)) this.#datumFt = z;
            const over = z - this.#datumFt;
            count++;
            sum += over;
            squares += over * over;
          }
        }
        const below = r * (cols + 1) + c + 1;
        const at = below + cols + 1;
        this.#cells[at] = this.#cells[below]! + count;
        this.#heights[at] = this.#heights[below]! + sum;
        this.#squares[at] = this.#squares[below]! + squares;
      }
    }
  }

  /** Cells a shape may be centred on so that every cell wholly under it is admissible and surveyed: about `most`, evenly spread. Cells partly under it are not asked: the exact polygons are, later. */
  cellsFor({ house, garage }: FootprintShape, most: number): Int32Array {
    const key = [house, garage].map((r) => (r ? `${r.u0} ${r.v0} ${r.u1} ${r.v1}` : "")).join();
    let cells = this.#fits.get(key);
    if (!cells) {
      const { cellFt } = this.#grid;
      const spans = (garage ? [house, garage] : [house]).map((rect) => span(rect, cellFt));
      cells = this.#findCells(spans, most);
      this.#fits.set(key, cells);
    }
    return cells;
  }

  /** Narrow ground must not be stepped over: where few places turn up, the steps are made smaller. */
  #findCells(spans: readonly Span[], most: number): Int32Array {
    const within = this.#cells[this.#cells.length - 1]!;
    const found = this.#found;
    let stride = Math.max(1, Math.floor(Math.sqrt(within / most)));
    for (;;) {
      const count = this.#cover(spans, stride, found);
      if (stride === 1 || count >= FEW_PLACES * most) return found.slice(0, count);
      stride = Math.ceil(stride / 2);
    }
  }

  /** Writes the cells `stride` apart at which every span lies on admissible ground; how many there are. */
  #cover(spans: readonly Span[], stride: number, into: Int32Array): number {
    const { cols, rows } = this.#grid;
    const w = cols + 1;
    const s = this.#cells;
    let west = 0;
    let east = cols - 1;
    let south = 0;
    let north = rows - 1;
    for (const { c0, c1, r0, r1 } of spans) {
      west = Math.max(west, -c0);
      east = Math.min(east, cols - 1 - c1);
      south = Math.max(south, -r0);
      north = Math.min(north, rows - 1 - r1);
    }
    let count = 0;
    for (let r = south; r <= north; r += stride)
      for (let c = west; c <= east; ) {
        let strides = 0;
        for (let k = 0; strides === 0 && k < spans.length; k++) {
          const { c0, c1, r0, r1 } = spans[k]!;
          const low = (r + r0) * w + c;
          const high = (r + r1 + 1) * w + c;
          const height = r1 + 1 - r0;
          const held = s[high + c1 + 1]! - s[low + c1 + 1]! - s[high + c0]! + s[low + c0]!;
          // a column further at most one column of what lacks is gained
          const lacks = (c1 + 1 - c0) * height - held;
          if (lacks > 0) strides = Math.ceil(lacks / (height * stride));
        }
        if (strides === 0) {
          into[count++] = r * cols + c;
          strides = 1;
        }
        c += strides * stride;
      }
    return count;
  }

  /** Looks at a shape centred on a cell; `about` −1 turns it half round. */
  lookAt(cell: number, about: 1 | -1): void {
    if (cell === this.#cell && about === this.#about) return;
    const { cols, cellFt, originEastFt, originNorthFt } = this.#grid;
    const c = cell % cols;
    const u = originEastFt + (c + 0.5) * cellFt;
    const v = originNorthFt + ((cell - c) / cols + 0.5) * cellFt;
    this.place.eastFt = u * this.#cos - v * this.#sin;
    this.place.northFt = u * this.#sin + v * this.#cos;
    this.place.turnRad = about === 1 ? this.turnRad : this.turnRad + Math.PI;
    this.#cell = cell;
    this.#about = about;
    this.#reliefOf = null;
  }

  /** Place of a shape centred on a cell. */
  placeOf(cell: number, about: 1 | -1): Place {
    this.lookAt(cell, about);
    return { ...this.place };
  }

  under(rect: Rect): Relief {
    if (rect !== this.#reliefOf) this.#read(rect);
    return this.#relief;
  }

  #read(rect: Rect): void {
    const { u0, v0, u1, v1 } = rect;
    const cell = this.#cell;
    const about = this.#about;
    this.#reliefOf = rect;
    const { cols, rows, cellFt } = this.#grid;
    const w = cols + 1;
    const c = cell % cols;
    const r = (cell - c) / cols;
    const middleU = c + 0.5 + (about * (u0 + u1)) / 2 / cellFt;
    const middleV = r + 0.5 + (about * (v0 + v1)) / 2 / cellFt;
    const west = inRange(middleU - (u1 - u0) / 2 / cellFt, 0, cols - 2);
    const east = inRange(middleU + (u1 - u0) / 2 / cellFt, west + 2, cols);
    const south = inRange(middleV - (v1 - v0) / 2 / cellFt, 0, rows - 2);
    const north = inRange(middleV + (v1 - v0) / 2 / cellFt, south + 2, rows);
    const centre = (west + east) >> 1;
    const middle = ((south + north) >> 1) * w;
    const low = south * w;
    const high = north * w;
    const n = this.#sum(this.#cells, west, east, low, high);
    const mean = this.#sum(this.#heights, west, east, low, high) / n;
    const square = this.#sum(this.#squares, west, east, low, high) / n;
    const right = this.#mean(centre, east, low, high);
    const left = this.#mean(west, centre, low, high);
    const upper = this.#mean(west, east, middle, high);
    const lower = this.#mean(west, east, low, middle);
    const relief = this.#relief;
    relief.meanFt = this.#datumFt + mean;
    relief.spreadFt = Math.sqrt(Math.max(0, square - mean * mean));
    relief.riseU = (about * 2 * (right - left)) / ((east - west) * cellFt) || 0;
    relief.riseV = (about * 2 * (upper - lower)) / ((north - south) * cellFt) || 0;
  }

  /** Over the cells of a block; south and north are offsets of rows into the tables. */
  #sum(table: Uint32Array | Float64Array, west: number, east: number, south: number, north: number): number {
    return table[north + east]! - table[south + east]! - table[north + west]! + table[south + west]!;
  }

  #mean(west: number, east: number, south: number, north: number): number {
    const n = this.#sum(this.#cells, west, east, south, north);
    return this.#sum(this.#heights, west, east, south, north) / n;
  }
}

function inRange(edge: number, low: number, high: number): number {
  return Math.max(low, Math.min(high, Math.round(edge)));
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
