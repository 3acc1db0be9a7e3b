/** Limits held against the exact design: walls, slopes and the lot line as they came out. */
import type { Wall } from "../earthwork/earthwork.js";
import type { Site } from "../lot/site.js";
import type { ExactTrial } from "./design.js";
import { type Breach, Limits } from "./limits.js";
import { checkSlopeSetback } from "./slope-setback.js";

/** The exact design comes out a little taller and longer than the stations it was sought with; less than a survey can tell. */
const WALL_ROUNDING_FT = 0.3;
const SETBACK_ROUNDING_FT = 0.3;
/** Ground beyond the lot line that is a rounding of a corner, not a slope over it. */
const BEYOND_LINE_FT2 = 10;

/** `walls`: all walls of the drawn design, those between its levels included. */
export function exactProblems(
  { surface, model }: ExactTrial,
  walls: readonly Wall[],
  { request }: Site,
): readonly Breach[] {
  const { rules } = request;
  const limits = new Limits();
  if (!surface) return [];
  if (surface.leavesLimit && surface.beyondLimitFt2 > BEYOND_LINE_FT2)
    limits.breaks("batter-leaves-lot", surface.beyondLimitFt2, 0);
  const tallest = Math.max(0, ...walls.map(({ kind, retainedFt }) => (kind === "site" ? retainedFt : 0)));
  if (tallest > rules.maxSiteWallFt + WALL_ROUNDING_FT)
    limits.breaks("site-wall", tallest, rules.maxSiteWallFt);
  if (model.kind === "level-pad" || model.kind === "full-basement")
    checkSlopeSetback(surface, rules, limits, SETBACK_ROUNDING_FT);
  return limits.breaches;
}
