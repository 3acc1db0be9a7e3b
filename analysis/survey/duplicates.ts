/** Shots in one place: repeats are dropped, disagreements are told. */
import { type IntakeNotes, rowsInWords } from "./notes.js";
import { gridOfShots, type ShotGrid } from "./shot-grid.js";
import type { GroundPoints } from "./survey.js";

/** Shots nearer than this are one place: closer neighbours only make slivers. */
const SAME_PLACE_FT = 0.02;
/** Heights at one place that differ by no more than this agree. */
const SAME_HEIGHT_FT = 0.05;
const MOST_NAMED = 500;

/**
 * Marks repeats in `keep` (set to 0). Of two shots at one place the earlier stays, unless the caller forced the later.
 * A repeat with another height is a conflict: listed with both rows and both heights.
 * @returns cells over the shots (a few of those not kept among them), and the exact repeats, as listed, which say nothing new.
 */
export function dropDuplicates(
  ground: GroundPoints,
  listedAs: Uint32Array,
  keep: Uint8Array,
  forced: ReadonlySet<number>,
  notes: IntakeNotes,
): { grid: ShotGrid; repeats: ReadonlySet<number> } {
  const { elevFt, row } = ground;
  const grid = gridOfShots(ground, keep);
  const repeats = new Set<number>();
  const close = closeShots(ground, grid);
  if (close.length === 0) return { grid, repeats };
  const places = new Places(ground, close.length);
  const conflicts: number[] = [];
  for (const i of close.sort((a, b) => listedAs[a]! - listedAs[b]!)) {
    const other = places.takenBy(i);
    if (other < 0) {
      places.take(i);
      continue;
    }
    const [used, left] = forced.has(row[i]!) && !forced.has(row[other]!) ? [i, other] : [other, i];
    keep[left] = 0;
    if (used === i) places.replace(other, i);
    const conflict = Math.abs(elevFt[left]! - elevFt[used]!) > SAME_HEIGHT_FT;
    if (conflict) conflicts.push(row[used]!, row[left]!);
    else repeats.add(listedAs[left]!);
    if (notes.excluded.length < MOST_NAMED)
      notes.excluded.push({
        row: row[left]!,
        reason: conflict ? "same place, another elevation" : "duplicate",
        evidence: conflict
          ? `row ${row[used]} has ${elevFt[used]!.toFixed(2)} ft here, row ${row[left]} has ${elevFt[left]!.toFixed(2)} ft; row ${row[used]} is used`
          : `same place and height as row ${row[used]}`,
      });
  }
  if (repeats.size > 0)
    notes.warnings.push({
      code: "duplicates-dropped",
      message: `${repeats.size} ${repeats.size === 1 ? "shot repeats another and was" : "shots repeat others and were"} dropped.`,
      remedy: "Nothing to do.",
    });
  if (conflicts.length > 0) {
    const rows = conflicts.sort((a, b) => a - b);
    notes.warnings.push({
      code: "duplicate-conflict",
      message: `Shots at one place have different elevations: ${rowsInWords(rows)}. The earlier of each pair is used.`,
      remedy:
        "Ask which one is right, and delete or correct the other; survey.keepRows names the row to use.",
      rows: rows.slice(0, MOST_NAMED),
    });
  }
  const fewLost = repeats.size + conflicts.length < FEW * ground.count;
  return { grid: fewLost ? grid : gridOfShots(ground, keep), repeats };
}

/** With fewer repeats than this share the cells hold about as many shots as they should. */
const FEW = 0.1;
/** A cell with more shots than this is a heap: all of them are looked at. */
const HEAP = 50;
/** A hair more than the same place, for rounding. */
const CLOSE_FT = 1.01 * SAME_PLACE_FT;

