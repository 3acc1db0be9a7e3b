/** Adds up one bill in every draw. Method: docs/methods/cost.md */

import type { QuantityLine } from "../bill/bill.js";
import type { MarketGroup } from "../book/book.js";
import type { CostEvent } from "./cost-event.js";
import type { StudyDraws } from "./study-draws.js";

/** Fewest dollars a contractor comes out for, before the region factor. From memory. */
const LEAST_CHARGE_USD: Readonly<Record<string, number>> = { EXCAV: 6000 };

/** Items that are a share of others, worked out in this order in every draw. */
const SHARES = new Set(["HILLFRAME", "GENCOND", "FEE", "ARCH"]);

type GroupDraws = Readonly<Record<MarketGroup, Float64Array>>;

export interface BillDraws {
  readonly total: Float64Array;
  /** Works below the top of the foundation: earthwork, concrete and walls, utilities and what events add to them. */
  readonly sitework: Float64Array;
  readonly byGroup: GroupDraws;
  /** What each event adds to the total when it happens, in every draw whether it does or not. */
  readonly events: readonly { readonly event: CostEvent; readonly addsUsd: Float64Array }[];
}

/** Told the cost of one line (or `IF-…` for an event, with its yes/no already taken) in every draw. The array is reused: copy to keep. */
export type LineObserver = (code: string, costUsd: Float64Array, line: QuantityLine | null) => void;

/**
 * Cost of the bill in every draw: quantity × price for each line, events where they happen, then the shares
 * HILLFRAME of HOUSE, GENCOND of works, FEE of works and GENCOND, ARCH of works.
 * Works are groups E, C, H and U. Costs of all lines and events sum to the total in every draw.
 */
export function drawBill(
  draws: StudyDraws,
  lines: readonly QuantityLine[],
  events: readonly CostEvent[],
  regionFactor: number,
  observe?: LineObserver,
): BillDraws {
  const n = draws.count;
  const zero = () => new Float64Array(n);
  const byGroup = { E: zero(), C: zero(), H: zero(), U: zero(), P: zero(), F: zero(), M: zero() };
  const house = zero();
  const scratch = zero();

  for (const line of lines) {
    if (SHARES.has(line.code)) continue;
    costOfLine(draws, line, null, (LEAST_CHARGE_USD[line.code] ?? 0) * regionFactor, scratch);
    addTo(byGroup[draws.item(line.code).group], scratch);
    if (line.code === "HOUSE") addTo(house, scratch);
    observe?.(line.code, scratch, line);
  }

  const eventDraws = events.map((event) => {
    const addsUsd = zero();
    const happens = draws.occurrences(event.id, event.chance);
    for (const line of event.lines) {
      costOfLine(draws, line, event.id, 0, scratch);
      addTo(addsUsd, scratch);
      addTo(byGroup[draws.item(line.code).group], scratch, happens);
    }
    observe?.(
      `IF-${event.id.toUpperCase()}`,
      addsUsd.map((usd, i) => usd * happens[i]!),
      null,
    );
    return { event, addsUsd };
  });

  const shareOf = (code: string, base: Float64Array) => {
    const line = lines.find((l) => l.code === code);
    if (!line) return;
    const percent = draws.priceDraws(code);
    for (let i = 0; i < n; i++) scratch[i] = 0.01 * line.quantity * percent[i]! * base[i]!;
    addTo(byGroup[draws.item(code).group], scratch);
    observe?.(code, scratch, line);
  };
  const { E, C, H, U, P, F, M } = byGroup;
  shareOf("HILLFRAME", house);
  const sitework = zero();
  const works = zero();
  for (let i = 0; i < n; i++) {
    sitework[i] = E[i]! + C[i]! + U[i]!;
    works[i] = sitework[i]! + H[i]!;
  }
  shareOf("GENCOND", works);
  const total = zero();
  for (let i = 0; i < n; i++) total[i] = works[i]! + M[i]!;
  shareOf("FEE", total);
  shareOf("ARCH", works);
  for (let i = 0; i < n; i++) total[i] = works[i]! + M[i]! + P[i]! + F[i]!;

  // an event is work like any other: general conditions, fee and architect come on top
  const architect = lines.some((l) => l.code === "ARCH") ? draws.priceDraws("ARCH") : null;
  for (let i = 0; i < n; i++) {
    const onTop = 1 + (works[i]! > 0 ? M[i]! / works[i]! : 0) + (architect ? 0.01 * architect[i]! : 0);
    for (const { addsUsd } of eventDraws) addsUsd[i]! *= onTop;
  }
  return { total, sitework, byGroup, events: eventDraws };
}

/** Quantity × price × factor in every draw, into `out`; at least `leastUsd`. */
function costOfLine(
  draws: StudyDraws,
  line: QuantityLine,
  eventId: string | null,
  leastUsd: number,
  out: Float64Array,
): void {
  drawQuantity(draws, line, eventId, out);
  const price = draws.priceDraws(line.code);
  const factor = line.factor ?? 1;
  for (let i = 0; i < out.length; i++) out[i]! *= factor * price[i]!;
  if (leastUsd > 0) for (let i = 0; i < out.length; i++) out[i] = Math.max(leastUsd, out[i]!);
}

/** Quantity of a line in every draw, into `out`: likely × growth + survey error, never below 0. */
export function drawQuantity(
  draws: StudyDraws,
  line: QuantityLine,
  eventId: string | null,
  out: Float64Array,
): void {
  const growth = draws.quantityDraws(line, eventId);
  if (growth) for (let i = 0; i < out.length; i++) out[i] = line.quantity * growth[i]!;
  else out.fill(line.quantity);
  if (!line.surveySigma) return;
  const bias = draws.surveyScores();
  for (let i = 0; i < out.length; i++) out[i] = Math.max(0, out[i]! + line.surveySigma * bias[i]!);
}

export function addTo(sum: Float64Array, more: Float64Array, where?: Float64Array): void {
  if (where) for (let i = 0; i < sum.length; i++) sum[i]! += more[i]! * where[i]!;
  else for (let i = 0; i < sum.length; i++) sum[i]! += more[i]!;
}

/** The bill at every likely price and quantity, events left out unless they are certain or more likely than not. */
export function likelyBill(
  draws: StudyDraws,
  lines: readonly QuantityLine[],
  events: readonly CostEvent[],
  regionFactor: number,
): ReadonlyMap<string, number> {
  const usd = new Map<string, number>();
  const add = (code: string, more: number) => usd.set(code, (usd.get(code) ?? 0) + more);
  const ofLine = (line: QuantityLine) => line.quantity * draws.item(line.code).likely * (line.factor ?? 1);
  let works = 0;
  for (const line of lines) {
    if (SHARES.has(line.code)) continue;
    const cost = Math.max((LEAST_CHARGE_USD[line.code] ?? 0) * regionFactor, ofLine(line));
    add(line.code, cost);
    if ("ECHU".includes(draws.item(line.code).group)) works += cost;
  }
  for (const event of events) {
    const cost = event.chance > 0.5 ? event.lines.reduce((sum, l) => sum + ofLine(l), 0) : 0;
    add(`IF-${event.id.toUpperCase()}`, cost);
    works += cost;
  }
  const share = (code: string, base: number) => {
    const line = lines.find((l) => l.code === code);
    const cost = line ? (line.quantity * draws.item(code).likely * base) / 100 : 0;
    if (line) add(code, cost);
    return cost;
  };
  works += share("HILLFRAME", usd.get("HOUSE") ?? 0);
  const genCond = share("GENCOND", works);
  share("FEE", works + genCond);
  share("ARCH", works);
  return usd;
}
