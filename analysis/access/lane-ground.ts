/** The ground as a lane meets it: a coarse grid of heights and of the room beside everything a lane may not touch. */
import { distanceToMask } from "../geometry/distance-transform.js";
import { cellCentre, type Grid, NEIGHBOURS, type Raster } from "../geometry/grid.js";
import { boxOf, type Point, type Ring } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Site } from "../lot/site.js";
import type { LaneGround } from "./access.js";

/** Smallest cell: finer ones cost more than they tell a lane three times as wide. */
const SMALLEST_CELL_FT = 4;
const MOST_CELLS = 6_000;

/** Room beyond this is all the same to a lane. */
const FAR_FT = 200;
/** Cells beyond the lot, so that heights at the lot line can be interpolated. */
const MARGIN_CELLS = 2;
/** The street side of the frontage is no obstacle, this far out. */
const STREET_STRIP_FT = 24;

/** `beyondFt` more than 0: neighbours' ground is open that far out, where the survey shows it. */
export function laneGround(site: Site, openEdges: readonly number[], beyondFt = 0): LaneGround {
  const { terrain, survey } = site;
  const grid = laneGrid(survey.boundary, terrain.elevation.grid, beyondFt);
  const elevFt = meanHeights(terrain.elevation, grid);
  spreadOnce(grid, elevFt);
  const inLot = scanPolygons(grid, [[survey.boundary]]).values;
  const kept = scanPolygons(
    grid,
    survey.noBuild.filter(({ kind }) => kind !== "easement").flatMap(({ polygons }) => polygons),
  ).values;
  const closed = new Uint8Array(inLot.length);
  for (let i = 0; i < closed.length; i++)
    closed[i] =
      kept[i] ||
      (inLot[i] || beyondFt > 0
        ? Number.isNaN(elevFt[i]!)
        : !inStreet(cellCentre(grid, i % grid.cols, Math.floor(i / grid.cols)), survey.boundary, openEdges))
        ? 1
        : 0;
  spreadOnce(grid, elevFt);
  const distance = distanceToMask({ grid, values: closed });
  const clearanceFt = Float32Array.from(distance, (d) => Math.min(FAR_FT, d - grid.cellFt / 2));
  return { grid, elevFt, clearanceFt };
}

/** Whole blocks of the terrain's cells over the lot's box, and what is asked for beyond it. */
function laneGrid(lot: Ring, fine: Grid, beyondFt: number): Grid {
  const on = boxOf(lot);
  const box = {
    minEastFt: on.minEastFt - beyondFt,
    maxEastFt: on.maxEastFt + beyondFt,
    minNorthFt: on.minNorthFt - beyondFt,
    maxNorthFt: on.maxNorthFt + beyondFt,
  };
  const areaFt2 = (box.maxEastFt - box.minEastFt) * (box.maxNorthFt - box.minNorthFt);
  const cellFt =
    fine.cellFt *
    Math.max(
      Math.ceil(SMALLEST_CELL_FT / fine.cellFt),
      Math.ceil(Math.sqrt(areaFt2 / MOST_CELLS) / fine.cellFt),
    );
  const col0 = Math.floor((box.minEastFt - fine.originEastFt) / cellFt) - MARGIN_CELLS;
  const row0 = Math.floor((box.minNorthFt - fine.originNorthFt) / cellFt) - MARGIN_CELLS;
  return {
    originEastFt: fine.originEastFt + col0 * cellFt,
    originNorthFt: fine.originNorthFt + row0 * cellFt,
    cellFt,
    cols: Math.ceil((box.maxEastFt - fine.originEastFt) / cellFt) + MARGIN_CELLS - col0,
    rows: Math.ceil((box.maxNorthFt - fine.originNorthFt) / cellFt) + MARGIN_CELLS - row0,
  };
}

/** Mean of the known fine cells in each coarse one. */
function meanHeights({ grid: fine, values }: Raster, grid: Grid): Float32Array {
  const times = Math.round(grid.cellFt / fine.cellFt);
  const colShift = Math.round((fine.originEastFt - grid.originEastFt) / fine.cellFt);
  const rowShift = Math.round((fine.originNorthFt - grid.originNorthFt) / fine.cellFt);
  const sum = new Float64Array(grid.cols * grid.rows);
  const count = new Uint32Array(sum.length);
  for (let row = 0; row < fine.rows; row++) {
    const r = Math.floor((row + rowShift) / times);
    if (r < 0 || r >= grid.rows) continue;
    for (let col = 0; col < fine.cols; col++) {
      const c = Math.floor((col + colShift) / times);
      const z = values[row * fine.cols + col]!;
      if (c < 0 || c >= grid.cols || Number.isNaN(z)) continue;
      sum[r * grid.cols + c]! += z;
      count[r * grid.cols + c]!++;
    }
  }
  return Float32Array.from(sum, (s, i) => (count[i]! > 0 ? s / count[i]! : NaN));
}

/** Gives unknown cells beside known ones a height: the neighbour's, carried on with the neighbour's own fall. */
function spreadOnce(grid: Grid, elevFt: Float32Array): void {
  const { cols, rows } = grid;
  const before = elevFt.slice();
  const at = (col: number, row: number) =>
    col >= 0 && row >= 0 && col < cols && row < rows ? before[row * cols + col]! : NaN;
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      if (!Number.isNaN(before[row * cols + col])) continue;
      let sum = 0;
      let count = 0;
      for (const [dc, dr] of NEIGHBOURS) {
        const near = at(col + dc, row + dr);
        if (Number.isNaN(near)) continue;
        const next = at(col + 2 * dc, row + 2 * dr);
        sum += !Number.isNaN(next) ? 2 * near - next : near;
        count++;
      }
      if (count > 0) elevFt[row * cols + col] = sum / count;
    }
}

/** Straight out from an open lot line, no farther than the street strip. */
function inStreet([x, y]: Point, lot: Ring, openEdges: readonly number[]): boolean {
  return openEdges.some((i) => {
    const [ax, ay] = lot[i]!;
    const [bx, by] = lot[(i + 1) % lot.length]!;
    const length = Math.hypot(bx - ax, by - ay);
    const along = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length;
    const out = ((x - ax) * (by - ay) - (y - ay) * (bx - ax)) / length;
    return along >= 0 && along <= length && out >= -1 && out <= STREET_STRIP_FT;
  });
}
