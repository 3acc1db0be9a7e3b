/** The ground on a grid: for drawing, flow and searching. */
import type { Grid, Raster } from "../geometry/grid.js";
import { boxOf, type Ring } from "../geometry/plane.js";
import { scanTriangle } from "../geometry/scan.js";
import { SQUARE_FEET_PER_ACRE } from "../units.js";
import { facetSlopePct } from "./facet-index.js";
import type { Tin } from "./terrain.js";

/** Cell on a one-acre lot; it grows with the fourth root of the area, in half feet, so that cells stay affordable. */
const CELL_ON_AN_ACRE_FT = 2;
/** Ground beside the lot that is drawn and searched for water, as a share of the lot's width. */
const MARGIN_SHARE = 0.5;

/** The lot's box with a margin as far as the survey reaches, in whole cells counted from the lot's south-west corner. */
export function gridOver(lot: Ring, lotAreaFt2: number, tin: Pick<Tin, "index">): Grid {
  const cellFt = Math.max(
    1,
    Math.round(2 * CELL_ON_AN_ACRE_FT * (lotAreaFt2 / SQUARE_FEET_PER_ACRE) ** 0.25) / 2,
  );
  const box = boxOf(lot);
  const { originEastFt, originNorthFt, cellFt: bucketFt, cols, rows } = tin.index;
  const most = Math.ceil((MARGIN_SHARE * Math.sqrt(lotAreaFt2)) / cellFt);
  const margin = (reachFt: number) => Math.min(most, Math.max(1, Math.ceil(reachFt / cellFt)));
  const west = margin(box.minEastFt - originEastFt);
  const south = margin(box.minNorthFt - originNorthFt);
  const east = margin(originEastFt + cols * bucketFt - box.maxEastFt);
  const north = margin(originNorthFt + rows * bucketFt - box.maxNorthFt);
  return {
    originEastFt: box.minEastFt - west * cellFt,
    originNorthFt: box.minNorthFt - south * cellFt,
    cellFt,
    cols: west + east + Math.ceil((box.maxEastFt - box.minEastFt) / cellFt),
    rows: south + north + Math.ceil((box.maxNorthFt - box.minNorthFt) / cellFt),
  };
}

/** Height and facet steepness (percent) at cell centres on supported facets. */
export function rasteriseGround(tin: Tin, grid: Grid): { elevation: Raster; slope: Raster } {
  const { eastFt, northFt, elevFt, triangles, supported, gradEast, gradNorth } = tin;
  const elevation = new Float32Array(grid.cols * grid.rows).fill(NaN);
  const slope = new Float32Array(grid.cols * grid.rows).fill(NaN);
  let facet = 0;
  const put = (first: number, last: number, x: number, y: number) => {
    const a = triangles[3 * facet]!;
    const z = elevFt[a]! + gradEast[facet]! * (x - eastFt[a]!) + gradNorth[facet]! * (y - northFt[a]!);
    const riseFt = gradEast[facet]! * grid.cellFt;
    const steepPct = facetSlopePct(tin, facet);
    for (let i = first; i <= last; i++) {
      elevation[i] = z + (i - first) * riseFt;
      slope[i] = steepPct;
    }
  };
  const centre = centresBefore(tin, grid);
  for (; facet < tin.facetCount; facet++) {
    if (!supported[facet]) continue;
    const a = triangles[3 * facet]!;
    const b = triangles[3 * facet + 1]!;
    const c = triangles[3 * facet + 2]!;
    // small facets mostly hold no centre: no row of centres, or no column, lies between their corners
    const between = (centre[a]! ^ centre[b]!) | (centre[a]! ^ centre[c]!);
    if (between < ROW || between % ROW === 0) continue;
    scanTriangle(grid, eastFt[a]!, northFt[a]!, eastFt[b]!, northFt[b]!, eastFt[c]!, northFt[c]!, put);
  }
  return { elevation: { grid, values: elevation }, slope: { grid, values: slope } };
}

/** Rows of centres are counted in units of this. */
const ROW = 2 ** 15;

/** How many columns and rows of cell centres lie before each shot, in one number; those beyond the grid are not told apart. */
function centresBefore({ eastFt, northFt }: Tin, grid: Grid): Uint32Array {
  const before = new Uint32Array(eastFt.length);
  const most = ROW - 1;
  for (let v = 0; v < before.length; v++) {
    const col = Math.ceil((eastFt[v]! - grid.originEastFt) / grid.cellFt - 0.5);
    const row = Math.ceil((northFt[v]! - grid.originNorthFt) / grid.cellFt - 0.5);
    before[v] = Math.min(most, Math.max(0, row)) * ROW + Math.min(most, Math.max(0, col));
  }
  return before;
}
