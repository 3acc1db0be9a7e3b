/** Outlines of a raster at several heights from one reading, by marching squares: the outlines d3-contour draws, for what is drawn once a scheme. */
import type { Grid, Raster } from "./grid.js";
import type { MultiPolygon, Point, Polygon, Ring } from "./plane.js";
import { signedAreaFt2 } from "./plane.js";

/**
 * For each threshold the ground where the raster is at least that, as `outlineAtLeast` outlines it: through cell centres
 * by linear interpolation, cells without a value below everything, corners that only touch kept apart.
 */
export function nestedOutlines(raster: Raster, thresholds: readonly number[]): MultiPolygon[] {
  const frame = frameAtLeast(raster, Math.min(...thresholds));
  if (!frame) return thresholds.map(() => []);
  const next = new Int32Array(2 * frame.values.length);
  return thresholds.map((threshold) => polygonsOf(frame, threshold, next));
}

/** Part of a raster with a cell of nothing around it; `west` and `south` count in the raster's cells. */
interface Frame {
  readonly grid: Grid;
  readonly west: number;
  readonly south: number;
  readonly cols: number;
  readonly rows: number;
  /** −∞ where there is none. */
  readonly values: Float64Array;
}

/** The part that holds every cell at or over a threshold; null where there are none. */
function frameAtLeast({ grid, values }: Raster, threshold: number): Frame | null {
  let [west, east, south, north] = [grid.cols, -1, grid.rows, -1];
  for (let row = 0, i = 0; row < grid.rows; row++)
    for (let col = 0; col < grid.cols; col++, i++) {
      if (!(values[i]! >= threshold)) continue;
      if (col < west) west = col;
      if (col > east) east = col;
      if (row < south) south = row;
      north = row;
    }
  if (east < 0) return null;
  const cols = east - west + 3;
  const rows = north - south + 3;
  const framed = new Float64Array(cols * rows).fill(-Infinity);
  for (let row = Math.max(0, south - 1); row <= Math.min(grid.rows - 1, north + 1); row++)
    for (let col = Math.max(0, west - 1); col <= Math.min(grid.cols - 1, east + 1); col++) {
      const value = values[row * grid.cols + col]!;
      if (!Number.isNaN(value)) framed[(row - south + 1) * cols + col - west + 1] = value;
    }
  return { grid, west: west - 1, south: south - 1, cols, rows, values: framed };
}

/**
 * Sides of a square of four cell centres that an outline comes in and goes out by, by which of the centres lie at or over
 * the threshold: north-west counts 1, north-east 2, south-east 4, south-west 8. The ground lies to the right.
 */
const [SOUTH, EAST, NORTH, WEST] = [0, 1, 2, 3];
const IN = [0, NORTH, EAST, EAST, SOUTH, NORTH, SOUTH, SOUTH, WEST, NORTH, WEST, EAST, WEST, NORTH, WEST, 0];
const OUT = [0, WEST, NORTH, WEST, EAST, WEST, NORTH, WEST, SOUTH, SOUTH, SOUTH, SOUTH, EAST, EAST, NORTH, 0];
/** The second of two outlines through squares whose opposite corners lie over it. */
const ALSO_IN: Readonly<Record<number, number>> = { 5: SOUTH, 10: EAST };
const ALSO_OUT: Readonly<Record<number, number>> = { 5: EAST, 10: NORTH };

/**
 * Crossings are numbered by the cell centre they lie east (2k) or north (2k + 1) of.
 *
 * @param next room for the crossing that follows each, all 0; left so
 */
function polygonsOf(frame: Frame, threshold: number, next: Int32Array): MultiPolygon {
  const { cols, rows, values } = frame;
  const side = [0, 3, 2 * cols, 1];
  const starts: number[] = [];
  for (let row = 0; row + 1 < rows; row++) {
    let which = 0;
    for (let k = row * cols, last = k + cols - 1; k < last; k++) {
      // what was east is west now
      which =
        ((which & 2) >> 1) |
        ((which & 4) << 1) |
        (values[k + cols + 1]! >= threshold ? 2 : 0) |
        (values[k + 1]! >= threshold ? 4 : 0);
      if (which === 0 || which === 15) continue;
      const start = 2 * k + side[IN[which]!]!;
      next[start] = 2 * k + side[OUT[which]!]!;
      starts.push(start);
      if (which !== 5 && which !== 10) continue;
      const also = 2 * k + side[ALSO_IN[which]!]!;
      next[also] = 2 * k + side[ALSO_OUT[which]!]!;
      starts.push(also);
    }
  }
  const outers: { readonly polygon: Ring[]; readonly from: number }[] = [];
  const holes: { readonly ring: Ring; readonly from: number }[] = [];
  for (let s = starts.length - 1; s >= 0; s--) {
    const from = next[starts[s]!]!;
    if (from === 0) continue;
    const ring: Point[] = [];
    for (let at = from; ; ) {
      ring.push(placeOf(frame, at, threshold));
      const then = next[at]!;
      next[at] = 0;
      if (then === from) break;
      at = then;
    }
    const outer = signedAreaFt2(ring) < 0;
    ring.reverse();
    if (outer) outers.push({ polygon: [ring], from });
    else holes.push({ ring, from });
  }
  for (const { ring, from } of holes.reverse()) {
    const around = connectedTo(frame, groundAt(frame, from, threshold), threshold);
    outers.find((one) => around.has(groundAt(frame, one.from, threshold)))?.polygon.push(ring);
  }
  return outers.reverse().map(({ polygon }): Polygon => polygon);
}

function placeOf({ grid, west, south, cols, values }: Frame, crossing: number, threshold: number): Point {
  const k = crossing >> 1;
  const col = west + (k % cols) + 0.5;
  const row = south + Math.floor(k / cols) + 0.5;
  const from = values[k]!;
  const isNorth = crossing & 1;
  const to = values[isNorth ? k + cols : k + 1]!;
  // beside nothing the outline runs through the centre of the cell that has a value
  const share = from === -Infinity ? 1 : (threshold - from) / (to - from);
  return [
    grid.originEastFt + (isNorth ? col : col + share) * grid.cellFt,
    grid.originNorthFt + (isNorth ? row + share : row) * grid.cellFt,
  ];
}

/** The cell at or over the threshold beside a crossing. */
function groundAt({ cols, values }: Frame, crossing: number, threshold: number): number {
  const k = crossing >> 1;
  if (values[k]! >= threshold) return k;
  return crossing & 1 ? k + cols : k + 1;
}

/** Cells at or over the threshold that are reached from one of them side by side. */
function connectedTo({ cols, values }: Frame, from: number, threshold: number): Set<number> {
  const reached = new Set([from]);
  for (const k of reached)
    for (const near of [k - 1, k + 1, k - cols, k + cols]) if (values[near]! >= threshold) reached.add(near);
  return reached;
}
