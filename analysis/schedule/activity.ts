/** One step of the work, and what its duration depends on. */
import type { Grade } from "./rates.js";
import type { Weeks } from "./weeks.js";

export interface Activity {
  readonly id: string;
  readonly name: string;
  readonly phase: "before" | "ground" | "house";
  readonly after: readonly string[];
  readonly weeks: Weeks;
  /** Waiting for somebody's letter. */
  readonly hold?: boolean;
  /** Stops in a wet-season shutdown of grading. */
  readonly grading?: boolean;
  /** Name of its luck where that is not its own: the steps of one house are quick or slow together. */
  readonly stream?: string;
}

/** What makes a site slow, and how much house there is. */
export interface SiteHardness {
  readonly grade: Grade;
  readonly slopeUnderHousePct: number;
  /** Mean over the lot: what a hillside review goes by. */
  readonly lotSlopePct: number;
  readonly limitedRig: boolean;
  readonly floorAreaFt2: number;
  /** The part of it whose walls, slab and ceiling are groundwork. */
  readonly basementFt2: number;
}
