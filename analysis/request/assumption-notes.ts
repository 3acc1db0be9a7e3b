/** Keeps a record of every value that is a default of ours. */
import type { Assumption } from "../assumptions.js";

export const TRADE = "common practice, no source";
export const MEMORY = "from memory, order of magnitude";

export interface AssumptionNotes {
  /** Dotted paths whose value is ours. */
  readonly assumed: string[];
  readonly assumptions: Assumption[];
  readonly note: (path: string, name: string, value: number | string, unit: string, origin: string) => void;
  /** The given value, or the default with a note that it is one. */
  readonly pick: <T extends number | string>(
    given: T | null | undefined,
    path: string,
    name: string,
    value: T,
    unit: string,
    origin: string,
  ) => T;
}

export function assumptionNotes(): AssumptionNotes {
  const assumed: string[] = [];
  const assumptions: Assumption[] = [];
  const note: AssumptionNotes["note"] = (path, name, value, unit, origin) => {
    assumed.push(path);
    assumptions.push({ name, value, unit, origin, changeWith: path });
  };
  return {
    assumed,
    assumptions,
    note,
    pick: (given, path, name, value, unit, origin) => {
      if (given !== undefined && given !== null) return given;
      note(path, name, value, unit, origin);
      return value;
    },
  };
}
