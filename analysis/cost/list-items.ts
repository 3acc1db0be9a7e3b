/** The bill as a table: each item at low, likely and high, beside the flat lot. */
import type { QuantityLine } from "../bill/bill.js";
import type { SchemeCost } from "./cost.js";
import type { CostEvent } from "./cost-event.js";
import { likelyBill } from "./draw-costs.js";
import { CAUSE_SPREADS, type StudyDraws } from "./study-draws.js";

/** Likely is quantity × likely price, so the column adds up; low and high are one in ten for each item alone. An event counts in the likely column only when it is more likely than not. */
export function listItems(
  draws: StudyDraws,
  lines: readonly QuantityLine[],
  events: readonly CostEvent[],
  flatLines: readonly QuantityLine[],
  regionFactor: number,
): SchemeCost["items"] {
  const likely = likelyBill(draws, lines, events, regionFactor);
  const flatLikely = likelyBill(draws, flatLines, [], regionFactor);
  const codes = new Set([...lines.map((l) => l.code), ...flatLines.map((l) => l.code)]);
  const items = [...codes].map((code) => {
    const item = draws.item(code);
    const own = lines.filter((l) => l.code === code);
    const likelyUsd = likely.get(code) ?? 0;
    const [low, high] = rangeOf(item, own[0]);
    const isShare = item.unit.startsWith("%");
    return {
      code,
      label: item.label,
      quantity: isShare ? (own.length ? item.likely : 0) : own.reduce((sum, l) => sum + l.quantity, 0),
      unit: item.unit,
      lowUsd: likelyUsd * low,
      likelyUsd,
      highUsd: likelyUsd * high,
      flatLikelyUsd: flatLikely.get(code) ?? 0,
      trace: own.map((l) => l.trace).join("; ") || "on the flat lot only",
    };
  });
  const eventItems = events.map((event) => {
    const code = `IF-${event.id.toUpperCase()}`;
    const ifSo = event.lines.map((l) => {
      const item = draws.item(l.code);
      const usd = l.quantity * item.likely * (l.factor ?? 1);
      const [low, high] = rangeOf(item, l);
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
      flatLikelyUsd: 0,
      trace: `${event.because}; if so: ${event.lines.map((l) => `${l.code} ${l.trace}`).join(", ")}`,
    };
  });
  return [...items, ...eventItems];
}

/** P10 and P90 over the likely value of price × quantity, both varying on their own: their log spreads add in squares. */
function rangeOf(
  { low, likely, high }: { readonly low: number; readonly likely: number; readonly high: number },
  line: QuantityLine | undefined,
): readonly [number, number] {
  if (likely === 0) return [0, 0];
  const [qLow, qHigh] =
    line?.spread ?? (line && line.cause !== "severity" ? CAUSE_SPREADS[line.cause] : [1, 1]);
  const spread = (price: number, quantity: number) =>
    Math.exp(Math.hypot(Math.log(price), Math.log(quantity)));
  return [1 / spread(likely / low, 1 / qLow), spread(high / likely, qHigh)];
}
