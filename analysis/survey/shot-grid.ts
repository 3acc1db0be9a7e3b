/** Which shots are near a place: shots sorted into square cells of a few shots each. */
import type { GroundPoints } from "./survey.js";

const SHOTS_PER_CELL = 3;
/** Cells looked through in each direction before the search gives up on sparse ground. */
const FARTHEST_RING = 64;

export interface ShotGrid {
  readonly originEastFt: number;
  readonly originNorthFt: number;
  readonly cellFt: number;
  readonly cols: number;
  readonly rows: number;
  /** Shots of cell c are `shots[cellStart[c]]` up to `shots[cellStart[c + 1]]`. */
  readonly cellStart: Uint32Array;
  readonly shots: Uint32Array;
}

/** Cells over the kept shots. */
export function gridOfShots({ count, eastFt, northFt }: GroundPoints, keep: Uint8Array): ShotGrid {
  let [minX, maxX, minY, maxY] = [Infinity, -Infinity, Infinity, -Infinity];
  let kept = 0;
  for (let i = 0; i < count; i++) {
    if (!keep[i]) continue;
    kept++;
    const x = eastFt[i]!;
    const y = northFt[i]!;
    if (x < minX) minX = x;
    if (x > maxX) maxX = x;
    if (y < minY) minY = y;
    if (y > maxY) maxY = y;
  }
  if (kept === 0) [minX, maxX, minY, maxY] = [0, 0, 0, 0];
  const width = Math.max(maxX - minX, 1e-6);
  const height = Math.max(maxY - minY, 1e-6);
  const wanted = Math.max(1, kept / SHOTS_PER_CELL);
  // long thin surveys: never more cells than wanted in either direction
  const cellFt = Math.max(Math.sqrt((width * height) / wanted), Math.max(width, height) / wanted);
  const cols = Math.floor(width / cellFt) + 1;
  const rows = Math.floor(height / cellFt) + 1;
  const cellStart = new Uint32Array(cols * rows + 1);
  const cellOf = new Uint32Array(count);
  for (let i = 0; i < count; i++) {
    if (!keep[i]) continue;
    const c = Math.floor((northFt[i]! - minY) / cellFt) * cols + Math.floor((eastFt[i]! - minX) / cellFt);
    cellOf[i] = c;
    cellStart[c + 1]!++;
  }
  for (let c = 0; c < cols * rows; c++) cellStart[c + 1]! += cellStart[c]!;
  const next = cellStart.slice();
  const shots = new Uint32Array(kept);
  for (let i = 0; i < count; i++) if (keep[i]) shots[next[cellOf[i]!]!++] = i;
  return { originEastFt: minX, originNorthFt: minY, cellFt, cols, rows, cellStart, shots };
}

/** The nearest shots found by the last search, nearest first. Made once, used for many searches. */
export interface Nearest {
  count: number;
  readonly shots: Uint32Array;
  readonly distance2: Float64Array;
}

export function roomForNearest(most: number): Nearest {
  return { count: 0, shots: new Uint32Array(most), distance2: new Float64Array(most) };
}

/** Fills `nearest` with the shots nearest to shot i, leaving out i itself and those not kept. */
export function findNearest(
  grid: ShotGrid,
  { eastFt, northFt }: GroundPoints,
  keep: Uint8Array,
  i: number,
  nearest: Nearest,
): void {
  const x = eastFt[i]!;
  const y = northFt[i]!;
  const { cols, rows, cellFt, cellStart, shots } = grid;
  const col = Math.floor((x - grid.originEastFt) / cellFt);
  const row = Math.floor((y - grid.originNorthFt) / cellFt);
  const xInCell = x - grid.originEastFt - col * cellFt;
  const yInCell = y - grid.originNorthFt - row * cellFt;
  const most = nearest.shots.length;
  nearest.count = 0;
  // squared distance that a shot must be nearer than
  let within = Infinity;
  const lastRing = Math.min(FARTHEST_RING, Math.max(cols, rows));
  for (let ring = 0; ring <= lastRing; ring++) {
    // nothing in this ring can be nearer than its inner edge
    const inner = (ring - 1) * cellFt;
    if (ring > 0 && within <= inner * inner) return;
    for (let r = Math.max(0, row - ring); r <= Math.min(rows - 1, row + ring); r++) {
      const dy = toCell(row - r, yInCell, cellFt);
      if (dy * dy >= within) continue;
      const step = r === row - ring || r === row + ring ? 1 : 2 * ring;
      for (let c = col - ring; c <= col + ring; c += step) {
        if (c < 0 || c >= cols) continue;
        const dx = toCell(col - c, xInCell, cellFt);
        if (dx * dx + dy * dy >= within) continue;
        const cell = r * cols + c;
        for (let k = cellStart[cell]!; k < cellStart[cell + 1]!; k++) {
          const j = shots[k]!;
          const runEast = eastFt[j]! - x;
          const runNorth = northFt[j]! - y;
          const distance2 = runEast * runEast + runNorth * runNorth;
          if (distance2 >= within || j === i || !keep[j]) continue;
          insert(nearest, j, distance2);
          if (nearest.count === most) within = nearest.distance2[most - 1]!;
        }
      }
    }
  }
}

/** How far a place in its cell is from a cell so many to the left or below (or, negative, the other way), along one axis. */
function toCell(cellsBack: number, inCell: number, cellFt: number): number {
  if (cellsBack === 0) return 0;
  return cellsBack > 0 ? inCell + (cellsBack - 1) * cellFt : -cellsBack * cellFt - inCell;
}

/** Puts a shot in its place; the farthest falls out when there is no room. */
function insert(nearest: Nearest, shot: number, distance2: number): void {
  const { shots, distance2: distances } = nearest;
  let k = nearest.count < shots.length ? nearest.count++ : shots.length - 1;
  while (k > 0 && distances[k - 1]! > distance2) {
    distances[k] = distances[k - 1]!;
    shots[k] = shots[k - 1]!;
    k--;
  }
  distances[k] = distance2;
  shots[k] = shot;
}
