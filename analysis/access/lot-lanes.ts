/** What all lane searches of one lot share: the ground, what a way to the street is likely to cost, and working memory. */
import type { Ring } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { Site } from "../lot/site.js";
import type { LaneGround, Reach } from "./access.js";
import type { DriveRules } from "./drive-rules.js";
import { BenchCosts } from "./lane-cost.js";
import { laneGround } from "./lane-ground.js";
import { LanePlaces } from "./lane-places.js";
import { costFromStreet } from "./lane-to-go.js";
import type { Bearing } from "./shortest-curve.js";
import { findEntries } from "./street-entries.js";
import { leavingBy } from "./street-shots.js";

/** Farthest out of the lot that a lane is looked for. Judgement. */
const BEYOND_FT = 60;

export class LotLanes {
  readonly site: Site;
  readonly reach: Reach;
  readonly places = new LanePlaces();
  readonly bench: BenchCosts;
  /** How each entry of the reach is met on the way out. */
  readonly exits: readonly Bearing[];
  /** Lanes may leave the lot, as if every neighbour had granted an easement. */
  readonly mayLeave: boolean;
  readonly #bed: DriveRules;
  readonly #toGo = new Map<number, Float32Array>();
  #beyond: LotLanes | null | undefined;

  constructor(site: Site, reach: Reach, bed: DriveRules, mayLeave = false) {
    this.site = site;
    this.reach = reach;
    this.mayLeave = mayLeave;
    this.#bed = bed;
    this.exits = reach.entries.map(leavingBy);
    this.bench = new BenchCosts(bed);
  }

  /** The same lot with the neighbours' ground open to lanes, as far as the survey shows it; null where it shows too little. */
  beyond(): LotLanes | null {
    if (this.#beyond === undefined) {
      const lanes = laneGround(this.site, findEntries(this.site).openEdges, BEYOND_FT);
      this.#beyond = hasGroundOutside(lanes, this.site.survey.boundary, this.#bed.halfBedFt)
        ? new LotLanes(this.site, { ...this.reach, lanes }, this.#bed, true)
        : null;
    }
    return this.#beyond;
  }

  /** Likely cost from the street to each cell of the lane grid under a grade limit. */
  toGo(rules: DriveRules): Float32Array {
    let known = this.#toGo.get(rules.limit);
    if (!known) {
      known = costFromStreet(this.reach.lanes, this.reach.entries, rules, this.bench);
      this.#toGo.set(rules.limit, known);
    }
    return known;
  }
}

/** Whether a lane has room anywhere off the lot. */
function hasGroundOutside({ grid, clearanceFt }: LaneGround, lot: Ring, halfBedFt: number): boolean {
  const inLot = scanPolygons(grid, [[lot]]).values;
  return clearanceFt.some((room, i) => room >= halfBedFt && inLot[i] === 0);
}
