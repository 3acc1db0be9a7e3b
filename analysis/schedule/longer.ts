/** What would make the work longer, should it happen. Method: docs/methods/schedule.md */
import type { QuantityLine } from "../bill/bill.js";
import type { CostEvent } from "../bill/cost-event.js";
import type { Activity } from "./activity.js";
import { RAIN } from "./rates.js";
import type { LongerIf } from "./schedule.js";

/** Shorter is not worth a word: one working day. */
const LEAST_WEEKS = 0.2;

/**
 * Events that are not certain, each alone: by how much later the keys come, likely weeks. How far away another dump is nobody
 * knows, so hauling is left as it is.
 *
 * @param stepsOf the steps of a bill, each after those it waits for
 */
export function whatTakesLonger(
  lines: readonly QuantityLine[],
  events: readonly CostEvent[],
  stepsOf: (lines: readonly QuantityLine[]) => readonly Activity[],
): readonly LongerIf[] {
  const planned = likelyWeeks(stepsOf(lines));
  return events.flatMap(({ name, chance, lines: more }) => {
    const added = more.filter(({ code }) => code !== "HAUL");
    const addsWeeks = likelyWeeks(stepsOf([...lines, ...added])) - planned;
    return addsWeeks < LEAST_WEEKS ? [] : [{ name, chance, addsWeeks }];
  });
}

/** Length of the longest path when every step takes its likely time, weeks. */
export function likelyWeeks(steps: readonly Activity[]): number {
  const ends = new Map<string, number>();
  let last = 0;
  for (const { id, after, weeks, phase, hold } of steps) {
    let start = 0;
    for (const before of after) start = Math.max(start, ends.get(before)!);
    const end = start + weeks[1] * (phase === "ground" && !hold ? RAIN.likely : 1);
    ends.set(id, end);
    last = Math.max(last, end);
  }
  return last;
}
