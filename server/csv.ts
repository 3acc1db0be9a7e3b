/** Comma-separated text (RFC 4180). */

export type Cell = string | number | null | undefined;

/** One CRLF-ended line a row. Text a spreadsheet would run as a formula is led by an apostrophe. */
export function csv(rows: readonly (readonly Cell[])[]): string {
  return rows.map((row) => `${row.map(cell).join(",")}\r\n`).join("");
}

function cell(value: Cell): string {
  if (value === null || value === undefined) return "";
  if (typeof value === "number") return String(value);
  const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
