/** What all lane searches of one lot share: the ground, what a way to the street is likely to cost, and working memory. */
import type { Site } from "../lot/site.js";
import type { Reach } from "./access.js";
import type { DriveRules } from "./drive-rules.js";
import { BenchCosts } from "./lane-cost.js";
import { LanePlaces } from "./lane-places.js";
import { costFromStreet } from "./lane-to-go.js";

export class LotLanes {
  readonly site: Site;
  readonly reach: Reach;
  readonly places = new LanePlaces();
  readonly bench: BenchCosts;
  readonly #toGo = new Map<number, Float32Array>();

  constructor(site: Site, reach: Reach, bed: DriveRules) {
    this.site = site;
    this.reach = reach;
    this.bench = new BenchCosts(bed);
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
