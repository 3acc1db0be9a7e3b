/** Months as ranges: before the ground, the ground, the house; beside the same house on a flat lot. Method: docs/methods/schedule.md */
import {
  flatTwinQuantities,
  houseSizes,
  listEvents,
  needsLimitedRig,
  type PricedDraft,
  type QuantityLine,
} from "../bill/index.js";
import { ColumnPool } from "../chance/columns.js";
import { type Percentiles, percentiles, quantiles } from "../chance/percentiles.js";
import type { Site } from "../lot/site.js";
import { WEEKS_PER_MONTH } from "../units.js";
import { listActivities, listSteps } from "./activities.js";
import type { SiteHardness } from "./activity.js";
import { whatTakesLonger } from "./longer.js";
import { FINISH_BELOW } from "./office-and-house-work.js";
import type { Months, PlannedTime, Schedule } from "./schedule.js";
import { type SimulatedWork, simulateActivities } from "./simulate-activities.js";
import { TimeStreams } from "./time-streams.js";

/** Goes evenly into the draws of the money. */
const TIME_DRAWS = 2_000;
/** Draws behind the middles of single steps, which are drawn as bars. */
const STEP_DRAWS = 1_000;

const FLAT = { grade: "flat", slopeUnderHousePct: 0, lotSlopePct: 0, limitedRig: false } as const;
const CERTAIN = 1;

/** The time of each draft, from the accepted offer. The same streams serve every draft and its flat twins. */
export function planSchedules(site: Site, drafts: readonly PricedDraft[]): readonly PlannedTime[] {
  const { request } = site;
  const streams = new TimeStreams(request.seed, TIME_DRAWS);
  const pool = new ColumnPool(TIME_DRAWS);
  const simulate = (lines: readonly QuantityLine[], hardness: SiteHardness): SimulatedWork => {
    pool.giveBackAll();
    return simulateActivities(listActivities(lines, hardness, request.haul), streams, request.rules, pool);
  };
  const twins = new Map<string, Phases>();
  const twinOf = ({ design }: PricedDraft, withBasement: boolean): Phases => {
    const lines = flatTwinQuantities(site, design, withBasement);
    const { floorAreaFt2, basementFt2 } = houseSizes(design, request.brief.garageCars);
    const key = JSON.stringify([floorAreaFt2, ...lines.map((l) => [l.code, l.quantity])]);
    const hardness = { ...FLAT, floorAreaFt2, basementFt2: withBasement ? basementFt2 : 0 };
    const twin = twins.get(key) ?? phasesOf(simulate(lines, hardness));
    twins.set(key, twin);
    return twin;
  };

  return drafts.map((draft): PlannedTime => {
    const { design, quantities } = draft;
    const hasBasement = design.levels.some((l) => l.role === "basement");
    const flat = twinOf(draft, false);
    const flatWithBasement = hasBasement ? twinOf(draft, true) : null;
    // what the request says is there takes its time: rock, deeper piers
    const events = listEvents(site, draft, quantities);
    const certain = events.filter(({ chance }) => chance >= CERTAIN).flatMap((event) => event.lines);
    const lines = [...quantities, ...certain];
    const { floorAreaFt2, basementFt2 } = houseSizes(design, request.brief.garageCars);
    const hardness: SiteHardness = {
      grade: hasBasement ? "basement" : "pad",
      slopeUnderHousePct: design.slopeUnderHousePct.mean,
      lotSlopePct: site.terrain.summary.meanSlopePct,
      limitedRig: needsLimitedRig(draft),
      floorAreaFt2,
      basementFt2,
    };
    const work = simulate(lines, hardness);
    const hill = phasesOf(work);
    return {
      schedule: {
        clock: "from accepted offer",
        preconstructionMonths: hill.before,
        groundMonths: hill.ground,
        houseMonths: hill.house,
        totalMonths: hill.total,
        flatTotalMonths: flat.total,
        flatPreconstructionMonths: flat.before,
        flatGroundMonths: flat.ground,
        flatHouseMonths: flat.house,
        untilFrameMonths: hill.untilFrame,
        flatUntilFrameMonths: flat.untilFrame,
        buildingMonths: hill.building,
        flatBuildingMonths: flat.building,
        ...belowFloorOf(work),
        activities: activitiesOf(work),
        longerIf: whatTakesLonger(
          lines,
          events.filter(({ chance }) => chance < CERTAIN),
          (bill) => listSteps(bill, hardness, request.haul),
        ),
      },
      building: {
        hill: hill.buildingDraws,
        flat: flat.buildingDraws,
        flatWithBasement: flatWithBasement?.buildingDraws ?? null,
      },
    };
  });
}

