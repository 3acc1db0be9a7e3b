/** What can hurt people here, tied to what the study found. Local codes and licensed people decide. */

import type { Access } from "../access/access.js";
import type { Drainage } from "../drainage/drainage.js";
import type { Site } from "../lot/site.js";
import { published } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { Basement, Foundation } from "./structure.js";

const TRENCH_FT = 5;
const TALL_WALL_FT = 4;

export function cautionsFor(
  site: Site,
  {
    design,
    access,
    drainage,
    foundation,
    basement,
  }: {
    design: SchemeDesign;
    access: Access;
    drainage: Drainage;
    foundation: Foundation;
    basement: Basement | null;
  },
): string[] {
  const cautions: string[] = [];
  const deepestCutFt = Math.max(design.earthwork.maxCutFt, design.earthwork.temporaryCutFt);
  if (foundation.piers > 0)
    cautions.push(
      "Open pier holes kill. Each hole is covered, marked and fenced, or filled the same day; nobody enters one. A cover carries twice the weight that may come on it (29 CFR 1926.502).",
    );
  if (deepestCutFt >= TRENCH_FT)
    cautions.push(
      `Cut earth falls without warning. From ${published(5, "ft")} of depth the sides are sloped, benched or braced; above ${published(20, "ft")} a registered engineer designs how (29 CFR 1926 Subpart P).`,
    );
  if (basement)
    cautions.push(
      "A basement wall is not backfilled before the floor above it is in place or the engineer agrees: it can fall inward.",
      "Basements flood when drains block or pumps stop. Drains need a legal outlet and upkeep for the life of the house.",
    );
  if (design.walls.some((w) => w.kind === "site" && w.totalFt > TALL_WALL_FT))
    cautions.push(
      `Retaining walls fail from water behind them and from weight above them. Over ${published(4, "ft")} from the bottom of the footing, or with a slope or drive above, they need an engineer and a permit; some places start lower.`,
    );
  if (drainage.catchmentFt2 > 0)
    cautions.push(
      "Water led away from this house must not be sent onto a neighbor. Ask the civil engineer and the city where it may go.",
    );
  if (!access.reachable || !access.driveway.heavyVehicle.ok)
    cautions.push(
      "A fire engine or a loaded truck may not get up. Ask the fire official before anything is drawn.",
    );
  if (site.survey.features.some((f) => f.kind === "tree"))
    cautions.push(
      "Digging within the reach of roots can kill a tree and bring it down years later. Trees may be protected.",
    );
  cautions.push(
    "Nothing may be dug or built from this study. Local codes decide, and licensed surveyors, soils, civil and structural engineers and architects answer for what is built.",
  );
  return cautions;
}
