/** Limits that only the exact design can be held against: slopes beside the house, the lot line, the walls as they came out. */
import type { Site } from "../lot/site.js";
import type { ExactTrial } from "./design.js";
import type { Breach } from "./limits.js";

/** Graded slopes steeper than this ask for a distance to the house (IRC R403.1.7). */
const SLOPE_ASKING_DISTANCE = 1 / 3;
/** Largest distances asked from an ascending and a descending slope (IRC R403.1.7.1 and .2, from memory). */
const MOST_ABOVE_FT = 15;
const MOST_BELOW_FT = 40;
const ROUNDING_FT = 0.05;
/** Ends of walls come out a little taller than the stations they were sought with; less than a survey can tell. */
const WALL_ROUNDING_FT = 0.3;

export function exactProblems({ surface, walls, model }: ExactTrial, { request }: Site): Breach[] {
  const { rules } = request;
  const breaches: Breach[] = [];
  if (!surface) return breaches;
  if (surface.leavesLimit)
    breaches.push({ code: "batter-leaves-lot", measured: surface.beyondLimitFt2, limit: 0 });
  const tallest = Math.max(0, ...walls.map(({ retainedFt }) => retainedFt));
  if (tallest > rules.maxSiteWallFt + WALL_ROUNDING_FT)
    breaches.push({ code: "site-wall", measured: tallest, limit: rules.maxSiteWallFt });
  // around a pad on one level the strip is all that lies between the house and the toe above or the top below
  if (model.kind === "level-pad" || model.kind === "full-basement") {
    const { uphill, downhill } = rules.apronFt;
    const asked = [
      {
        strip: uphill,
        batter: rules.cutBatter,
        limit: Math.min(MOST_ABOVE_FT, surface.cutReachFt / rules.cutBatter / 2),
      },
      {
        strip: downhill,
        batter: rules.fillBatter,
        limit: Math.min(MOST_BELOW_FT, surface.fillReachFt / rules.fillBatter / 3),
      },
    ];
    for (const { strip, batter, limit } of asked)
      if (1 / batter > SLOPE_ASKING_DISTANCE && limit > strip + ROUNDING_FT)
        breaches.push({ code: "slope-setback", measured: strip, limit });
  }
  return breaches;
}
