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
 * of a scheme that no car reaches, or only past a wall taller than the rules allow, the cheapest without that fault takes
 * its place.
 */
export function proposeReachable(site: Site, inputs: SchemeInputs): readonly ReachedDesign[] {
  const { reach } = inputs;
  const { maxSiteWallFt } = site.request.rules;
  const proposed = proposals(site, inputs);
  const drives = layDriveways(
    site,
    reach,
    proposed.map(({ design }) => design),
  );
  const first = proposed.map(({ design }, i): ReachedDesign => ({ design, access: drives[i]! }));
  if (reach.entries.length === 0) return first;
  const fault = ({ access }: ReachedDesign) =>
    !access.reachable ? 2 : access.driveway.wallMaxFt > maxSiteWallFt ? 1 : 0;
  return first.map((here, i) => {
    if (fault(here) === 0 || !here.design.feasible) return here;
    const others = proposed[i]!.others().filter(({ feasible }) => feasible);
    const lanes = layDriveways(site, reach, others);
    const better = others
      .map((design, k): ReachedDesign => ({ design, access: lanes[k]! }))
      .filter((other) => fault(other) < fault(here))
      .sort((a, b) => fault(a) - fault(b) || a.design.objectiveUsd - b.design.objectiveUsd);
    return better[0] ?? here;
  });
}
