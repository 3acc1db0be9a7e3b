/** Turns what a schema refused into words somebody can act on, with the nearest known name for a mistyped one. */
import type { z } from "zod";

/** One entry of `errors` in a problem. */
export interface FieldError {
  readonly code?: string;
  readonly where: string;
  readonly row?: number;
  readonly column?: string;
  readonly message: string;
  readonly remedy: string;
}

type Issue = z.core.$ZodIssue;

/** Known names listed in a remedy: as many as the top of a request has, and some more. */
const MOST_NAMES = 30;

export function fieldErrors(issues: readonly Issue[], schema: z.core.$ZodType, where = ""): FieldError[] {
  return issues.flatMap((issue) => oneIssue(issue, schema, where));
}

function oneIssue(issue: Issue, schema: z.core.$ZodType, where: string): FieldError[] {
  const path = joinPath(where, issue.path);
  if (issue.code === "unrecognized_keys") {
    const known = keysAt(schema, issue.path);
    return issue.keys.map((key) => {
      const nearest = nearestName(key, known);
      return {
        code: "unknown-name",
        where: joinPath(path, [key]),
        message: `"${clip(key)}" is not a name this request takes here.`,
        remedy: nearest
          ? `Did you mean "${nearest}"? Otherwise leave it out.`
          : `Leave it out. Known here: ${known.slice(0, MOST_NAMES).join(", ") || "none"}.`,
      };
    });
  }
  const refusals: readonly (readonly Issue[])[] = issue.code === "invalid_union" ? issue.errors : [];
  if (refusals.length > 0) {
    // Every branch has refused: the one that got furthest says most.
    const branches = refusals.map((branch) => ({ branch, depth: depthOf(branch) }));
    const best = branches.reduce((a, b) => (b.depth > a.depth ? b : a));
    if (best.depth >= 1) {
      const branch = branchAt(schema, issue.path, refusals.indexOf(best.branch));
      return best.branch.flatMap((inner) => oneIssue(inner, branch ?? schema, path));
    }
  }
  return [
    {
      code: issue.code.replaceAll("_", "-"),
      where: path,
      message: messageOf(issue),
      remedy: remedyOf(issue),
    },
  ];
}

/** What stands in place of a union's choices, in words. */
const UNION_WORDS: Readonly<Record<string, string>> = {
  topo: 'Send the text of the file, {"points": [[easting, northing, elevation], …]}, or GeoJSON.',
  boundary:
    'Send the text of the file, {"ring": [[easting, northing], …]}, {"start": [easting, northing], "calls": "N 12°30\'00" E 210.55; …"}, or GeoJSON.',
  setbacksFt:
    'Send {"all": 20}, {"front": 30, "side": 15, "rear": 25}, or {"edges": [30, 15, …]} with one number per lot line.',
  expansive: 'Send true, false or "unknown".',
};

function depthOf(branch: readonly Issue[]): number {
  return Math.max(
    ...branch.map(
      (i) => i.path.length + (i.code === "unrecognized_keys" ? 1 : 0) + (i.code === "custom" ? 1 : 0),
    ),
  );
}

function messageOf(issue: Issue): string {
  if (issue.code === "invalid_union") return "None of the forms this value may take fits.";
  const text = issue.message.replace(/^Invalid input: /, "").replace(/^Too (small|big): /, "");
  return text.endsWith(".") ? text : `${text}.`;
}

const COMPARE = "Compare with the example in /docs/api, or leave the name out to take the default.";

