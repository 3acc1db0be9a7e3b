/** How good one height of this survey is. */
import type { StudyRequest } from "../request/request.js";
import { CANOPY_SIGMA_FT, HALF_INTERVAL_PER_SIGMA, SHOT_SIGMA_FT } from "./assumptions.js";

export interface VerticalAccuracy {
  readonly sigmaFt: number;
  readonly origin: string;
}

/** One sigma of a height, ft, and where the number comes from: as given, else by how the heights were taken. */
export function describeAccuracy({ survey }: StudyRequest): VerticalAccuracy {
  const { verticalAccuracyFt, source, sourceContourIntervalFt } = survey;
  if (verticalAccuracyFt !== undefined)
    return { sigmaFt: verticalAccuracyFt, origin: "given in the request" };
  if (source === "contours" && sourceContourIntervalFt !== undefined)
    return {
      sigmaFt: Math.max(SHOT_SIGMA_FT, sourceContourIntervalFt / 2 / HALF_INTERVAL_PER_SIGMA),
      origin: "half the contour interval holds nine heights of ten (National Map Accuracy Standards, 1947)",
    };
  if (source === "canopy" || source === "contours")
    return { sigmaFt: CANOPY_SIGMA_FT, origin: "assumed for ground under trees, from memory" };
  return { sigmaFt: SHOT_SIGMA_FT, origin: "assumed for ground shots, from memory" };
}
