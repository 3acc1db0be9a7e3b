/** What a shot is of, by its description. */
import type { StudyRequest } from "../request/request.js";
import { CODE_RULES, type CodeRule } from "./description-codes.js";

export interface CodeMeaning {
  readonly kind: CodeRule["kind"];
  /** Whether the shot lies on the natural surface and may carry a facet. */
  readonly ground: boolean;
  /** False when no rule knew the code and it was taken for ground. */
  readonly known: boolean;
  /** May be joined with its neighbours on the same line. */
  readonly breakline: boolean;
}

const GROUND_UNKNOWN: CodeMeaning = { kind: "ground", ground: true, known: false, breakline: false };

/** Reads descriptions by the table above, after the caller's own codes. Empty descriptions are ground. */
export function descriptionReader(
  codes: StudyRequest["survey"]["codes"],
): (description: string) => CodeMeaning {
  const own = (["ground", "breakline", "tree", "structure", "utility", "ignore"] as const).map((kind) => ({
    kind,
    patterns: (codes?.[kind] ?? []).map(wildcard),
  }));
  return (description) => {
    const text = description.trim().toUpperCase();
    if (text === "") return { ...GROUND_UNKNOWN, known: true };
    const words = wordsOf(text);
    const mine = own.find(({ patterns }) => patterns.some((fits) => fits(text) || words.some(fits)));
    if (mine) return ownMeaning(mine.kind);
    const rule = COMPILED.find(({ matches }) => words.some(matches));
    return rule ? { kind: rule.kind, ground: rule.ground, known: true, breakline: false } : GROUND_UNKNOWN;
  };
}

function ownMeaning(kind: "ground" | "breakline" | "tree" | "structure" | "utility" | "ignore"): CodeMeaning {
  if (kind === "ground" || kind === "breakline")
    return { kind: "ground", ground: true, known: true, breakline: kind === "breakline" };
  if (kind === "ignore") return { kind: "ignored", ground: false, known: true, breakline: false };
  return { kind, ground: kind === "tree", known: true, breakline: false };
}

/** Words without digits and punctuation: "OAK18" and "OAK 18" are both OAK. */
function wordsOf(text: string): string[] {
  return text.split(/[^A-Z]+/).filter((word) => word !== "");
}

/** "OAK*" to a test of a whole word or description; * stands for anything, every other character for itself. */
function wildcard(pattern: string): (text: string) => boolean {
  const [head = "", ...rest] = pattern.trim().toUpperCase().split(/\*+/);
  const tail = rest.pop();
  if (tail === undefined) return (text) => text === head;
  return (text) => {
    if (!text.startsWith(head)) return false;
    let from = head.length;
    for (const part of rest) {
      const at = text.indexOf(part, from);
      if (at < 0) return false;
      from = at + part.length;
    }
    return text.length - tail.length >= from && text.endsWith(tail);
  };
}

const COMPILED = CODE_RULES.map(({ kind, ground, words }) => {
  const all = words.split(" ");
  const exact = new Set(all.filter((word) => !word.includes("*")));
  const open = all.filter((word) => word.includes("*")).map(wildcard);
  return { kind, ground, matches: (word: string) => exact.has(word) || open.some((fits) => fits(word)) };
});
