/** Adds up one bill in every draw. Method: docs/methods/cost.md */
import type { QuantityLine } from "../bill/bill.js";
import type { CostEvent } from "../bill/cost-event.js";
import type { MarketGroup } from "../book/book.js";
import { type ColumnPool, type Part, sumParts } from "../chance/columns.js";
import { isShare, LEAST_CHARGE_USD, SHARE_CODES } from "./shares.js";
import type { StudyDraws } from "./study-draws.js";

/** Cost of one line, of one share or of what an event adds in one trade (`IF-…`): times × column in every draw. */
export interface CostPart extends Part {
  readonly code: string;
  readonly group: MarketGroup;
}

export interface BillDraws {
  readonly total: Float64Array;
  /** Works below the top of the foundation: earthwork, concrete and walls, utilities and what events add to them. */
  readonly sitework: Float64Array;
  readonly byGroup: Readonly<Record<MarketGroup, Float64Array>>;
  /** Sum to the total in every draw. */
  readonly parts: readonly CostPart[];
  /** What each event adds to the total when it happens, in every draw whether it does or not. */
  readonly events: readonly { readonly event: CostEvent; readonly addsUsd: Float64Array }[];
}

export interface Job {
  readonly lines: readonly QuantityLine[];
  readonly events: readonly CostEvent[];
  readonly regionFactor: number;
  /** First machine to keys; as many draws as go evenly into those of the money, met again and again. */
  readonly buildingMonths: Float64Array;
}

const SITEWORK = ["E", "C", "U"] as const;
const GROUPS = [...SITEWORK, "H", "P", "F", "M"] as const;

/**
 * Cost of the job in every draw: quantity × price for each line, events where they happen, then
 * HILLFRAME of HOUSE, GENCOND per month of building (or of works, where the book gives a percentage),
 * FEE of works and GENCOND, ARCH of works. Works are groups E, C, H and U.
 *
 * @param pool where the columns of the outcome are taken from
 */
export function drawBill(
  draws: StudyDraws,
  { lines, events, regionFactor, buildingMonths }: Job,
  pool: ColumnPool,
): BillDraws {
  const parts: CostPart[] = lines
    .filter((line) => !SHARE_CODES.has(line.code))
    .map((line) => costOfLine(draws, line, (LEAST_CHARGE_USD[line.code] ?? 0) * regionFactor, pool));
  const eventDraws = events.map((event) => drawEvent(draws, event, pool, parts));

  const sums = new Map<MarketGroup, Float64Array>();
  for (const group of GROUPS)
    sums.set(
      group,
      sumParts(
        parts.filter((p) => p.group === group),
        pool.take(),
      ),
    );
  const sumOf = (group: MarketGroup) => sums.get(group)!;
  const add = (code: string, column: Float64Array) => {
    const { group } = draws.item(code);
    parts.push({ code, group, column, times: 1 });
    addTo(sumOf(group), column);
  };
  const rateOf = (code: string) => (lines.some((line) => line.code === code) ? draws.priceDraws(code) : null);
  const addShare = (code: string, base: Float64Array) => {
    const percent = rateOf(code);
    if (!percent) return;
    add(code, percentOf(percent, base, pool.take()));
  };

  addShare(
    "HILLFRAME",
    sumParts(
      parts.filter((p) => p.code === "HOUSE"),
      pool.take(),
    ),
  );
  const sitework = pool.take();
  const works = pool.take();
  const [earth, concrete, utilities, house] = [sumOf("E"), sumOf("C"), sumOf("U"), sumOf("H")];
  for (let i = 0; i < works.length; i++) {
    sitework[i] = earth[i]! + concrete[i]! + utilities[i]!;
    works[i] = sitework[i]! + house[i]!;
  }
  const staff = rateOf("GENCOND");
  const staffIsShare = isShare(draws.item("GENCOND"));
  if (staff && staffIsShare) addShare("GENCOND", works);
  else if (staff) add("GENCOND", perMonth(staff, buildingMonths, pool.take()));
  const [overhead, professionals, fees] = [sumOf("M"), sumOf("P"), sumOf("F")];
  const total = pool.take();
  for (let i = 0; i < total.length; i++) total[i] = works[i]! + overhead[i]!;
  addShare("FEE", total);
  addShare("ARCH", works);
  for (let i = 0; i < total.length; i++) total[i] = works[i]! + overhead[i]! + professionals[i]! + fees[i]!;

  // an event is work like any other: fee, architect and what else is a share of the works come on top
  const [fee, architect] = [rateOf("FEE"), rateOf("ARCH")];
  const onTop = pool.take();
  for (let i = 0; i < onTop.length; i++)
    onTop[i] =
      (1 + (staff && staffIsShare ? 0.01 * staff[i]! : 0)) * (1 + (fee ? 0.01 * fee[i]! : 0)) +
      (architect ? 0.01 * architect[i]! : 0);
  for (const { addsUsd } of eventDraws) for (let i = 0; i < onTop.length; i++) addsUsd[i]! *= onTop[i]!;
  return {
    total,
    sitework,
    byGroup: Object.fromEntries(sums) as BillDraws["byGroup"],
    parts,
    events: eventDraws,
  };
}