interface Phases {
  readonly before: Months;
  readonly ground: Months;
  readonly house: Months;
  readonly total: Months;
  readonly untilFrame: Months;
  readonly building: Months;
  readonly buildingDraws: Float64Array;
}

/** What is kept of a simulated work when its columns are given back. */
function phasesOf({ beforeWeeks, frameWeeks, totalWeeks }: SimulatedWork): Phases {
  const scratch = new Float64Array(beforeWeeks.length);
  const months = (end: Float64Array, start?: Float64Array): Months =>
    inOrder(percentiles(monthsBetween(start, end, scratch)));
  return {
    before: months(beforeWeeks),
    ground: months(frameWeeks, beforeWeeks),
    house: months(totalWeeks, frameWeeks),
    total: months(totalWeeks),
    untilFrame: months(frameWeeks),
    // last: the scratch then holds its draws
    building: months(totalWeeks, beforeWeeks),
    buildingDraws: scratch,
  };
}

/** In every draw, into `out`; from the accepted offer where no start is given. */
function monthsBetween(start: Float64Array | undefined, end: Float64Array, out: Float64Array): Float64Array {
  if (start) for (let i = 0; i < out.length; i++) out[i] = (end[i]! - start[i]!) / WEEKS_PER_MONTH;
  else for (let i = 0; i < out.length; i++) out[i] = end[i]! / WEEKS_PER_MONTH;
  return out;
}

/** In every draw: until the frame can start, and while the rooms of the basement are finished. */
function belowFloorOf({
  beforeWeeks,
  frameWeeks,
  totalWeeks,
  basementFinish,
}: SimulatedWork): Pick<Schedule, "belowFloorMonths" | "belowFloorShare"> {
  if (!basementFinish) return { belowFloorMonths: null, belowFloorShare: null };
  const { starts, ends } = basementFinish;
  const below = frameWeeks.map((end, i) => end - beforeWeeks[i]! + ends[i]! - starts[i]!);
  return {
    belowFloorMonths: inOrder(percentiles(below.map((weeks) => weeks / WEEKS_PER_MONTH))),
    belowFloorShare: inOrder(
      percentiles(below.map((weeks, i) => weeks / (totalWeeks[i]! - beforeWeeks[i]!))),
    ),
  };
}

function inOrder({ p10, p50, p90 }: Percentiles): Months {
  return [p10, p50, p90];
}

function activitiesOf({ activities, network, basementFinish }: SimulatedWork): Schedule["activities"] {
  // most steps start when one other ends: the middle of that array is already known
  const known = new Map<Float64Array, number>();
  const median = (draws: Float64Array) => {
    const middle = known.get(draws) ?? quantiles(draws.subarray(0, STEP_DRAWS), [0.5])[0]!;
    known.set(draws, middle);
    return middle;
  };
  const criticalShares = network.criticalShares();
  return activities.map(({ id, name, phase, after, weeks, hold = false }, i) => ({
    id,
    name,
    phase,
    after,
    weeks,
    hold,
    belowFloor: basementFinish !== null && (phase === "ground" || id === FINISH_BELOW),
    startWeekP50: median(network.starts[i]!),
    finishWeekP50: median(network.finishes[i]!),
    criticalShare: criticalShares[i]!,
  }));
}
