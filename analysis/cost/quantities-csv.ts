/** The bills as a table for a spreadsheet. */
import type { SchemeCost } from "./cost.js";

const COLUMNS = [
  ...["scheme", "scheme_name", "code", "item", "quantity", "unit"],
  ...["low_usd", "likely_usd", "high_usd", "flat_lot_likely_usd", "where_from"],
];

/** A cell that begins like this is run as a formula by common spreadsheets (OWASP, "CSV Injection"). */
const RUNS_AS_FORMULA = /^[=+\-@\t\r]/;

/**
 * One row per item and scheme, comma-separated with CRLF line ends (RFC 4180).
 * A text that would run as a formula is written with an apostrophe before it; numbers are plain numbers.
 */
export function quantitiesCsv(
  schemes: readonly {
    readonly id: string;
    readonly name: string;
    readonly cost: Pick<SchemeCost, "items">;
  }[],
): string {
  const rows = schemes.flatMap(({ id, name, cost }) =>
    cost.items.map((item) => [
      ...[id, name, item.code, item.label, item.quantity, item.unit],
      ...[item.lowUsd, item.likelyUsd, item.highUsd, item.flatLikelyUsd, item.trace],
    ]),
  );
  return [COLUMNS, ...rows].map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

function cell(value: string | number): string {
  if (typeof value === "number") return String(Math.round(value * 100) / 100);
  const text = RUNS_AS_FORMULA.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