/** What an event adds; where it happens also among the parts of the bill, trade by trade. */
function drawEvent(
  draws: StudyDraws,
  event: CostEvent,
  pool: ColumnPool,
  parts: CostPart[],
): BillDraws["events"][number] {
  const happens = draws.occurrences(event.id, event.chance);
  const costs = event.lines.map((line) => costOfLine(draws, line, 0, pool, event.id));
  for (const group of new Set(costs.map((c) => c.group))) {
    const column = sumParts(
      costs.filter((c) => c.group === group),
      pool.take(),
    );
    for (let i = 0; i < column.length; i++) column[i]! *= happens[i]!;
    parts.push({ code: eventCode(event), group, column, times: 1 });
  }
  return { event, addsUsd: sumParts(costs, pool.take()) };
}

export function eventCode({ id }: CostEvent): string {
  return `IF-${id.toUpperCase()}`;
}

/** Quantity × price × factor; a column of its own only where it is not a multiple of one that others share. */
function costOfLine(
  draws: StudyDraws,
  line: QuantityLine,
  leastUsd: number,
  pool: ColumnPool,
  eventId: string | null = null,
): CostPart {
  const { code, factor = 1 } = line;
  const { group } = draws.item(code);
  if (!line.surveySigma && leastUsd === 0)
    return { code, group, column: draws.unitDraws(line, eventId), times: line.quantity * factor };
  const column = drawQuantity(draws, line, eventId, pool.take());
  const price = draws.priceDraws(code);
  for (let i = 0; i < column.length; i++) {
    const usd = column[i]! * factor * price[i]!;
    column[i] = Math.max(usd, leastUsd);
  }
  return { code, group, column, times: 1 };
}

/** Quantity of a line in every draw, into `out`: likely × growth + survey error, never below 0. */
export function drawQuantity(
  draws: StudyDraws,
  line: QuantityLine,
  eventId: string | null,
  out: Float64Array,
): Float64Array {
  const growth = draws.quantityDraws(line, eventId);
  const { quantity, surveySigma = 0 } = line;
  if (growth) for (let i = 0; i < out.length; i++) out[i] = quantity * growth[i]!;
  else out.fill(quantity);
  if (surveySigma === 0) return out;
  const bias = draws.surveyScores();
  for (let i = 0; i < out.length; i++) {
    const surveyed = out[i]! + surveySigma * bias[i]!;
    out[i] = Math.max(surveyed, 0);
  }
  return out;
}

function addTo(sum: Float64Array, column: Float64Array): void {
  for (let i = 0; i < sum.length; i++) sum[i]! += column[i]!;
}

function percentOf(percent: Float64Array, base: Float64Array, out: Float64Array): Float64Array {
  for (let i = 0; i < out.length; i++) out[i] = 0.01 * percent[i]! * base[i]!;
  return out;
}

function perMonth(rate: Float64Array, months: Float64Array, out: Float64Array): Float64Array {
  for (let i = 0; i < out.length; i += months.length)
    for (let k = 0; k < months.length; k++) out[i + k] = rate[i + k]! * months[k]!;
  return out;
}
