/** Ways to build with their drives: where no car reaches the best place of one, the next best places are driven to as well. */
import { type Access, type Drive, Drives } from "../access/index.js";
import type { Site } from "../lot/site.js";
import type { Draft } from "./draft.js";
import { proposals, type SchemeInputs } from "./propose-schemes.js";

export interface ReachedDraft {
  readonly draft: Draft;
  readonly access: Access;
}

/**
 * The search prices a drive by its shortest curve; only laying it shows what stands in its way. Of the next best places
 * of a scheme that no car reaches, or only past a wall taller than the rules allow, the first without that fault takes
 * its place: the cheapest, as the search for places priced them.
 */
export function proposeReachable(
  site: Site,
  inputs: SchemeInputs,
  drives = new Drives(site, inputs.reach),
): readonly ReachedDraft[] {
  const { reach } = inputs;
  const { maxSiteWallFt } = site.request.rules;
  const faultOf = (drive: Drive | null) => (!drive ? 2 : drive.hasWallOver(maxSiteWallFt) ? 1 : 0);
  return proposals(site, inputs).map(({ best, others }) => {
    let draft: Draft = best;
    let drive = drives.to(best.core);
    let fault = faultOf(drive);
    if (fault > 0 && reach.entries.length > 0 && best.feasible)
      for (const other of others()) {
        const otherDrive = drives.to(other.core);
        if (faultOf(otherDrive) >= fault) continue;
        draft = other;
        drive = otherDrive;
        fault = faultOf(drive);
        if (fault === 0) break;
      }
    const access: Access = drive
      ? { reachable: true, driveway: drive.driveway() }
      : drives.whyNot(draft.core);
    return { draft, access };
  });
}
