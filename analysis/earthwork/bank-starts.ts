/** The facets along the edges of pads, where a walk along the banks sets out. */
import { boxOf } from "../geometry/plane.js";
import { elevationAt, facetsInBox } from "../terrain/index.js";
import type { Tin } from "../terrain/terrain.js";
import { TOUCH_FT } from "./bank-surroundings.js";
import type { Zone } from "./batter-zones.js";

/** Where banks of a zone may start. */
export interface Start {
  /** Ground at the corner a wedge starts from; NaN for a strip, whose facets are looked at one by one. */
  readonly cornerFt: number;
  readonly facets: readonly number[];
}

/** One for each zone. */
export function startsOf(tin: Tin, zones: readonly Zone[]): Start[] {
  const starts: Start[] = [];
  for (const [i, { base, rays }] of zones.entries()) {
    const before = zones[i - 1];
    const [[x, y]] = base;
    // wedges at a corner come one after the other
    if (rays && before?.rays && before.base[0][0] === x && before.base[0][1] === y) {
      starts.push(starts[i - 1]!);
      continue;
    }
    const box = boxOf(base);
    const facets: number[] = [];
    facetsInBox(
      tin,
      box.minEastFt - TOUCH_FT,
      box.minNorthFt - TOUCH_FT,
      box.maxEastFt + TOUCH_FT,
      box.maxNorthFt + TOUCH_FT,
      (f) => facets.push(f),
    );
    starts.push({ cornerFt: rays ? elevationAt(tin, x, y) : Number.NaN, facets });
  }
  return starts;
}
