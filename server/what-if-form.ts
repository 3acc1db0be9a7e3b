/** The "what if" form of the share page: which values were changed, as a partial request. */
import type { StudyRequest } from "../analysis/request/request.js";
import type { FormFields } from "./lot-form.js";

type Tree = { [name: string]: unknown };

/**
 * Fields are named by their dotted request path. A value left as it was is not sent on, so that what is a default of
 * ours stays one; an emptied field takes the value away.
 */
export function changedValues(fields: FormFields, now: StudyRequest): Tree {
  const changes: Tree = {};
  for (const [path, text] of Object.entries(fields)) {
    const was = valueAt(now, path);
    const value = text.trim() === "" ? null : typedLike(was, text.trim());
    if (value === was || (value === null && was === undefined)) continue;
    put(changes, path, value);
  }
  const rules = changes.rules as Tree | undefined;
  // Rain is one choice of three numbers and a duration: those not asked for stay as they were understood.
  if (rules?.rainfall) {
    const { durationMin, inPerHr100yr } = now.rules.rainfall;
    const asked = rules.rainfall as Tree;
    // a rain of 100 years is never softer than one of ten
    const hardest = Math.max(inPerHr100yr, Number(asked.inPerHr10yr) || 0);
    rules.rainfall = { durationMin, inPerHr100yr: hardest, ...asked };
  }
  // Setbacks are one choice as well: front, side and rear stand or fall together.
  if (rules?.setbacksFt) rules.setbacksFt = { ...now.rules.setbacksFt, ...(rules.setbacksFt as Tree) };
  return changes;
}

function typedLike(was: unknown, text: string): unknown {
  const number = Number(text.replaceAll(",", ""));
  return typeof was === "string" || Number.isNaN(number) ? text : number;
}

function valueAt(tree: unknown, path: string): unknown {
  let at: unknown = tree;
  for (const name of path.split("."))
    at = typeof at === "object" && at !== null && Object.hasOwn(at, name) ? (at as Tree)[name] : undefined;
  return at;
}

function put(tree: Tree, path: string, value: unknown): void {
  const names = path.split(".");
  const last = names.pop()!;
  let at = tree;
  for (const name of names) {
    if (!Object.hasOwn(at, name)) at[name] = {};
    at = at[name] as Tree;
  }
  at[last] = value;
}
