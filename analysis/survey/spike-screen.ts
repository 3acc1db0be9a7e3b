/** A quick look over very many shots for those that cannot be ground. */
import type { ShotGrid } from "./shot-grid.js";
import type { GroundPoints } from "./survey.js";

const MEDIAN_TO_SIGMA = 1.4826;
/** Moments of a cell: count, Σx, Σy, Σz, Σxx, Σxy, Σyy, Σxz, Σyz about the middle of the cell's block. */
const MOMENTS = 9;
const SAMPLE = 20_000;

/** Shots farther than `offFt` from the least-squares plane of the 3 × 3 cells round them. A wild shot among the three dozen bends the plane by a few hundredths of itself only. */
export function screenByCells(
  { count, eastFt, northFt, elevFt }: GroundPoints,
  grid: ShotGrid,
  keep: Uint8Array,
  offFt: number,
): { candidates: number[]; usualMisfitFt: number } {
  const { cols, rows, cellFt, cellStart, shots, originEastFt, originNorthFt } = grid;
  // three rows of cells at a time: row r stands at slot r mod 3
  const moments = new Float64Array(3 * cols * MOMENTS);
  const fillRow = (r: number) => {
    const slot = (r % 3) * cols * MOMENTS;
    moments.fill(0, slot, slot + cols * MOMENTS);
    if (r >= rows) return;
    const y0 = originNorthFt + (r + 0.5) * cellFt;
    for (let c = 0; c < cols; c++) {
      const x0 = originEastFt + (c + 0.5) * cellFt;
      const cell = r * cols + c;
      for (let k = cellStart[cell]!; k < cellStart[cell + 1]!; k++) {
        const i = shots[k]!;
        if (keep[i]) addTo(moments, slot + c * MOMENTS, eastFt[i]! - x0, northFt[i]! - y0, elevFt[i]!);
      }
    }
  };
  fillRow(0);
  const candidates: number[] = [];
  const offs: number[] = [];
  const step = Math.max(1, Math.floor(count / SAMPLE));
  const block = new Float64Array(MOMENTS);
  const plane = new Float64Array(3);
  for (let r = 0; r < rows; r++) {
    fillRow(r + 1);
    for (let c = 0; c < cols; c++) {
      const cell = r * cols + c;
      if (cellStart[cell] === cellStart[cell + 1]) continue;
      gatherBlock(moments, cols, rows, c, r, cellFt, block);
      const isPlane = fitPlane(block, plane);
      const [z, east, north] = [plane[0]!, plane[1]!, plane[2]!];
      const x0 = originEastFt + (c + 0.5) * cellFt;
      const y0 = originNorthFt + (r + 0.5) * cellFt;
      for (let k = cellStart[cell]!; k < cellStart[cell + 1]!; k++) {
        const i = shots[k]!;
        if (!keep[i]) continue;
        const off = isPlane
          ? Math.abs(elevFt[i]! - z - east * (eastFt[i]! - x0) - north * (northFt[i]! - y0))
          : Infinity;
        if (off > offFt) candidates.push(i);
        if (isPlane && i % step === 0) offs.push(off);
      }
    }
  }
  const median = Float64Array.from(offs).sort()[offs.length >> 1] ?? 0;
  return { candidates, usualMisfitFt: MEDIAN_TO_SIGMA * median };
}

function addTo(moments: Float64Array, m: number, x: number, y: number, z: number): void {
  moments[m]! += 1;
  moments[m + 1]! += x;
  moments[m + 2]! += y;
  moments[m + 3]! += z;
  moments[m + 4]! += x * x;
  moments[m + 5]! += x * y;
  moments[m + 6]! += y * y;
  moments[m + 7]! += x * z;
  moments[m + 8]! += y * z;
}

/** Sums the moments of nine cells about the middle of the centre one. */
function gatherBlock(
  moments: Float64Array,
  cols: number,
  rows: number,
  col: number,
  row: number,
  cellFt: number,
  block: Float64Array,
): void {
  block.fill(0);
  for (let dr = -1; dr <= 1; dr++)
    for (let dc = -1; dc <= 1; dc++) {
      const c = col + dc;
      const r = row + dr;
      if (c < 0 || r < 0 || c >= cols || r >= rows) continue;
      const m = ((r % 3) * cols + c) * MOMENTS;
      const n = moments[m]!;
      const x = moments[m + 1]!;
      const y = moments[m + 2]!;
      const z = moments[m + 3]!;
      const a = dc * cellFt;
      const b = dr * cellFt;
      block[0]! += n;
      block[1]! += x + n * a;
      block[2]! += y + n * b;
      block[3]! += z;
      block[4]! += moments[m + 4]! + 2 * a * x + n * a * a;
      block[5]! += moments[m + 5]! + a * y + b * x + n * a * b;
      block[6]! += moments[m + 6]! + 2 * b * y + n * b * b;
      block[7]! += moments[m + 7]! + a * z;
      block[8]! += moments[m + 8]! + b * z;
    }
}

/** Enters the least-squares plane of some moments: height at the middle, rise east and north. False where they make none. */
function fitPlane(m: Float64Array, plane: Float64Array): boolean {
  const n = m[0]!;
  if (n < 6) return false;
  const mx = m[1]! / n;
  const my = m[2]! / n;
  const mz = m[3]! / n;
  const xx = m[4]! - n * mx * mx;
  const xy = m[5]! - n * mx * my;
  const yy = m[6]! - n * my * my;
  const xz = m[7]! - n * mx * mz;
  const yz = m[8]! - n * my * mz;
  const det = xx * yy - xy * xy;
  if (!(det > 1e-3 * (xx + yy) ** 2)) return false;
  const east = (xz * yy - yz * xy) / det;
  const north = (yz * xx - xz * xy) / det;
  plane[0] = mz - east * mx - north * my;
  plane[1] = east;
  plane[2] = north;
  return true;
}
