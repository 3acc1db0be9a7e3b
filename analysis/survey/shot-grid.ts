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
  const most = nearest.shots.length;
  nearest.count = 0;
  const lookIn = (c: number, r: number) => {
    if (c < 0 || r < 0 || c >= cols || r >= rows) return;
    const cell = r * cols + c;
    for (let k = cellStart[cell]!; k < cellStart[cell + 1]!; k++) {
      const j = shots[k]!;
      if (j === i || !keep[j]) continue;
      insert(nearest, j, (eastFt[j]! - x) ** 2 + (northFt[j]! - y) ** 2);
    }
  };
  const lastRing = Math.min(FARTHEST_RING, Math.max(cols, rows));
  for (let ring = 0; ring <= lastRing; ring++) {
    // nothing in this ring can be nearer than its inner edge
    const inner = (ring - 1) * cellFt;
    if (nearest.count === most && ring > 0 && nearest.distance2[most - 1]! <= inner * inner) return;
    if (ring === 0) lookIn(col, row);
    for (let c = col - ring; ring > 0 && c <= col + ring; c++) {
      lookIn(c, row - ring);
      lookIn(c, row + ring);
    }
    for (let r = row - ring + 1; r < row + ring; r++) {
      lookIn(col - ring, r);
      lookIn(col + ring, r);
    }
  }
}

function insert(nearest: Nearest, shot: number, distance2: number): void {
  const most = nearest.shots.length;
  if (nearest.count === most && distance2 >= nearest.distance2[most - 1]!) return;
  let k = nearest.count < most ? nearest.count++ : most - 1;
  while (k > 0 && nearest.distance2[k - 1]! > distance2) {
    nearest.distance2[k] = nearest.distance2[k - 1]!;
    nearest.shots[k] = nearest.shots[k - 1]!;
    k--;
  }
  nearest.distance2[k] = distance2;
  nearest.shots[k] = shot;
}
