/** Reads a cost book and refuses what would make prices wrong or silently missing. */
import { z } from "zod";
import type { Problem } from "../assumptions.js";
import type { CostBook } from "./book.js";
import { ITEM_CODES, isItemCode, UNITS_OF_SHARES, unknownCode } from "./codes.js";

const GROUPS = ["E", "C", "H", "U", "P", "F", "M"] as const;

const price = z.number().finite().nonnegative();
const bookSchema = z.strictObject({
  id: z.string().min(1).max(80),
  name: z.string().min(1).max(200),
  date: z.string().min(4).max(40),
  region: z.string().min(1).max(400),
  items: z.array(
    z.strictObject({
      code: z.string().min(1).max(40),
      label: z.string().min(1).max(200),
      unit: z.string().min(1).max(60),
      low: price,
      likely: price,
      high: price,
      group: z.enum(GROUPS, `must be one of ${GROUPS.join(", ")}`),
      origin: z.string().min(1).max(400),
      date: z.string().min(4).max(40),
      note: z.string().max(1000),
    }),
  ),
});

export type BookReading =
  | { readonly ok: true; readonly book: CostBook }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Returns the book, or every fault found in it: wrong shape or market group, prices out of order,
 * a zero that makes a range impossible, a code twice, a code the product does not know (with the nearest
 * names), a code the product needs and the book lacks. Never throws.
 */
export function parseCostBook(json: unknown): BookReading {
  const read = bookSchema.safeParse(json);
  if (!read.success)
    return {
      ok: false,
      problems: read.error.issues.map((issue) => ({
        code: issue.path.at(-1) === "group" ? "book-unknown-group" : "book-shape",
        where: ["book", ...issue.path].join("."),
        message: issue.message,
        remedy: "Correct this field; demo-data/cost-book.json shows the shape.",
      })),
    };

  const book = read.data;
  const problems: Problem[] = [];
  const seen = new Set<string>();
  book.items.forEach(({ code, unit, low, likely, high }, i) => {
    const where = `book.items.${i}`;
    if (!(low <= likely && likely <= high))
      problems.push({
        code: "book-price-order",
        where,
        message: `${code}: low ${low}, likely ${likely}, high ${high} are not in rising order.`,
        remedy: "Give low ≤ likely ≤ high: one job in ten is cheaper than low, one in ten dearer than high.",
      });
    else if (low === 0 && high > 0)
      problems.push({
        code: "book-price-zero",
        where: `${where}.low`,
        message: `${code}: low is 0 but high is ${high}.`,
        remedy: "Give a low price above 0, or 0 for all three to leave the item out.",
      });
    const units = UNITS_OF_SHARES.get(code);
    if (units && !units.some((known) => (known === "%" ? unit.startsWith(known) : unit === known)))
      problems.push({
        code: "book-unit",
        where: `${where}.unit`,
        message: `${code} is worked out in every draw, and its unit is "${unit}".`,
        remedy: `Give ${units.map((known) => (known === "%" ? 'a percentage, such as "% of works"' : `"${known}"`)).join(" or ")}.`,
      });
    if (seen.has(code))
      problems.push({
        code: "book-duplicate-code",
        where,
        message: `${code} is listed twice.`,
        remedy: "Keep one.",
      });
    else if (!isItemCode(code)) problems.push(unknownCode("book-unknown-code", `${where}.code`, code));
    seen.add(code);
  });
  const missing = ITEM_CODES.filter((code) => !seen.has(code));
  if (missing.length)
    problems.push({
      code: "book-missing-code",
      where: "book.items",
      message: `No price for ${missing.join(", ")}.`,
      remedy: "Add these items: a study may need any of them.",
    });
  return problems.length ? { ok: false, problems } : { ok: true, book };
}
