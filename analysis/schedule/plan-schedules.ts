/** Months as ranges: before the ground, the ground, the house; beside the same house on a flat lot. Method: docs/methods/schedule.md */
import { flatTwinQuantities, needsLimitedRig } from "../bill/index.js";
import type { PricedDraft } from "../bill/scheme-parts.js";
import { percentiles, quantiles } from "../chance/percentiles.js";
import { normals, uniforms } from "../chance/random-streams.js";
import { drawRange, Z90 } from "../chance/ranges.js";
import type { Site } from "../lot/site.js";
import { type Activity, listActivities } from "./activities.js";
import { type Grade, RAIN } from "./rates.js";
import type { Months, Schedule } from "./schedule.js";
import { drawWeeks, type Finish, type NetworkDraws, simulateNetwork } from "./simulate-network.js";
import { WEEKS_A_MONTH } from "./weeks.js";

const SCHEDULE_DRAWS = 2_000;
/** Share of the variance of a duration that is common to its phase: a slow city is slow at every step. Judgement, from memory. */
export const SHARED_PACE = 0.3;

/**
 * Low and high of a step are taken as one in twenty, as for three-point networks (Moder and Rodgers 1968, from memory);
 * the house from the frame on is known as a whole, one in ten.
 */
const REACH = { before: 1.6449, ground: 1.6449, house: Z90 } as const;

const FLAT = { grade: "flat", slopeUnderHousePct: 0, lotSlopePct: 0, limitedRig: false } as const;

interface Simulated {
  readonly activities: readonly Activity[];
  readonly network: NetworkDraws;
  readonly beforeWeeks: Float64Array;
  readonly frameWeeks: Float64Array;
  readonly totalWeeks: Float64Array;
}

/** One schedule per draft, from the accepted offer. The same streams serve every draft and its flat twin. */
export function planSchedules(site: Site, drafts: readonly PricedDraft[]): readonly Schedule[] {
  const { request } = site;
  const streams = new Streams(request.seed, SCHEDULE_DRAWS);
  const simulate = (activities: readonly Activity[]) =>
    simulateActivities(activities, streams, request.rules);
  const twins = new Map<string, Simulated>();

  return drafts.map((draft): Schedule => {
    const { design, quantities } = draft;
    const grade: Grade = design.levels.some((l) => l.role === "basement") ? "basement" : "pad";
    const hardness = {
      grade,
      slopeUnderHousePct: design.slopeUnderHousePct.mean,
      lotSlopePct: site.terrain.summary.meanSlopePct,
      limitedRig: needsLimitedRig(draft),
    };
    const hill = simulate(listActivities(quantities, hardness, request.haul));
    const flatActivities = listActivities(flatTwinQuantities(site, design, false), FLAT, request.haul);
    const key = JSON.stringify(flatActivities.map((a) => a.weeks));
    const flat = twins.get(key) ?? simulate(flatActivities);
    twins.set(key, flat);
    return {
      clock: "from accepted offer",
      preconstructionMonths: months(hill.beforeWeeks),
      groundMonths: months(minus(hill.frameWeeks, hill.beforeWeeks)),
      houseMonths: months(minus(hill.totalWeeks, hill.frameWeeks)),
      totalMonths: months(hill.totalWeeks),
      flatTotalMonths: months(flat.totalWeeks),
      flatPreconstructionMonths: months(flat.beforeWeeks),
      flatGroundMonths: months(minus(flat.frameWeeks, flat.beforeWeeks)),
      untilFrameMonths: months(hill.frameWeeks),
      flatUntilFrameMonths: months(flat.frameWeeks),
      activities: hill.activities.map(({ id, name, phase, after, weeks, hold = false }, i) => ({
        id,
        name,
        phase,
        after,
        weeks,
        hold,
        startWeekP50: median(hill.network.starts[i]!),
        finishWeekP50: median(hill.network.finishes[i]!),
        criticalShare: hill.network.criticalShares[i]!,
      })),
    };
  });
}

/** Scores by activity, so that a step has the same luck in every scheme. */
class Streams {
  readonly draws: number;
  readonly #seed: number;
  readonly #kept = new Map<string, Float64Array>();

  constructor(seed: number, draws: number) {
    this.#seed = seed;
    this.draws = draws;
  }

