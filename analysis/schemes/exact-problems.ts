/** Limits held against the exact design: walls, slopes and the lot line as they came out. */
import { type GradedSurface, slopeTerracesFt, TERRACE_EVERY_FT, type Wall } from "../earthwork/index.js";
import type { Site } from "../lot/site.js";
import type { Rules } from "../request/request.js";
import type { ExactTrial } from "./exact-trial.js";
import { type Breach, Limits } from "./limits.js";
import { checkSlopeSetback } from "./slope-setback.js";
import { WALL_ROUNDING_FT } from "./wall-rule.js";

/** The exact design comes out a little longer than the stations it was sought with; less than a survey can tell. */
const SETBACK_ROUNDING_FT = 0.3;
/** Ground beyond the lot line that is a rounding of a corner, not a slope over it. */
const BEYOND_LINE_FT2 = 10;

/** `walls`: all walls of the drawn design, those between its levels included. */
export function exactProblems(
  { surface, model, apart }: ExactTrial,
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
  const terraced = higherThanTerraced(surface, rules);
  if (terraced) limits.breaks("slope-terrace", terraced, TERRACE_EVERY_FT);
  // slopes beside a garage of its own are none beside the house: the house is held to its own
  if (!apart && (model.kind === "level-pad" || model.kind === "full-basement"))
    checkSlopeSetback(surface, rules, limits, SETBACK_ROUNDING_FT);
  return limits.breaches;
}

/** Height of a graded slope that published rules ask terraces of, ft; 0 where none is that high. */
export function higherThanTerraced(
  { cutBankFt, fillBankFt }: Pick<GradedSurface, "cutBankFt" | "fillBankFt">,
  { cutBatter, fillBatter }: Pick<Rules, "cutBatter" | "fillBatter">,
): number {
  const asked = (heightFt: number, batter: number) =>
    slopeTerracesFt(heightFt, batter).length > 0 ? heightFt : 0;
  return Math.max(asked(cutBankFt, cutBatter), asked(fillBankFt, fillBatter));
}
