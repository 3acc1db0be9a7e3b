/** Where a buried pipe can run out by gravity on the lot. */
import FlatQueue from "flatqueue";
import type { GradedGround } from "../earthwork/earthwork.js";
import { cellCentre, type Grid, NEIGHBOUR_COL, NEIGHBOUR_ROW, type Raster } from "../geometry/grid.js";
import { distanceToRingFt, type Point, type Ring, ringContains } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Site } from "../lot/site.js";

export interface Outlet {
  readonly groundFt: number;
  readonly runFt: number;
  readonly route: readonly Point[];
  readonly toLineFt: number;
}

/**
 * Shortest ways through the lot from the faces of the house to its cells, around the house: Dijkstra over the eight
 * neighbours, from cells beside the footprint through cells of the lot outside it, as far as anybody asks.
 */
export class WaysOut {
  readonly distanceFt: Float64Array;
  readonly from: Int32Array;
  readonly #grid: Grid;
  /** Cells reached, nearest first. */
  readonly #reached: number[] = [];
  readonly #queue = new FlatQueue<number>();
  readonly #open: Uint8Array;

  constructor({ terrain, survey }: Site, footprint: Ring) {
    const { grid, values } = terrain.elevation;
    const { cols, cellFt } = grid;
    const open = scanPolygons(grid, [[survey.boundary]]).values;
    const house = scanPolygons(grid, [[footprint]]).values;
    const count = open.length;
    this.#grid = grid;
    this.#open = open;
    this.distanceFt = new Float64Array(count).fill(Infinity);
    this.from = new Int32Array(count).fill(-1);
    for (let cell = 0; cell < count; cell++) if (house[cell] || Number.isNaN(values[cell]!)) open[cell] = 0;
    for (let cell = 0; cell < count; cell++) {
      if (!open[cell]) continue;
      const col = cell % cols;
      const isBeside =
        (col > 0 && house[cell - 1]) ||
        (col + 1 < cols && house[cell + 1]) ||
        (cell >= cols && house[cell - cols]) ||
        (cell + cols < count && house[cell + cols]);
      if (!isBeside) continue;
      this.distanceFt[cell] = cellFt / 2;
      this.#queue.push(cell, cellFt / 2);
    }
  }

  /** The cells, nearest first, each with its way known when it is told. */
  *nearestFirst(): Generator<number> {
    for (let k = 0; ; k++) {
      const cell = this.#reached[k] ?? this.#settle();
      if (cell < 0) return;
      yield cell;
    }
  }

  /** Settles the next cell; −1 when all are. */
  #settle(): number {
    const { cols, rows, cellFt } = this.#grid;
    const { distanceFt, from } = this;
    const open = this.#open;
    while (this.#queue.length > 0) {
      const cell = this.#queue.pop()!;
      if (!open[cell]) continue;
      open[cell] = 0;
      const col = cell % cols;
      const row = (cell - col) / cols;
      for (let k = 0; k < 8; k++) {
        const nextCol = col + NEIGHBOUR_COL[k]!;
        const nextRow = row + NEIGHBOUR_ROW[k]!;
        if (nextCol < 0 || nextRow < 0 || nextCol >= cols || nextRow >= rows) continue;
        const next = nextRow * cols + nextCol;
        if (!open[next]) continue;
        const reach = distanceFt[cell]! + cellFt * (k % 2 === 0 ? 1 : Math.SQRT2);
        if (reach >= distanceFt[next]!) continue;
        distanceFt[next] = reach;
        from[next] = cell;
        this.#queue.push(next, reach);
      }
      this.#reached.push(cell);
      return cell;
    }
    return -1;
  }
}

/** Water is let out beyond the strip that falls away from a house: 10 ft (IRC R401.3; of roof water R801.3 asks 5 ft, from memory). */
export const OUTLET_FROM_HOUSE_FT = 10;

/**
 * Nearest cell whose natural ground lies at or below the pipe that leaves the house at `invertFt` and falls at `slope`;
 * on ground that is not dug or filled, and far enough from the house and the lot line. When only ground near the line is low enough,
 * that is returned (its distance says so). Null when no ground of the lot is low enough: a pump.
 */
export function outletFor(
  site: Site,
  ways: WaysOut,
  {
    invertFt,
    slope,
    fromLineFt,
    graded,
    footprint,
    only = () => true,
  }: {
    invertFt: number;
    slope: number;
    fromLineFt: number;
    graded: GradedGround;
    footprint: Ring;
    /** Where it may come out at all. */
    only?: (at: Point) => boolean;
  },
): Outlet | null {
  const { grid, values } = site.terrain.elevation;
  let nearLine: number | null = null;
  for (const cell of ways.nearestFirst()) {
    if (ways.distanceFt[cell]! < OUTLET_FROM_HOUSE_FT) continue;
    if (values[cell]! > invertFt - slope * ways.distanceFt[cell]!) continue;
    const at = cellCentre(grid, cell % grid.cols, Math.floor(cell / grid.cols));
    if (isTouched(graded.depth, at) || !only(at)) continue;
    if (distanceToRingFt(site.survey.boundary, at) >= fromLineFt)
      return outletAt(site, ways, cell, footprint);
    nearLine ??= cell;
  }
  return nearLine === null ? null : outletAt(site, ways, nearLine, footprint);
}

function outletAt(site: Site, ways: WaysOut, cell: number, footprint: Ring): Outlet {
  const { grid, values } = site.terrain.elevation;
  const centre = (c: number): Point => cellCentre(grid, c % grid.cols, Math.floor(c / grid.cols));
  const steps: Point[] = [];
  for (let c = cell; c >= 0; c = ways.from[c]!) steps.push(centre(c));
  const route = straightened(steps.reverse(), site.survey.boundary, footprint);
  const runFt = route
    .slice(1)
    .reduce((sum, p, i) => sum + Math.hypot(p[0] - route[i]![0], p[1] - route[i]![1]), 0);
  return {
    groundFt: values[cell]!,
    runFt,
    route,
    toLineFt: distanceToRingFt(site.survey.boundary, centre(cell)),
  };
}

/** Bends kept only where a straight pipe would leave the lot or run under the house. */
function straightened(steps: readonly Point[], lot: Ring, house: Ring): Point[] {
  const route: Point[] = [steps[0]!];
  let at = 0;
  while (at < steps.length - 1) {
    let next = steps.length - 1;
    while (next > at + 1 && !clear(steps[at]!, steps[next]!, lot, house)) next--;
    route.push(steps[next]!);
    at = next;
  }
  return route;
}

function clear(a: Point, b: Point, lot: Ring, house: Ring): boolean {
  const lengthFt = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const looks = Math.max(2, Math.ceil(lengthFt / 2));
  for (let i = 1; i < looks; i++) {
    const p: Point = [a[0] + (i / looks) * (b[0] - a[0]), a[1] + (i / looks) * (b[1] - a[1])];
    if (!ringContains(lot, p) || ringContains(house, p)) return false;
  }
  return true;
}

function isTouched({ grid, values }: Raster, [east, north]: Point): boolean {
  const col = Math.floor((east - grid.originEastFt) / grid.cellFt);
  const row = Math.floor((north - grid.originNorthFt) / grid.cellFt);
  return (
    col >= 0 &&
    row >= 0 &&
    col < grid.cols &&
    row < grid.rows &&
    !Number.isNaN(values[row * grid.cols + col]!)
  );
}