function remedyOf(issue: Issue): string {
  switch (issue.code) {
    case "invalid_union":
      return UNION_WORDS[String(issue.path.at(-1))] ?? "Compare with the example in /docs/api.";
    case "invalid_type":
      return issue.expected === "number"
        ? "Send a plain number, without quotes, unit or thousands separator."
        : `Send ${/^[aeiou]/.test(issue.expected) ? "an" : "a"} ${issue.expected}, or leave the name out to take the default.`;
    case "invalid_value":
      return `Send one of: ${issue.values.map(String).join(", ")}.`;
    case "too_small":
      return issue.origin === "number" || issue.origin === "int"
        ? `Send a number ${issue.inclusive ? "of at least" : "above"} ${issue.minimum}.`
        : `Send at least ${issue.minimum}.`;
    case "too_big":
      return issue.origin === "number" || issue.origin === "int"
        ? `Send a number ${issue.inclusive ? "of at most" : "below"} ${issue.maximum}; check the unit.`
        : `Send at most ${issue.maximum}.`;
    case "invalid_format":
      return formatRemedy(issue);
    case "custom":
      return typeof issue.params?.remedy === "string" ? issue.params.remedy : COMPARE;
    default:
      return COMPARE;
  }
}

function formatRemedy(issue: Issue & { code: "invalid_format" }): string {
  if (issue.format === "date") return "Write a date as year-month-day: 2026-03-02.";
  if (issue.format === "uuid") return "Copy the id from the answer that made it.";
  return issue.pattern ? `It must match ${issue.pattern}.` : "Compare with the example in /docs/api.";
}

/** "rules.setbacksFt.edges[2]" */
export function joinPath(where: string, path: readonly PropertyKey[]): string {
  return path.reduce<string>(
    (text, part) =>
      typeof part === "number" ? `${text}[${part}]` : `${text}${text ? "." : ""}${clip(String(part))}`,
    where,
  );
}

function clip(text: string): string {
  return text.length > 80 ? `${text.slice(0, 80)}…` : text;
}

interface Definition {
  readonly type: string;
  readonly shape?: Record<string, z.core.$ZodType>;
  readonly innerType?: z.core.$ZodType;
  readonly element?: z.core.$ZodType;
  readonly options?: readonly z.core.$ZodType[];
  readonly in?: z.core.$ZodType;
}

/** The schemas an optional, default, refinement or union may stand for. */
function inside(schema: z.core.$ZodType): z.core.$ZodType[] {
  const def = schema._zod.def as unknown as Definition;
  if (def.innerType) return inside(def.innerType);
  if (def.in) return inside(def.in);
  if (def.options) return def.options.flatMap(inside);
  return [schema];
}

function at(schema: z.core.$ZodType, path: readonly PropertyKey[]): z.core.$ZodType[] {
  return path.reduce<z.core.$ZodType[]>(
    (found, part) =>
      found.flatMap((one) => {
        const def = one._zod.def as unknown as Definition;
        const next = typeof part === "number" ? def.element : def.shape?.[String(part)];
        return next ? inside(next) : [];
      }),
    inside(schema),
  );
}

function keysAt(schema: z.core.$ZodType, path: readonly PropertyKey[]): string[] {
  return [
    ...new Set(
      at(schema, path).flatMap((one) => Object.keys((one._zod.def as unknown as Definition).shape ?? {})),
    ),
  ];
}

function branchAt(
  schema: z.core.$ZodType,
  path: readonly PropertyKey[],
  index: number,
): z.core.$ZodType | undefined {
  const found = at(schema, path);
  return found[index];
}

/** The known name that reads most like the one given, when it is near enough to be meant. */
export function nearestName(name: string, known: readonly string[]): string | undefined {
  const folded = fold(name);
  let best: { known: string; changes: number } | undefined;
  for (const candidate of known) {
    const changes = changesBetween(folded, fold(candidate));
    if (!best || changes < best.changes) best = { known: candidate, changes };
  }
  if (!best) return undefined;
  const contained = folded.length >= 4 && fold(best.known).includes(folded);
  return contained || best.changes <= Math.max(2, folded.length / 3) ? best.known : undefined;
}

/** `slope_limit` and `SlopeLimit` read the same. */
function fold(name: string): string {
  return name
    .slice(0, 80)
    .replace(/[_\s-]/g, "")
    .toLowerCase();
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
