/** A square grid over the lot. Row 0 lies south, column 0 west; values sit at cell centres, index = row * cols + col. */
export interface Grid {
  /** South-west corner of cell (0, 0). */
  readonly originEastFt: number;
  readonly originNorthFt: number;
  readonly cellFt: number;
  readonly cols: number;
  readonly rows: number;
}

/** NaN where there is no value. */
export interface Raster {
  readonly grid: Grid;
  readonly values: Float32Array;
}

export interface Mask {
  readonly grid: Grid;
  /** 1 inside, 0 outside. */
  readonly values: Uint8Array;
}

export function cellCentre(grid: Grid, col: number, row: number): readonly [number, number] {
  return [grid.originEastFt + (col + 0.5) * grid.cellFt, grid.originNorthFt + (row + 0.5) * grid.cellFt];
}

/** The eight neighbours of a cell, counter-clockwise from the east: even numbers straight, odd ones diagonal. */
export const NEIGHBOUR_COL = [1, 1, 0, -1, -1, -1, 0, 1] as const;
export const NEIGHBOUR_ROW = [0, 1, 1, 1, 0, -1, -1, -1] as const;
/** The same as steps [columns, rows]. */
export const NEIGHBOURS = NEIGHBOUR_COL.map((cols, k) => [cols, NEIGHBOUR_ROW[k]!] as const);
