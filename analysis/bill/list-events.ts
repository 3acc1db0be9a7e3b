/** The events of one scheme: rock, water, old fill, swelling clay, shoring, a pump, no sewer, the dump. Method: docs/methods/cost.md */

import type { Site } from "../lot/site.js";
import type { QuantityLine } from "./bill.js";
import type { CostEvent } from "./cost-event.js";
import { expansive, oldFill, rock, water } from "./ground-events.js";
import type { SchemeParts } from "./scheme-parts.js";
import { dump, noSewer, pump, shoring } from "./site-events.js";

/** Events that touch this scheme, with the chance the request leaves them. An event an input rules out is not listed. */
export function listEvents(
  site: Site,
  parts: SchemeParts,
  quantities: readonly QuantityLine[],
): readonly CostEvent[] {
  return met([
    rock(site, parts, quantities),
    water(site, parts),
    oldFill(site, parts),
    expansive(site, parts, quantities),
    shoring(parts, quantities),
    pump(parts),
    noSewer(site),
    dump(quantities),
  ]);
}

/** Events of the flat twin: whether the street has a sewer is no matter of the slope. */
export function flatTwinEvents(site: Site): readonly CostEvent[] {
  return met([noSewer(site)]);
}

function met(events: readonly (CostEvent | null)[]): CostEvent[] {
  return events.flatMap((event) => {
    if (event === null || event.chance <= 0) return [];
    const lines = event.lines.filter((line) => line.quantity > 0);
    return lines.length ? [{ ...event, lines }] : [];
  });
}
