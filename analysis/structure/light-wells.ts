/**
 * Ways out of bedrooms in a basement. IRC R310: every sleeping room has an opening of at least 5.7 ft² clear,
 * 24 in high, 20 in wide, sill at most 44 in over the floor; below ground a well of at least 9 ft², 36 in out from
 * the wall, with a ladder when deeper than 44 in, drained.
 */

import type { Point } from "../geometry/plane.js";
import { measure } from "../measure.js";
import type { SideName } from "./house-facts.js";
import type { Basement, LightWell } from "./structure.js";

export const LEAST_OPENING = { clearFt2: 5.7, heightIn: 24, widthIn: 20, highestSillIn: 44 } as const;
export const LEAST_WELL = { areaFt2: 9, projectionIn: 36, ladderDeeperThanIn: 44 } as const;
/** Wall a bedroom takes. Common practice, no source. */
const BEDROOM_WALL_FT = 12;
/** The floor of a well lies this much below the sill, so that it can drain. Common practice, no source. */
const WELL_BELOW_SILL_FT = 0.5;
/** Width of the opening drawn: as wide as the least well. */
const OPENING_WIDTH_IN = LEAST_WELL.projectionIn;
const SILL_FT = LEAST_OPENING.highestSillIn / 12;
/** The floor of a well over the floor of the basement, where the sill is as high as the code lets it be. */
export const WELL_OVER_FLOOR_FT = SILL_FT - WELL_BELOW_SILL_FT;

export interface WallSample {
  readonly at: Point;
  readonly outward: Point;
  readonly side: SideName;
  /** Finished ground outside over the floor inside; negative where the floor lies above ground. */
  readonly earthFt: number;
  readonly lengthFt: number;
}

/** Least clear height of an opening this wide; null where it is too narrow whatever its height. */
export function leastOpeningHeightIn(widthIn: number): number | null {
  if (widthIn < LEAST_OPENING.widthIn) return null;
  return Math.max(LEAST_OPENING.heightIn, (LEAST_OPENING.clearFt2 * 144) / widthIn);
}

/** Depth of the well below the ground outside a window whose sill is as high as the code lets it be; 0 where no well is needed. */
export function wellDepthFt(earthFt: number): number {
  return Math.max(0, earthFt - WELL_OVER_FLOOR_FT);
}

/** Bedrooms take open walls first; each one left over gets a well where the earth is lowest, as far as there is wall. */
export function waysOut(
  samples: readonly WallSample[],
  bedrooms: number,
): Pick<Basement, "lightWells" | "wells" | "bedroomsOnOpenWall" | "ifBedroomMoves"> {
  const openFt = samples.filter((s) => wellDepthFt(s.earthFt) === 0).reduce((sum, s) => sum + s.lengthFt, 0);
  const bedroomsOnOpenWall = Math.min(bedrooms, Math.floor(openFt / BEDROOM_WALL_FT));
  const wells: LightWell[] = [];
  const byDepth = [...samples]
    .filter((s) => wellDepthFt(s.earthFt) > 0)
    .sort((a, b) => a.earthFt - b.earthFt);
  for (const { at, side, earthFt } of byDepth) {
    if (wells.length >= bedrooms - bedroomsOnOpenWall) break;
    if (wells.some((w) => Math.hypot(w.at[0] - at[0], w.at[1] - at[1]) < BEDROOM_WALL_FT)) continue;
    const depthFt = wellDepthFt(earthFt);
    wells.push({
      at,
      depthFt,
      ladder: depthFt * 12 > LEAST_WELL.ladderDeeperThanIn,
      side,
      openingIn: [OPENING_WIDTH_IN, leastOpeningHeightIn(OPENING_WIDTH_IN)!],
    });
  }
  return {
    lightWells: wells.length,
    wells,
    bedroomsOnOpenWall,
    ifBedroomMoves: ifBedroomMoves(wells, bedrooms, bedroomsOnOpenWall, openFt),
  };
}

function ifBedroomMoves(
  wells: readonly LightWell[],
  bedrooms: number,
  onOpen: number,
  openFt: number,
): string {
  if (bedrooms === 0)
    return "No bedroom is planned in the basement; each one added against the hill asks for a light well.";
  const placed = onOpen + wells.length;
  if (placed < bedrooms)
    return `The walls have room for the ways out of ${placed} of ${bedrooms} bedrooms, at ${measure(BEDROOM_WALL_FT, "ft")} of wall each: the others belong upstairs.`;
  if (wells.length === 0)
    return "Each has an open wall. A bedroom moved against the hill would need a light well with a ladder.";
  const deepest = Math.max(...wells.map((w) => w.depthFt));
  const open =
    openFt < BEDROOM_WALL_FT ? "No wall is open wide enough for a bedroom" : "The open wall is full";
  return `${open}; a bedroom moved upstairs saves a light well up to ${measure(deepest, "ft", 1)} deep.`;
}
