/** The bill as a table: each item at low, likely and high, beside the flat lot. */
import type { QuantityLine } from "../bill/bill.js";
import type { Percentiles } from "../chance/percentiles.js";
import type { SchemeCost } from "./cost.js";
import { eventCode, type Job } from "./draw-costs.js";
import { isShare, LEAST_CHARGE_USD, likelyBill } from "./shares.js";
import { type StudyDraws, spreadOf } from "./study-draws.js";

const NOTHING: Percentiles = { p10: 0, p50: 0, p90: 0 };

/** A bill with the middle of the months that general conditions are paid for. */
export type BilledJob = Pick<Job, "lines" | "events" | "regionFactor"> & {
  readonly months: Percentiles;
};

/** Likely is quantity × likely price, so the column adds up; low and high are one in ten for each item alone. An event counts in the likely column only when it is more likely than not. */
export function listItems(
  draws: StudyDraws,
  hill: BilledJob,
  flat: BilledJob,
  premiums: ReadonlyMap<string, Percentiles>,
): SchemeCost["items"] {
  const likelyOf = ({ lines, events, regionFactor, months }: BilledJob) =>
    likelyBill(draws, lines, events, { regionFactor, buildingMonths: months.p50 });
  const likely = likelyOf(hill);
  const flatLikely = likelyOf(flat);
  const codes = new Set([...hill.lines, ...flat.lines].map((l) => l.code));
  const items = [...codes].map((code) => {
    const item = draws.item(code);
    const own = hill.lines.filter((l) => l.code === code);
    const likelyUsd = likely.get(code) ?? 0;
    const byMonth = code === "GENCOND" && !isShare(item);
    const leastUsd = own.length > 0 ? (LEAST_CHARGE_USD[code] ?? 0) * hill.regionFactor : 0;
    // a least charge holds at either end of the range too
    const freeUsd = leastUsd > 0 ? own.reduce((sum, l) => sum + costAt(item.likely, l), 0) : likelyUsd;
    const [low, high] = rangeOf(item, byMonth ? spreadOfMonths(hill.months) : own[0] && spreadOf(own[0]));
    return {
      code,
      label: item.label,
      quantity: byMonth
        ? hill.months.p50
        : isShare(item)
          ? own.length && item.likely
          : own.reduce((sum, l) => sum + l.quantity, 0),
      unit: item.unit,
      lowUsd: Math.max(leastUsd, freeUsd * low),
      likelyUsd,
      highUsd: Math.max(leastUsd, freeUsd * high),
      flatLikelyUsd: flatLikely.get(code) ?? 0,
      premiumUsd: premiums.get(code) ?? NOTHING,
      trace: byMonth
        ? `months from the first machine to the keys, ${monthsInWords(hill.months)}; on the flat lot ${monthsInWords(flat.months)}`
        : `${own.map((l) => l.trace).join("; ") || "on the flat lot only"}${freeUsd < leastUsd ? "; so little that coming out at all sets the price" : ""}`,
    };
  });
  const eventItems = hill.events.map((event) => {
    const code = eventCode(event);
    const ifSo = event.lines.map((l) => {
      const item = draws.item(l.code);
      const usd = costAt(item.likely, l);
      const [low, high] = rangeOf(item, spreadOf(l));
      return { low: usd * low, high: usd * high };
    });
    const certain = event.chance === 1;
    return {
      code,
      label: event.name,
      quantity: event.chance,
      unit: "chance",
      lowUsd: certain ? ifSo.reduce((sum, l) => sum + l.low, 0) : 0,
      likelyUsd: likely.get(code) ?? 0,
      highUsd: ifSo.reduce((sum, l) => sum + l.high, 0),
      flatLikelyUsd: flatLikely.get(code) ?? 0,
      premiumUsd: premiums.get(code) ?? NOTHING,
      trace: `${event.because}; if so: ${event.lines.map((l) => `${l.code} ${l.trace}`).join(", ")}`,
    };
  });
  return [...items, ...eventItems];
}

function costAt(priceUsd: number, { quantity, factor = 1 }: QuantityLine): number {
  return quantity * priceUsd * factor;
}

/** P10 and P90 over the likely value of price × quantity, both varying on their own: their log spreads add in squares. */
function rangeOf(
  { low, likely, high }: { readonly low: number; readonly likely: number; readonly high: number },
  [qLow, qHigh]: readonly [number, number] = [1, 1],
): readonly [number, number] {
  if (likely === 0) return [0, 0];
  const spread = (price: number, quantity: number) =>
    Math.exp(Math.hypot(Math.log(price), Math.log(quantity)));
  return [1 / spread(likely / low, 1 / qLow), spread(high / likely, qHigh)];
}

function spreadOfMonths({ p10, p50, p90 }: Percentiles): readonly [number, number] {
  return [p10 / p50, p90 / p50];
}

function monthsInWords({ p10, p50, p90 }: Percentiles): string {
  return `${p50.toFixed(0)} (${p10.toFixed(0)} to ${p90.toFixed(0)})`;
}
