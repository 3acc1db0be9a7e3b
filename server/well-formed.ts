/** What is sent, made fit to be kept: no database keeps U+0000 or half of a surrogate pair, and no caller means them. */

const REPLACEMENT = "\uFFFD";
/** Deeper than any request or GeoJSON; what walks through a request must not run out of stack. */
const DEEPEST = 64;

/** A text with such characters replaced by U+FFFD. */
export const wellFormed = (text: string): string =>
  text.replaceAll("\0", REPLACEMENT).replace(/\p{Surrogate}/gu, REPLACEMENT);

/** The same for every text and name inside a JSON value. @throws {RangeError} when it is nested deeper than `DEEPEST`. */
export function wellFormedJson(value: unknown, depth = 0): unknown {
  if (typeof value === "string") return wellFormed(value);
  if (typeof value !== "object" || value === null) return value;
  if (depth >= DEEPEST) throw new RangeError(`it is nested deeper than ${DEEPEST}`);
  if (Array.isArray(value)) return value.map((item) => wellFormedJson(item, depth + 1));
  return Object.fromEntries(
    Object.entries(value).map(([name, item]) => [wellFormed(name), wellFormedJson(item, depth + 1)]),
  );
}

/** A cheap look at the text of a JSON value: most hold no such character and need no copy. */
const SUSPECT = /\\u(?:0000|[dD][89a-fA-F])/;

/** Parsed JSON as it may be worked with. @throws {RangeError} when it is nested too deeply. */
export function usable(parsed: unknown, text: string): unknown {
  if (SUSPECT.test(text)) return wellFormedJson(parsed);
  checkDepth(parsed, 0);
  return parsed;
}

function checkDepth(value: unknown, depth: number): void {
  if (typeof value !== "object" || value === null) return;
  if (depth >= DEEPEST) throw new RangeError(`it is nested deeper than ${DEEPEST}`);
  for (const item of Array.isArray(value) ? value : Object.values(value)) checkDepth(item, depth + 1);
}
