/** Prices as they stand for one request: the book, brought to its region and date, with the caller's own on top. */
import type { Problem } from "../assumptions.js";
import type { StudyRequest } from "../request/request.js";
import type { BookItem, CostBook } from "./book.js";
import { isItemCode, unknownCode } from "./codes.js";

/** Items whose low, likely and high are the rates of a plain, a good and a high finish. */
const BY_FINISH: ReadonlySet<string> = new Set(["HOUSE", "BSMTFIN"]);
/** The finish is chosen, so what is left open of its rate is small. Judgement of the trade, no source. */
const FINISH_SPREAD = 0.12;

/**
 * The book's items with the prices of this request: price × region factor (not on fees) × index now ÷ index at the book's date.
 * A price typed in the request stands as typed. Shares ("%") are neither regional nor escalated.
 * HOUSE and BSMTFIN become the rate of the chosen finish with a narrow spread: the finish is a choice, not a risk.
 */
export function currentPrices(book: CostBook, { costs }: StudyRequest): ReadonlyMap<string, BookItem> {
  const { regionFactor, escalation, overrides, finishLevel } = costs;
  const toToday = escalation ? escalation.indexNow / escalation.indexAtBook : 1;
  return new Map(
    book.items.map((item) => {
      const own = overrides[item.code];
      const factor = own || item.unit.startsWith("%") ? 1 : toToday * (item.group === "F" ? 1 : regionFactor);
      const { low, likely, high } = own ?? item;
      const price = { ...item, low: low * factor, likely: likely * factor, high: high * factor };
      return [item.code, BY_FINISH.has(item.code) ? ofFinish(price, finishLevel) : price];
    }),
  );
}

/** Likely price of every item for this request, USD per unit of the item; percent for shares. */
export function likelyPrices(book: CostBook, request: StudyRequest): Readonly<Record<string, number>> {
  return Object.fromEntries([...currentPrices(book, request)].map(([code, item]) => [code, item.likely]));
}

/** One problem for each price in the request that names no known item. */
export function checkOverrides(
  book: CostBook,
  request: { readonly costs: Pick<StudyRequest["costs"], "overrides"> },
): Problem[] {
  const inBook = new Set(book.items.map((item) => item.code));
  return Object.entries(request.costs.overrides).flatMap(([code, price]): Problem[] => {
    if (!inBook.has(code) || !isItemCode(code))
      return [unknownCode("cost-unknown-item", `request.costs.${code}`, code)];
    if (price.low === 0 && price.high > 0)
      return [
        {
          code: "cost-price-zero",
          where: `request.costs.${code}.low`,
          message: `${code}: low is 0 but high is ${price.high}.`,
          remedy: "Give a low price above 0, or 0 for all three to leave the item out.",
        },
      ];
    return unitProblem(code, price, book.items.find((item) => item.code === code)!.unit);
  });
}

/** A price typed in the unit of another book: a month of site staff costs more than 100 USD, a share is no more than 100 %. */
function unitProblem(
  code: string,
  price: StudyRequest["costs"]["overrides"][string],
  unit: string,
): Problem[] {
  const isShare = unit.startsWith("%");
  if (isShare ? price.high <= 100 : code !== "GENCOND" || price.likely === 0 || price.likely > 100) return [];
  return [
    {
      code: "cost-unit",
      where: `request.costs.${code}`,
      message: isShare
        ? `${code} is a percentage ("${unit}") in this cost book, and ${price.high} is more than the whole.`
        : `${code} is USD for each ${unit} of building in this cost book, and ${price.likely} looks like a percentage.`,
      remedy: isShare
        ? "Give a percentage."
        : `Give USD for each month from the first machine to the keys, or choose a cost book that has ${code} in "% of works".`,
    },
  ];
}

function ofFinish(item: BookItem, finish: "plain" | "good" | "high"): BookItem {
  const rate = finish === "plain" ? item.low : finish === "high" ? item.high : item.likely;
  return {
    ...item,
    low: rate * (1 - FINISH_SPREAD),
    likely: rate,
    high: rate * (1 + FINISH_SPREAD),
  };
}
