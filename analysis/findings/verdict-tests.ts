/** The measured tests behind "hard, dear" and "good fit", and how far each is from turning the verdict. */
import { measure } from "../measure.js";
import { SQUARE_FEET_PER_ACRE, toAcres } from "../units.js";
import { driveOf, type SchemeFacts, type StudyFacts, tallestSiteWallFt } from "./facts.js";
import { buildableAtLimit, neededGroundFt2 } from "./rules/lot-rules.js";

/** Numbers at which a verdict turns; common practice, no source. */
const DEAR = { premiumSharePct: 25, slopePct: 25, wallFt: 8, loads: 100, drivePct: 15, months: 18 } as const;
const GOOD = { roomTimes: 1.5, slopePct: 20, wallFt: 6, drivePct: 12, premiumSharePct: 15 } as const;

export interface Test {
  readonly name: string;
  readonly unit: string;
  readonly measured: number;
  readonly limit: number;
  /** True of the extra cost, which sums up what the other tests look at one by one. */
  readonly sumsUp?: boolean;
  /** The measured fact as a sentence. */
  readonly words: string;
}

/** Percent of the flat twin's middle total that the hill adds. */
function premiumSharePct({ cost }: SchemeFacts): number {
  return cost.flatLotP50Usd > 0 ? (100 * cost.hillsidePremiumUsd.p50) / cost.flatLotP50Usd : 0;
}

export function dearTests(best: SchemeFacts): Test[] {
  const share = premiumSharePct(best);
  const slope = best.design.slopeUnderHousePct.mean;
  const wall = tallestSiteWallFt(best);
  const loads = Math.round(best.cost.hauledLoads.p50);
  const drive = driveOf(best)?.maxGradePct ?? 0;
  const months = best.schedule.untilFrameMonths[1];
  const row = (name: string, unit: string, measured: number, limit: number, words: string): Test => ({
    name,
    unit,
    measured,
    limit,
    words,
  });
  return [
    {
      ...row(
        "what the hill adds",
        " % of the cost on flat land",
        share,
        DEAR.premiumSharePct,
        `The hill adds about ${Math.round(share)} % to what the house would cost on flat land.`,
      ),
      sumsUp: true,
    },
    row(
      "the slope under the house",
      " %",
      slope,
      DEAR.slopePct,
      `The ground under the house climbs about ${measure(slope, "feet in a ratio", 1)} in every 100.`,
    ),
    row(
      "the tallest wall outside the house",
      " ft",
      wall,
      DEAR.wallFt,
      `A wall outside the house is up to ${measure(wall, "feet", 1)} tall.`,
    ),
    row("the truckloads of dirt", "", loads, DEAR.loads, `About ${loads} truckloads of dirt must move.`),
    row(
      "the steepest part of the driveway",
      " %",
      drive,
      DEAR.drivePct,
      `The driveway slopes ${measure(drive, "feet in a ratio", 1)} in 100 at its steepest.`,
    ),
    row(
      "the time until the frame can start",
      " months",
      months,
      DEAR.months,
      `It takes about ${Math.round(months)} months until the frame can start.`,
    ),
  ];
}

export function goodTests(
  facts: StudyFacts,
  best: SchemeFacts,
): { readonly met: boolean; readonly words: string }[] {
  const { site } = facts;
  const room = site.lot.buildable.areaFt2;
  const need = neededGroundFt2(facts);
  const drive = driveOf(best)?.maxGradePct ?? 0;
  const slope = best.design.slopeUnderHousePct.mean;
  const wall = tallestSiteWallFt(best);
  const share = premiumSharePct(best);
  return [
    {
      met: room >= GOOD.roomTimes * need,
      words: `There is room: about ${squareFeet(room)} are left to build on.`,
    },
    {
      met: slope <= GOOD.slopePct,
      words: `The ground under the house climbs about ${measure(slope, "feet in a ratio", 1)} in every 100.`,
    },
    {
      met: wall <= GOOD.wallFt,
      words:
        wall > 0
          ? `No wall outside the house is over ${measure(Math.ceil(wall), "feet", 1)} tall.`
          : "No wall is needed outside the house.",
    },
    {
      met: drive <= Math.max(GOOD.drivePct, site.request.rules.driveway.maxGradePct),
      words: `A car gets to the garage at ${measure(drive, "feet in a ratio", 1)} in 100 or less.`,
    },
    {
      met: share <= GOOD.premiumSharePct,
      words: `The hill adds about ${Math.max(0, Math.round(share))} % to the cost on flat land.`,
    },
  ];
}

/** What each test would have to come down to for a milder verdict. */
export function milderIf(tests: readonly Test[], share = 1): string[] {
  return tests.map(({ name, unit, measured, limit }) => {
    const to = Math.floor(share * limit);
    const from =
      Math.round(measured) > to ? `came down from about ${Math.round(measured)} to` : "came just under";
    return `It would read milder if ${name} ${from} ${to}${unit}.`;
  });
}

/** The two tests nearest to a harder verdict. */
export function harderIf(tests: readonly Test[]): string[] {
  return [...tests]
    .sort((a, b) => b.measured / b.limit - a.measured / a.limit)
    .slice(0, 2)
    .map(({ name, unit, measured, limit }) =>
      Math.round(measured) === limit
        ? `It stands right at a limit: with ${name} over ${limit}${unit} it would read harder.`
        : `It would read harder if ${name} went from about ${Math.round(measured)} to over ${limit}${unit}.`,
    );
}

/** A stricter slope rule that would leave no room for the house. */
export function noRoomIf(facts: StudyFacts): string[] {
  const { slopeLimitPct, areaFt2 } = facts.site.lot.buildable;
  const stricter = buildableAtLimit(facts, slopeLimitPct - 5);
  return stricter !== null && stricter < neededGroundFt2(facts) && areaFt2 > 0
    ? [
        `There would be no room for this house if the slope rule were ${slopeLimitPct - 5} % instead of ${slopeLimitPct} %.`,
      ]
    : [];
}

/** From three acres on, square feet say little. */
const LARGE_FT2 = 3 * SQUARE_FEET_PER_ACRE;

/** An area as a buyer reads it, to a hundred square feet or one part in a hundred. */
export function squareFeet(areaFt2: number): string {
  return areaFt2 < LARGE_FT2
    ? measure(areaFt2, "square feet", Math.max(100, areaFt2 / 100))
    : measure(toAcres(areaFt2), "acre", toAcres(areaFt2) / 100);
}
