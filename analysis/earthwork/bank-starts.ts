/** The facets along the edges of pads, where a walk along the banks sets out. */
import type { Point } from "../geometry/plane.js";
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
    const facets = facetsAlong(tin, ...base);
    starts.push({ cornerFt: rays ? elevationAt(tin, x, y) : Number.NaN, facets });
  }
  return starts;
}

/** Facets near a straight line, looked up piece by piece: a box around the whole of a line askew holds many more. */
function facetsAlong(tin: Tin, [ax, ay]: Point, [bx, by]: Point): number[] {
  const pieces = Math.max(1, Math.ceil(Math.min(Math.abs(bx - ax), Math.abs(by - ay)) / tin.index.cellFt));
  const facets = new Set<number>();
  for (let k = 0; k < pieces; k++) {
    const x = [k, k + 1].map((step) => ax + (step / pieces) * (bx - ax));
    const y = [k, k + 1].map((step) => ay + (step / pieces) * (by - ay));
    facetsInBox(
      tin,
      Math.min(...x) - TOUCH_FT,
      Math.min(...y) - TOUCH_FT,
      Math.max(...x) + TOUCH_FT,
      Math.max(...y) + TOUCH_FT,
      (f) => facets.add(f),
    );
  }
  return [...facets];
}
