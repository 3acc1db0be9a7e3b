/** A grid of heights as triangles, so that smoothed ground is contoured by the same exact tracing as facets are. */
import type { Raster } from "../geometry/grid.js";
import type { Box } from "../geometry/plane.js";
import { indexFacets } from "./facet-index.js";
import type { Tin } from "./terrain.js";

export type ContourMesh = Pick<
  Tin,
  "eastFt" | "northFt" | "elevFt" | "triangles" | "halfedges" | "index" | "supported"
>;

/**
 * Two triangles, parted from south-west to north-east, for every four cell centres; unsupported where one of them has no
 * ground. Reaches over the box, as far as the grid does.
 */
export function meshOfGrid({ grid, values }: Raster, box: Box): ContourMesh {
  const { cellFt, originEastFt, originNorthFt } = grid;
  const before = (ft: number) => Math.max(0, Math.floor(ft / cellFt - 0.5));
  const west = before(box.minEastFt - originEastFt);
  const south = before(box.minNorthFt - originNorthFt);
  const cols = Math.min(grid.cols, before(box.maxEastFt - originEastFt) + 2) - west;
  const rows = Math.min(grid.rows, before(box.maxNorthFt - originNorthFt) + 2) - south;
  const eastFt = new Float64Array(cols * rows);
  const northFt = new Float64Array(cols * rows);
  const elevFt = new Float64Array(cols * rows);
  for (let row = 0, v = 0; row < rows; row++)
    for (let col = 0; col < cols; col++, v++) {
      eastFt[v] = originEastFt + (west + col + 0.5) * cellFt;
      northFt[v] = originNorthFt + (south + row + 0.5) * cellFt;
      elevFt[v] = values[(south + row) * grid.cols + west + col]!;
    }
  const across = cols - 1;
  const facetCount = 2 * across * (rows - 1);
  const triangles = new Uint32Array(3 * facetCount);
  const halfedges = new Int32Array(3 * facetCount).fill(-1);
  const supported = new Uint8Array(facetCount);
  for (let row = 0; row + 1 < rows; row++)
    for (let col = 0; col < across; col++) {
      const sw = row * cols + col;
      const lower = 2 * (row * across + col); // sw, se, ne; the upper one is sw, ne, nw
      triangles[3 * lower] = sw;
      triangles[3 * lower + 1] = sw + 1;
      triangles[3 * lower + 2] = sw + cols + 1;
      triangles[3 * lower + 3] = sw;
      triangles[3 * lower + 4] = sw + cols + 1;
      triangles[3 * lower + 5] = sw + cols;
      halfedges[3 * lower + 2] = 3 * lower + 3;
      halfedges[3 * lower + 3] = 3 * lower + 2;
      if (row > 0) pair(halfedges, 3 * lower, 3 * (lower - 2 * across) + 4);
      if (col > 0) pair(halfedges, 3 * lower + 5, 3 * (lower - 2) + 1);
      const diagonal = elevFt[sw]! + elevFt[sw + cols + 1]!;
      supported[lower] = Number.isNaN(diagonal + elevFt[sw + 1]!) ? 0 : 1;
      supported[lower + 1] = Number.isNaN(diagonal + elevFt[sw + cols]!) ? 0 : 1;
    }
  return {
    eastFt,
    northFt,
    elevFt,
    triangles,
    halfedges,
    supported,
    index: indexFacets({ eastFt, northFt, triangles }),
  };
}

function pair(halfedges: Int32Array, a: number, b: number): void {
  halfedges[a] = b;
  halfedges[b] = a;
}
