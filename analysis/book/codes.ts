/** The items the product puts quantities to. A book prices every one of them and no other. */
import type { Problem } from "../assumptions.js";

export const ITEM_CODES = [
  ...["MOBIL", "CLEAR", "TREE", "TOPSOIL", "EXCAV", "EXCAV-BSMT", "ROCK-RIP", "ROCK-BREAK", "DEWATER"],
  ...["HAUL", "DUMP", "IMPORT", "FILL", "KEYBENCH", "BACKFILL", "SHORE"],
  ...["WALL-4", "WALL-6", "WALL-8", "WALL-10", "WALL-12", "PIER", "RIG", "GRADEBM", "FOOTING", "VOIDFORM"],
  ...["SLAB", "SLAB-STRUCT", "RAISED", "BSMTWALL", "WPROOF", "DRAIN-WALL", "DRAIN-SLAB", "TIGHTLINE", "SUMP"],
  ...["WELL-S", "WELL-D", "SWALE", "BASIN", "OUTLET", "DETAIN", "DRIVE", "TURN", "UTIL", "SEWPUMP", "SEPTIC"],
  ...["EROSION", "STAKE", "SOILRPT", "SLOPESTAB", "CIVIL", "STRUCT", "OBSERVE", "ARCH", "PERMIT"],
  ...["HOUSE", "HILLFRAME", "GARAGE", "BSMTFIN", "GENCOND", "FEE"],
] as const;

/** Items that are not quantity × price, and the units they can be understood in. */
export const UNITS_OF_SHARES: ReadonlyMap<string, readonly string[]> = new Map([
  ["HILLFRAME", ["%"]],
  ["FEE", ["%"]],
  ["ARCH", ["%"]],
  ["GENCOND", ["month", "%"]],
]);

const KNOWN: ReadonlySet<string> = new Set(ITEM_CODES);

export function isItemCode(code: string): boolean {
  return KNOWN.has(code);
}

export function unknownCode(problemCode: string, where: string, code: string): Problem {
  return {
    code: problemCode,
    where,
    message: `${code} is not an item of the cost book.`,
    remedy: `Did you mean ${nearestCodes(code).join(", ")}?`,
  };
}

/** The known codes that read most like the one given, nearest first, at most three. */
function nearestCodes(code: string): string[] {
  return ITEM_CODES.map((known) => ({ known, changes: changesBetween(code.toUpperCase(), known) }))
    .sort((a, b) => a.changes - b.changes)
    .slice(0, 3)
    .map(({ known }) => known);
}

/** Fewest letters to insert, drop or replace to turn one word into the other (Levenshtein 1965). */
function changesBetween(from: string, to: string): number {
  let row = Array.from({ length: to.length + 1 }, (_, j) => j);
  for (let i = 1; i <= from.length; i++) {
    const next = [i];
    for (let j = 1; j <= to.length; j++)
      next.push(Math.min(next[j - 1]! + 1, row[j]! + 1, row[j - 1]! + (from[i - 1] === to[j - 1] ? 0 : 1)));
    row = next;
  }
  return row[to.length]!;
}
