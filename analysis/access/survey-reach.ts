/** How long a way from the street to each place must be. Method: docs/methods/access.md */
import type { Site } from "../lot/site.js";
import type { Reach } from "./access.js";
import { laneGround } from "./lane-ground.js";
import { fromStreet, type MoveCosts } from "./lane-to-go.js";
import { findEntries } from "./street-entries.js";

/**
 * Shortest way from the street to each place a lane has room, ft: every move counts its plan length, or rise ÷ grade
 * limit where that is longer, so that a way straight up a steep face is as long as the zigzag that climbs it. A lower
 * bound: turning room and transitions come on top. NaN where lanes have no room or nobody surveyed.
 */
export function surveyReach(site: Site): Reach {
  const { origin, all, main, openEdges } = findEntries(site);
  const lanes = laneGround(site, openEdges);
  const { maxGradePct, widthFt } = site.request.rules.driveway;
  const limit = maxGradePct / 100;
  const values = main
    ? fromStreet(lanes, all, { limit, widthFt }, new ClimbingMoves(limit))
    : new Float32Array(lanes.grid.cols * lanes.grid.rows).fill(NaN);
  return {
    entry: main?.at ?? null,
    entryElevFt: main?.elevFt ?? NaN,
    entryOrigin: main ? origin : "unknown",
    distanceFt: { grid: lanes.grid, values },
    entries: all,
    lanes,
  };
}

/** Moves as long as the lane that makes their climb. */
class ClimbingMoves implements MoveCosts {
  readonly #limit: number;

  constructor(limit: number) {
    this.#limit = limit;
  }

  of(_from: number, _to: number, planFt: number, riseFt: number): number {
    return Math.max(planFt, riseFt / this.#limit);
  }
}
