/** Items that are not quantity × price, and the bill at its likely figures. */
import type { QuantityLine } from "../bill/bill.js";
import type { CostEvent } from "../bill/cost-event.js";
import type { BookItem } from "../book/book.js";
import type { StudyDraws } from "./study-draws.js";

/** Fewest dollars a contractor comes out for, before the region factor. From memory. */
export const LEAST_CHARGE_USD: Readonly<Record<string, number>> = { EXCAV: 6000 };

/** Items worked out from others or from the months, in this order in every draw. */
export const SHARE_CODES: ReadonlySet<string> = new Set(["HILLFRAME", "GENCOND", "FEE", "ARCH"]);

/** True for a price in percent of something. */
export function isShare({ unit }: BookItem): boolean {
  return unit.startsWith("%");
}

/**
 * The bill at every likely price and quantity, events left out unless they are certain or more likely than not.
 *
 * @param buildingMonths the middle of the months that general conditions are paid for
 */
export function likelyBill(
  draws: StudyDraws,
  lines: readonly QuantityLine[],
  events: readonly CostEvent[],
  { regionFactor, buildingMonths }: { readonly regionFactor: number; readonly buildingMonths: number },
): ReadonlyMap<string, number> {
  const usd = new Map<string, number>();
  const add = (code: string, more: number) => usd.set(code, (usd.get(code) ?? 0) + more);
  const ofLine = (line: QuantityLine) => line.quantity * draws.item(line.code).likely * (line.factor ?? 1);
  let works = 0;
  for (const line of lines) {
    if (SHARE_CODES.has(line.code)) continue;
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
    if (!lines.some((l) => l.code === code)) return 0;
    const item = draws.item(code);
    const cost = isShare(item) ? (item.likely * base) / 100 : item.likely * buildingMonths;
    add(code, cost);
    return cost;
  };
  works += share("HILLFRAME", usd.get("HOUSE") ?? 0);
  const staff = share("GENCOND", works);
  share("FEE", works + staff);
  share("ARCH", works);
  return usd;
}
