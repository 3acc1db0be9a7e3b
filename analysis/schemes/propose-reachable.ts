/** Ways to build with their drives: where no car reaches the best place of one, the next best places are driven to as well. */
import { type Access, layDriveways } from "../access/index.js";
import type { Site } from "../lot/site.js";
import { proposals, type SchemeInputs } from "./propose-schemes.js";
import type { SchemeDesign } from "./scheme.js";

export interface ReachedDesign {
  readonly design: SchemeDesign;
  readonly access: Access;
}

/**
 * The search prices a drive by its shortest curve; only laying it shows what stands in its way. Of the next best places
 * of a scheme that no car reaches, the cheapest that keeps every rule and is reached takes its place.
 */
export function proposeReachable(site: Site, inputs: SchemeInputs): readonly ReachedDesign[] {
  const { reach } = inputs;
  const proposed = proposals(site, inputs);
  const drives = layDriveways(
    site,
    reach,
    proposed.map(({ design }) => design),
  );
  const first = proposed.map(({ design }, i): ReachedDesign => ({ design, access: drives[i]! }));
  if (reach.entries.length === 0) return first;
  return first.map((here, i) => {
    if (here.access.reachable || !here.design.feasible) return here;
    const others = proposed[i]!.others().filter(({ feasible }) => feasible);
    const lanes = layDriveways(site, reach, others);
    const reached = others
      .map((design, k): ReachedDesign => ({ design, access: lanes[k]! }))
      .filter(({ access }) => access.reachable)
      .sort((a, b) => a.design.objectiveUsd - b.design.objectiveUsd);
    return reached[0] ?? here;
  });
}
