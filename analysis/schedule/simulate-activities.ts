/** Weeks of the phases in every draw, rain and the wet season counted. */
import type { ColumnPool } from "../chance/columns.js";
import { Z90 } from "../chance/ranges.js";
import type { StudyRequest } from "../request/request.js";
import { WEEKS_PER_MONTH } from "../units.js";
import type { Activity } from "./activity.js";
import { FINISH_BELOW } from "./office-and-house-work.js";
import { drawWeeks, type Finish, latestOf, type NetworkDraws, simulateNetwork } from "./simulate-network.js";
import type { TimeStreams } from "./time-streams.js";

/**
 * Low and high of a step are taken as one in twenty, as for three-point networks (Moder and Rodgers 1968, from memory);
 * the house from the frame on is known as a whole, one in ten.
 */
const REACH = { before: 1.6449, ground: 1.6449, house: Z90 } as const;

export interface SimulatedWork {
  readonly activities: readonly Activity[];
  readonly network: NetworkDraws;
  /** From the accepted offer, in every draw. */
  readonly beforeWeeks: Float64Array;
  readonly frameWeeks: Float64Array;
  readonly totalWeeks: Float64Array;
  /** Start and end of the finish of the basement rooms; null where there are none. */
  readonly basementFinish: { readonly starts: Float64Array; readonly ends: Float64Array } | null;
}

/** @param pool where the columns of the outcome are taken from */
export function simulateActivities(
  activities: readonly Activity[],
  streams: TimeStreams,
  rules: StudyRequest["rules"],
  pool: ColumnPool,
): SimulatedWork {
  const rain = streams.rain();
  const durations = activities.map((activity) => {
    const { weeks, phase, hold } = activity;
    const slowdown = phase === "ground" && !hold ? rain : null;
    return drawWeeks(weeks, REACH[phase], streams.scores(activity), slowdown, pool.take());
  });
  const aroundStop = wetSeasonFinish(streams, rules);
  const finishOf = (a: number) => (activities[a]!.grading ? aroundStop : null);
  const network = simulateNetwork(activities, durations, finishOf, pool);
  const endOf = (phase: Activity["phase"]) => {
    const waitedFor = new Set(activities.filter((a) => a.phase === phase).flatMap((a) => a.after));
    const ends = network.finishes.filter((_, k) => {
      const a = activities[k]!;
      return a.phase === phase && !waitedFor.has(a.id);
    });
    return latestOf(ends, pool);
  };
  const finishBelow = activities.findIndex((a) => a.id === FINISH_BELOW);
  return {
    activities,
    network,
    beforeWeeks: endOf("before"),
    frameWeeks: endOf("ground"),
    totalWeeks: endOf("house"),
    basementFinish:
      finishBelow < 0 ? null : { starts: network.starts[finishBelow]!, ends: network.finishes[finishBelow]! },
  };
}

/** Grading stands still in the closed months of every year; null when there are none. */
function wetSeasonFinish(
  streams: TimeStreams,
  { gradingShutdown, startMonth }: StudyRequest["rules"],
): Finish | null {
  if (!gradingShutdown) return null;
  const closedFrom = gradingShutdown.fromMonth - 1;
  const closedMonths = ((gradingShutdown.toMonth - gradingShutdown.fromMonth + 12) % 12) + 1;
  const openMonths = 12 - closedMonths;
  if (openMonths === 0) return null;
  const startMonths = streams.startMonths(startMonth);
  return (draw, start, duration) => {
    if (duration === 0) return start;
    // months since the season last closed, at the start
    const sinceClosed = (((startMonths[draw]! + start / WEEKS_PER_MONTH - closedFrom) % 12) + 12) % 12;
    const waitMonths = Math.max(0, closedMonths - sinceClosed);
    const openLeft = sinceClosed >= closedMonths ? 12 - sinceClosed : openMonths;
    const overrun = duration / WEEKS_PER_MONTH - openLeft;
    const closedAgain = overrun > 0 ? Math.ceil(overrun / openMonths) * closedMonths : 0;
    return start + duration + (waitMonths + closedAgain) * WEEKS_PER_MONTH;
  };
}
