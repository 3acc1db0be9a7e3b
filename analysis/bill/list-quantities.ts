/** The bill of one scheme: how much of which item, each line with what produced it. Method: docs/methods/cost.md */
import type { Site } from "../lot/site.js";
import type { QuantityLine } from "./bill.js";
import { accessLines, drainLines, serviceLines } from "./list-access-and-water.js";
import { earthLines } from "./list-earth.js";
import { houseLines } from "./list-house.js";
import { paperworkLines } from "./list-paperwork.js";
import { foundationLines, wallLines } from "./list-walls-and-foundation.js";
import type { SchemeParts } from "./scheme-parts.js";

/** Lines with a quantity above 0, in the order of the work. */
export function listQuantities(site: Site, parts: SchemeParts): readonly QuantityLine[] {
  return [
    ...earthLines(site, parts),
    ...wallLines(parts),
    ...foundationLines(parts),
    ...drainLines(site, parts),
    ...accessLines(parts),
    ...serviceLines(site, parts),
    ...houseLines(site, parts),
    ...paperworkLines(site, parts),
  ].filter((line) => line.quantity > 0);
}
