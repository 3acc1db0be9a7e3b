/** How good one height of this survey is. */
import { measure } from "../measure.js";
import type { StudyRequest } from "../request/request.js";
import { CANOPY_SIGMA_FT, HALF_INTERVAL_PER_SIGMA, SHOT_SIGMA_FT } from "./assumptions.js";
import type { HeightsFrom } from "./sources.js";

export interface VerticalAccuracy {
  readonly sigmaFt: number;
  readonly origin: string;
}

/** Where sigma of heights that are no shots on open ground comes from. */
const FROM_MEMORY = {
  lidar: "assumed for heights measured from the air, from memory",
  canopy: "assumed for ground under trees, from memory",
  contours: "assumed for heights traced from contours whose interval nobody stated, from memory",
} as const;

/**
 * One sigma of a height, ft, and where the number comes from: as given, else by how the heights were taken. Contours:
 * half the interval ÷ 1.645, never better than a shot.
 */
export function describeAccuracy(
  { survey }: StudyRequest,
  from: HeightsFrom,
  verticalFeetPerUnit: number,
): VerticalAccuracy {
  if (survey.verticalAccuracyFt !== undefined)
    return { sigmaFt: survey.verticalAccuracyFt, origin: "given in the request" };
  const seen =
    from.kind === "contours" && from.interval !== null ? from.interval * verticalFeetPerUnit : null;
  const intervalFt = survey.sourceContourIntervalFt ?? seen;
  const source = survey.source ?? (from.kind === "grid" ? "lidar" : from.kind);
  if (source === "contours" && intervalFt !== null)
    return {
      sigmaFt: Math.max(SHOT_SIGMA_FT, intervalFt / 2 / HALF_INTERVAL_PER_SIGMA),
      origin: `half the contour interval of ${measure(Number(intervalFt.toFixed(2)), "ft")} holds nine heights of ten (National Map Accuracy Standards, 1947)`,
    };
  if (source === "shots") return { sigmaFt: SHOT_SIGMA_FT, origin: "assumed for ground shots, from memory" };
  return { sigmaFt: CANOPY_SIGMA_FT, origin: FROM_MEMORY[source] };
}