  scores({ phase, id, stream = id }: Activity): Float64Array {
    return this.#keep(`step:${phase}:${stream}`, () => {
      const pace = this.#normal(`pace:${phase}`);
      const own = this.#normal(stream);
      const out = new Float64Array(this.draws);
      for (let i = 0; i < out.length; i++)
        out[i] = Math.sqrt(SHARED_PACE) * pace[i]! + Math.sqrt(1 - SHARED_PACE) * own[i]!;
      return out;
    });
  }

  rain(): Float64Array {
    return this.#keep("rain factor", () => drawRange(RAIN, this.#normal("rain")));
  }

  /** Calendar month of the accepted offer, 0 = January; any month alike when the request does not say. */
  startMonths(given: number | null): Float64Array {
    if (given !== null) return new Float64Array(this.draws).fill(given - 1);
    return uniforms(this.#seed, "weeks:start-month", this.draws).map((u) => 12 * u);
  }

  #normal(name: string): Float64Array {
    return this.#keep(`normal:${name}`, () => normals(this.#seed, `weeks:${name}`, this.draws));
  }

  #keep(key: string, make: () => Float64Array): Float64Array {
    const found = this.#kept.get(key);
    if (found) return found;
    const made = make();
    this.#kept.set(key, made);
    return made;
  }
}

function simulateActivities(
  activities: readonly Activity[],
  streams: Streams,
  rules: Site["request"]["rules"],
): Simulated {
  const rain = streams.rain();
  const durations = activities.map((activity) => {
    const weeks = drawWeeks(activity.weeks, REACH[activity.phase], streams.scores(activity));
    if (activity.phase === "ground" && !activity.hold)
      for (let i = 0; i < weeks.length; i++) weeks[i]! *= rain[i]!;
    return weeks;
  });
  const network = simulateNetwork(activities, durations, shutdownFinish(activities, streams, rules));
  const endOf = (phase: Activity["phase"]) => {
    const ends = activities.flatMap((a, i) => (a.phase === phase ? [network.finishes[i]!] : []));
    const last = new Float64Array(streams.draws);
    for (const end of ends) for (let i = 0; i < last.length; i++) last[i] = Math.max(last[i]!, end[i]!);
    return last;
  };
  return {
    activities,
    network,
    beforeWeeks: endOf("before"),
    frameWeeks: endOf("ground"),
    totalWeeks: endOf("house"),
  };
}

/** Grading stands still in the closed months of every year. */
function shutdownFinish(
  activities: readonly Activity[],
  streams: Streams,
  { gradingShutdown, startMonth }: Site["request"]["rules"],
): Finish {
  if (!gradingShutdown) return (_activity, _draw, start, duration) => start + duration;
  const startMonths = streams.startMonths(startMonth);
  const closedFrom = gradingShutdown.fromMonth - 1;
  const closedMonths = ((gradingShutdown.toMonth - gradingShutdown.fromMonth + 12) % 12) + 1;
  const openMonths = 12 - closedMonths;
  return (activity, draw, start, duration) => {
    if (!activities[activity]!.grading || duration === 0) return start + duration;
    if (openMonths === 0) return start + duration;
    // months since the season last closed, at the start
    const sinceClosed = (((startMonths[draw]! + start / WEEKS_A_MONTH - closedFrom) % 12) + 12) % 12;
    const waitMonths = Math.max(0, closedMonths - sinceClosed);
    const openLeft = sinceClosed >= closedMonths ? 12 - sinceClosed : openMonths;
    const overrun = duration / WEEKS_A_MONTH - openLeft;
    const closedAgain = overrun > 0 ? Math.ceil(overrun / openMonths) * closedMonths : 0;
    return start + duration + (waitMonths + closedAgain) * WEEKS_A_MONTH;
  };
}

function months(weeks: Float64Array): Months {
  const { p10, p50, p90 } = percentiles(weeks);
  return [p10 / WEEKS_A_MONTH, p50 / WEEKS_A_MONTH, p90 / WEEKS_A_MONTH];
}

function median(draws: Float64Array): number {
  return quantiles(draws, [0.5])[0]!;
}

function minus(a: Float64Array, b: Float64Array): Float64Array {
  const out = new Float64Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! - b[i]!;
  return out;
}