/** Shots that may share their place with another, and all that do: no others need a look. */
function closeShots({ count, eastFt, northFt }: GroundPoints, grid: ShotGrid): number[] {
  const { cols, rows, cellFt, cellStart, shots, originEastFt, originNorthFt } = grid;
  const isClose = new Uint8Array(count);
  const compare = (i: number, col: number, row: number) => {
    if (col < 0 || row < 0 || col >= cols || row >= rows) return;
    const cell = row * cols + col;
    for (let k = cellStart[cell]!; k < cellStart[cell + 1]!; k++) {
      const j = shots[k]!;
      const dx = eastFt[j]! - eastFt[i]!;
      const dy = northFt[j]! - northFt[i]!;
      if (j !== i && dx * dx + dy * dy <= CLOSE_FT * CLOSE_FT) isClose[i] = 1;
    }
  };
  const found: number[] = [];
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const first = cellStart[row * cols + col]!;
      const last = cellStart[row * cols + col + 1]!;
      // so small a cell does not hold its shots' neighbours, nor do the cells beside it
      const heap = last - first > HEAP || cellFt < CLOSE_FT;
      for (let k = first; k < last; k++) {
        const i = shots[k]!;
        if (heap) isClose[i] = 1;
        else {
          // a shot by the side of its cell may be close to one beyond it
          const x = eastFt[i]! - originEastFt - col * cellFt;
          const y = northFt[i]! - originNorthFt - row * cellFt;
          const west = x < CLOSE_FT ? col - 1 : col;
          const east = x > cellFt - CLOSE_FT ? col + 1 : col;
          const south = y < CLOSE_FT ? row - 1 : row;
          const north = y > cellFt - CLOSE_FT ? row + 1 : row;
          for (let r = south; r <= north; r++) for (let c = west; c <= east; c++) compare(i, c, r);
        }
        if (isClose[i]) found.push(i);
      }
    }
  return found;
}

/** Places taken, in a hash table of small squares with a chain of shots each, seldom more than one: any number of shots at one place costs the same. */
class Places {
  private readonly heads: Int32Array;
  private readonly next: Int32Array;
  private readonly mask: number;
  private readonly eastFt: Float64Array;
  private readonly northFt: Float64Array;

  constructor({ count, eastFt, northFt }: GroundPoints, expected: number) {
    const size = 2 ** Math.ceil(Math.log2(2 * expected + 2));
    this.heads = new Int32Array(size).fill(-1);
    this.next = new Int32Array(count).fill(-1);
    this.mask = size - 1;
    this.eastFt = eastFt;
    this.northFt = northFt;
  }

  /** The shot that holds the place of shot i; −1 when it is free. */
  takenBy(i: number): number {
    const x = this.eastFt[i]!;
    const y = this.northFt[i]!;
    const col = Math.floor(x / SAME_PLACE_FT);
    const row = Math.floor(y / SAME_PLACE_FT);
    for (let c = col - 1; c <= col + 1; c++)
      for (let r = row - 1; r <= row + 1; r++)
        for (let other = this.heads[this.slotOf(c, r)]!; other >= 0; other = this.next[other]!) {
          const apart = Math.hypot(this.eastFt[other]! - x, this.northFt[other]! - y);
          if (apart <= SAME_PLACE_FT) return other;
        }
    return -1;
  }

  take(i: number): void {
    const slot = this.slotAt(i);
    this.next[i] = this.heads[slot]!;
    this.heads[slot] = i;
  }

  replace(other: number, i: number): void {
    const slot = this.slotAt(other);
    if (this.heads[slot] === other) this.heads[slot] = this.next[other]!;
    else {
      let before = this.heads[slot]!;
      while (this.next[before] !== other) before = this.next[before]!;
      this.next[before] = this.next[other]!;
    }
    this.take(i);
  }

  private slotAt(i: number): number {
    return this.slotOf(
      Math.floor(this.eastFt[i]! / SAME_PLACE_FT),
      Math.floor(this.northFt[i]! / SAME_PLACE_FT),
    );
  }

  /** Squares may share a slot: distances tell their shots apart. */
  private slotOf(col: number, row: number): number {
    return (Math.imul(col | 0, 73_856_093) ^ Math.imul(row | 0, 19_349_663)) & this.mask;
  }
}
