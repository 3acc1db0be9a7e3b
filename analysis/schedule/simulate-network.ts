/** Draws the durations of an activity network and finds what is critical. Method: docs/methods/schedule.md */
import { Z_CLIP } from "../chance/ranges.js";

export interface NetworkActivity {
  readonly id: string;
  readonly after: readonly string[];
}

/** When an activity that would start at `start` and last `duration` weeks ends, stops counted; draw number given. */
export type Finish = (activityIndex: number, draw: number, start: number, duration: number) => number;

export interface NetworkDraws {
  readonly starts: readonly Float64Array[];
  readonly finishes: readonly Float64Array[];
  /** Share of draws in which the activity lies on the longest path to the end. */
  readonly criticalShares: readonly number[];
}

/**
 * Duration by two half normal distributions about the likely value, its median; low and high lie `reach` sigmas
 * to either side. Never below 0. A low of 0 is allowed: some reviews do not happen.
 *
 * @throws {RangeError} unless 0 ≤ low ≤ likely ≤ high.
 */
export function drawWeeks(
  [low, likely, high]: readonly [number, number, number],
  reach: number,
  scores: Float64Array,
): Float64Array {
  if (!(low >= 0 && low <= likely && likely <= high))
    throw new RangeError(`weeks must rise from 0, got ${low}, ${likely}, ${high}`);
  const out = new Float64Array(scores.length);
  for (let i = 0; i < out.length; i++) {
    const z = Math.max(-Z_CLIP, Math.min(Z_CLIP, scores[i]!)) / reach;
    out[i] = Math.max(0, likely + z * (z > 0 ? high - likely : likely - low));
  }
  return out;
}

/**
 * Earliest start of each activity = latest finish of those it waits for, draw by draw (critical path method).
 *
 * @param activities each after all it waits for
 * @throws {RangeError} when one waits for an unknown or later activity.
 */
export function simulateNetwork(
  activities: readonly NetworkActivity[],
  durations: readonly Float64Array[],
  finishOf: Finish = (_activity, _draw, start, duration) => start + duration,
): NetworkDraws {
  const n = durations[0]?.length ?? 0;
  const index = new Map<string, number>();
  const before = activities.map(({ id, after }, i) => {
    const known = after.map((name) => {
      const at = index.get(name);
      if (at === undefined) throw new RangeError(`${id} waits for ${name}, which does not come before it`);
      return at;
    });
    index.set(id, i);
    return known;
  });
  const starts = activities.map(() => new Float64Array(n));
  const finishes = activities.map(() => new Float64Array(n));
  const all = activities.map((_, i) => i);
  const critical = new Float64Array(activities.length);
  for (let draw = 0; draw < n; draw++) {
    for (let a = 0; a < activities.length; a++) {
      let start = 0;
      for (const b of before[a]!) start = Math.max(start, finishes[b]![draw]!);
      starts[a]![draw] = start;
      finishes[a]![draw] = finishOf(a, draw, start, durations[a]![draw]!);
    }
    let last = latest(finishes, all, draw);
    while (last >= 0) {
      critical[last]!++;
      last = latest(finishes, before[last]!, draw);
    }
  }
  return { starts, finishes, criticalShares: [...critical].map((count) => count / n) };
}

function latest(finishes: readonly Float64Array[], among: readonly number[], draw: number): number {
  let best = -1;
  for (const a of among) if (best < 0 || finishes[a]![draw]! > finishes[best]![draw]!) best = a;
  return best;
}
