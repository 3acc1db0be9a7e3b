/** Filling grids from polygons and triangles, row by row. A cell belongs to what holds its centre; shared edges give each centre to one side only. */
import type { Grid, Mask } from "./grid.js";
import type { MultiPolygon } from "./plane.js";

/** 1 where the cell centre lies inside the polygons, which must not overlap one another. */
export function scanPolygons(grid: Grid, polygons: MultiPolygon): Mask {
  const { cols, rows, cellFt, originNorthFt } = grid;
  const values = new Uint8Array(cols * rows);
  // how many sides cross each row of centres, then where: all rows in one array
  const start = new Uint32Array(rows + 2);
  for (const polygon of polygons)
    for (const ring of polygon)
      for (let i = 0; i < ring.length; i++) {
        const ay = ring[i]![1];
        const by = ring[i + 1 < ring.length ? i + 1 : 0]![1];
        const last = lastRow(grid, Math.max(ay, by));
        for (let row = firstRow(grid, Math.min(ay, by)); row <= last; row++) start[row + 2]!++;
      }
  for (let row = 2; row <= rows + 1; row++) start[row]! += start[row - 1]!;
  const crossings = new Float64Array(start[rows + 1]!);
  for (const polygon of polygons)
    for (const ring of polygon)
      for (let i = 0; i < ring.length; i++) {
        const a = ring[i]!;
        const b = ring[i + 1 < ring.length ? i + 1 : 0]!;
        const last = lastRow(grid, Math.max(a[1], b[1]));
        for (let row = firstRow(grid, Math.min(a[1], b[1])); row <= last; row++)
          crossings[start[row + 1]!++] = crossingAt(
            originNorthFt + (row + 0.5) * cellFt,
            a[0],
            a[1],
            b[0],
            b[1],
          );
      }
  for (let row = 0; row < rows; row++) {
    const xs = crossings.subarray(start[row]!, start[row + 1]!).sort();
    for (let k = 0; k + 1 < xs.length; k += 2) {
      const first = firstCol(grid, xs[k]!);
      const last = lastCol(grid, xs[k + 1]!);
      if (first <= last) values.fill(1, row * cols + first, row * cols + last + 1);
    }
  }
  return { grid, values };
}

/** Calls `put(firstIndex, lastIndex, firstEastFt, northFt)` for each run of cells whose centres lie in the triangle. */
export function scanTriangle(
  grid: Grid,
  ax: number,
  ay: number,
  bx: number,
  by: number,
  cx: number,
  cy: number,
  put: (first: number, last: number, eastFt: number, northFt: number) => void,
): void {
  const last = lastRow(grid, Math.max(ay, by, cy));
  for (let row = firstRow(grid, Math.min(ay, by, cy)); row <= last; row++) {
    const y = grid.originNorthFt + (row + 0.5) * grid.cellFt;
    let west = Infinity;
    let east = -Infinity;
    if (ay > y !== by > y) {
      const x = crossingAt(y, ax, ay, bx, by);
      if (x < west) west = x;
      if (x > east) east = x;
    }
    if (by > y !== cy > y) {
      const x = crossingAt(y, bx, by, cx, cy);
      if (x < west) west = x;
      if (x > east) east = x;
    }
    if (cy > y !== ay > y) {
      const x = crossingAt(y, cx, cy, ax, ay);
      if (x < west) west = x;
      if (x > east) east = x;
    }
    if (!(west < east)) continue;
    const from = firstCol(grid, west);
    const to = lastCol(grid, east);
    if (from <= to)
      put(row * grid.cols + from, row * grid.cols + to, grid.originEastFt + (from + 0.5) * grid.cellFt, y);
  }
}

/** The same number whichever way round the edge is given, so that neighbours agree to the last bit. */
function crossingAt(y: number, ax: number, ay: number, bx: number, by: number): number {
  return ay < by ? ax + ((y - ay) / (by - ay)) * (bx - ax) : bx + ((y - by) / (ay - by)) * (ax - bx);
}

/** First row whose centre is at or above `south`. */
function firstRow({ originNorthFt, cellFt }: Grid, south: number): number {
  return Math.max(0, Math.ceil((south - originNorthFt) / cellFt - 0.5));
}

/** Last row whose centre is below `north`. */
function lastRow({ originNorthFt, cellFt, rows }: Grid, north: number): number {
  return Math.min(rows - 1, Math.ceil((north - originNorthFt) / cellFt - 0.5) - 1);
}

function firstCol({ originEastFt, cellFt }: Grid, west: number): number {
  return Math.max(0, Math.ceil((west - originEastFt) / cellFt - 0.5));
}

function lastCol({ originEastFt, cellFt, cols }: Grid, east: number): number {
  return Math.min(cols - 1, Math.ceil((east - originEastFt) / cellFt - 0.5) - 1);
}
