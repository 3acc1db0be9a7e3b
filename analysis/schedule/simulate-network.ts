/** Draws the durations of an activity network and finds what is critical. Method: docs/methods/schedule.md */
import { ColumnPool } from "../chance/columns.js";
import { Z_CLIP } from "../chance/ranges.js";

/** Draws in which the longest path is looked for: enough to know a share to three points in a hundred. */
const CRITICAL_DRAWS = 1_000;

export interface NetworkActivity {
  readonly id: string;
  readonly after: readonly string[];
}

/** When work that would start at `start` and last `duration` weeks ends, stops counted; draw number given. */
export type Finish = (draw: number, start: number, duration: number) => number;

export interface NetworkDraws {
  /** The same array as the finishes of the one it waits for, where it waits for one only. */
  readonly starts: readonly Float64Array[];
  readonly finishes: readonly Float64Array[];
  /** Share of draws in which each activity lies on the longest path to the end; walked when asked for. */
  readonly criticalShares: () => readonly number[];
}

/** Normal scores, clipped, parted into what lies above and below the middle: no draw then has to be asked which. */
export interface HalfScores {
  readonly above: Float64Array;
  readonly below: Float64Array;
}

/** @param above may be the scores themselves, which are then written over */
export function halves(
  scores: Float64Array,
  above: Float64Array = new Float64Array(scores.length),
): HalfScores {
  const below = new Float64Array(scores.length);
  for (let i = 0; i < scores.length; i++) {
    const z = scores[i]!;
    above[i] = z > 0 ? Math.min(z, Z_CLIP) : 0;
    below[i] = z > 0 ? 0 : Math.max(z, -Z_CLIP);
  }
  return { above, below };
}

/**
 * Duration by two half normal distributions about the likely value, its median; low and high lie `reach` sigmas
 * to either side. Never below 0. A low of 0 is allowed: some reviews do not happen.
 *
 * @param slowdown factor in every draw, such as rain; none: 1
 * @throws {RangeError} unless 0 ≤ low ≤ likely ≤ high.
 */
export function drawWeeks(
  [low, likely, high]: readonly [number, number, number],
  reach: number,
  { above, below }: HalfScores,
  slowdown: Float64Array | null = null,
  out: Float64Array = new Float64Array(above.length),
): Float64Array {
  if (!(low >= 0 && low <= likely && likely <= high))
    throw new RangeError(`weeks must rise from 0, got ${low}, ${likely}, ${high}`);
  const down = (likely - low) / reach;
  const up = (high - likely) / reach;
  if (slowdown)
    for (let i = 0; i < out.length; i++) out[i] = (likely + above[i]! * up + below[i]! * down) * slowdown[i]!;
  else for (let i = 0; i < out.length; i++) out[i] = likely + above[i]! * up + below[i]! * down;
  if (likely < Z_CLIP * down) for (let i = 0; i < out.length; i++) out[i] = Math.max(0, out[i]!);
  return out;
}

/**
 * Earliest start of each activity = latest finish of those it waits for, draw by draw (critical path method).
 *
 * @param activities each after all it waits for
 * @param finishOf how an activity that may have to stop ends; none: start + duration
 * @param pool where the columns of the outcome are taken from
 * @throws {RangeError} when one waits for an unknown or later activity.
 */
export function simulateNetwork(
  activities: readonly NetworkActivity[],
  durations: readonly Float64Array[],
  finishOf: (activityIndex: number) => Finish | null = () => null,
  pool = new ColumnPool(durations[0]?.length ?? 0),
): NetworkDraws {
  const index = new Map<string, number>();
  const starts: Float64Array[] = [];
  const finishes: Float64Array[] = [];
  const before = activities.map(({ id, after }, a) => {
    const known = after.map((name) => {
      const at = index.get(name);
      if (at === undefined) throw new RangeError(`${id} waits for ${name}, which does not come before it`);
      return at;
    });
    index.set(id, a);
    const start = latestOf(
      known.map((b) => finishes[b]!),
      pool,
    );
    starts.push(start);
    finishes.push(finishAll(start, durations[a]!, finishOf(a), pool.take()));
    return known;
  });
  const looked = Math.min(CRITICAL_DRAWS, pool.length);
  return { starts, finishes, criticalShares: () => criticalShares(before, finishes, looked) };
}

/** A lone column is returned itself. */
export function latestOf(columns: readonly Float64Array[], pool: ColumnPool): Float64Array {
  const [first, ...others] = columns;
  if (!first) return pool.take().fill(0);
  if (others.length === 0) return first;
  const latest = pool.take();
  latest.set(first);
  for (const column of others)
    for (let i = 0; i < latest.length; i++) if (column[i]! > latest[i]!) latest[i] = column[i]!;
  return latest;
}

function finishAll(
  start: Float64Array,
  duration: Float64Array,
  finish: Finish | null,
  out: Float64Array,
): Float64Array {
  if (finish) for (let i = 0; i < out.length; i++) out[i] = finish(i, start[i]!, duration[i]!);
  else for (let i = 0; i < out.length; i++) out[i] = start[i]! + duration[i]!;
  return out;
}

/** Walks back from the end of each draw; where two finish together the first in the list counts. */
function criticalShares(
  before: readonly (readonly number[])[],
  finishes: readonly Float64Array[],
  n: number,
): number[] {
  const waitedFor = new Set(before.flat());
  const marks = new Uint8Array(finishes.length * n);
  const critical = finishes.map((_, a) => marks.subarray(a * n, (a + 1) * n));
  const atEnd = [...finishes.keys()].filter((a) => !waitedFor.has(a));
  markLatest(atEnd, finishes, critical, null);
  for (let a = before.length - 1; a >= 0; a--)
    if (before[a]!.length > 0) markLatest(before[a]!, finishes, critical, critical[a]!);
  return critical.map((mask) => countOf(mask) / n);
}

/** In the draws that count (all, where none are named) marks which of some activities finishes last. */
function markLatest(
  among: readonly number[],
  finishes: readonly Float64Array[],
  critical: readonly Uint8Array[],
  where: Uint8Array | null,
): void {
  const columns = among.map((a) => finishes[a]!);
  const masks = among.map((a) => critical[a]!);
  const n = masks[0]!.length;
  for (let i = 0; i < n; i++) {
    if (where && where[i] === 0) continue;
    let best = 0;
    let latest = columns[0]![i]!;
    for (let k = 1; k < columns.length; k++) {
      const finish = columns[k]![i]!;
      if (finish > latest) {
        latest = finish;
        best = k;
      }
    }
    masks[best]![i] = 1;
  }
}

function countOf(mask: Uint8Array): number {
  let count = 0;
  for (let i = 0; i < mask.length; i++) count += mask[i]!;
  return count;
}
