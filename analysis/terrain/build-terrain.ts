/** The terrain stage: shots and lot line in, the shape of the ground out. */
import type { Problem } from "../assumptions.js";
import type { Raster } from "../geometry/grid.js";
import type { MultiPolygon } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { StudyRequest } from "../request/request.js";
import type { Survey } from "../survey/survey.js";
import { outlineBands } from "./band-polygons.js";
import { type GradientStatistics, GradientTally } from "./gradient-statistics.js";
import { gridGradients } from "./grid-slope.js";
import { leaveOneOutRmsFt } from "./interpolation-error.js";
import { shapeGround } from "./shape-ground.js";
import { largestHoleFt } from "./survey-gaps.js";
import type { Terrain, Tin } from "./terrain.js";

/**
 * A left-out shot opens a gap twice as wide as any in the survey: on evenly curved ground the error between shots is a
 * quarter of the leave-one-out error, on broken ground nearly all of it. Half is taken. Judgement.
 */
export const BETWEEN_SHOTS_SHARE = 0.5;

/**
 * United States National Map Accuracy Standards (1947): at most a tenth of tested heights are off by more than half the
 * contour interval. Of normal errors 90 % lie within 1.6449 σ, so the interval is 2 × 1.6449 σ.
 */
const INTERVAL_PER_SIGMA = 2 * 1.6449;

type TerrainOutcome =
  | { readonly ok: true; readonly survey: Survey; readonly terrain: Terrain }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Shapes the ground and measures it: areas, slopes, bands, contours, how far it may be off.
 * Facets are the truth where shots are farther apart than a median 3 ft; on denser surveys slopes, bands and contours
 * come from a grid smoothed over about 10 ft (`summary.method` says which). Refuses what `shapeGround` refuses.
 */
export function buildTerrain(sent: Survey, request: StudyRequest): TerrainOutcome {
  const outcome = shapeGround(sent, request);
  if (!outcome.ok) return outcome;
  const { survey, shaped } = outcome;
  const { mesh, tin, place, surveyed, surveyedFt2, elevation, smooth } = shaped;
  const { minElevationFt, maxElevationFt, longestSideFt } = shaped.extremes;
  const { slopeBandsPct } = request.rules;
  const gradients = smooth && gridGradients(smooth);
  const slope = gradients ? slopeRaster(smooth, gradients) : shaped.facetSlope;
  const steepness =
    (gradients && gridStatistics(surveyed, smooth, gradients, slopeBandsPct, surveyedFt2)) ??
    facetStatistics(tin, slopeBandsPct);
  const interpolationRmsFt = leaveOneOutRmsFt(tin, mesh.onBreakline);
  const groundSigmaFt = Math.hypot(
    survey.summary.verticalAccuracyFt,
    BETWEEN_SHOTS_SHARE * (interpolationRmsFt ?? 0),
  );
  const terrain: Terrain = {
    tin,
    surveyed,
    coveragePct: shaped.coveragePct,
    summary: {
      method: smooth ? "grid" : "facets",
      minElevationFt,
      maxElevationFt,
      reliefFt: maxElevationFt - minElevationFt,
      ...steepness,
      averageSlope: shaped.averageSlope,
      interpolationRmsFt,
      largestHoleFt: largestHoleFt(tin, survey.boundary, elevation.grid),
      longestFacetEdgeFt: longestSideFt,
      supportedContourFt: INTERVAL_PER_SIGMA * groundSigmaFt,
    },
    elevation,
    slope,
    contours: shaped.contours,
    bandPolygons: outlineBands(tin, place, surveyed, smooth && slope, slopeBandsPct),
    groundSigmaFt,
  };
  return { ok: true, survey, terrain };
}

function facetStatistics(tin: Tin, lowerEdgesPct: readonly number[]): GradientStatistics {
  const tally = new GradientTally(lowerEdgesPct);
  for (let f = 0; f < tin.facetCount; f++)
    if (tin.areaInLotFt2[f]! > 0) tally.add(tin.areaInLotFt2[f]!, tin.gradEast[f]!, tin.gradNorth[f]!);
  return tally.result();
}

/** Over the cells whose centres lie on surveyed ground of the lot, scaled to its exact area; null when it holds no centre. */
function gridStatistics(
  surveyed: MultiPolygon,
  { grid }: Raster,
  gradients: { east: Float32Array; north: Float32Array },
  lowerEdgesPct: readonly number[],
  surveyedFt2: number,
): GradientStatistics | null {
  const tally = new GradientTally(lowerEdgesPct);
  const inside = scanPolygons(grid, surveyed).values;
  let cells = 0;
  for (let i = 0; i < inside.length; i++)
    if (inside[i] && !Number.isNaN(gradients.east[i]!)) {
      tally.add(grid.cellFt ** 2, gradients.east[i]!, gradients.north[i]!);
      cells++;
    }
  return cells > 0 ? tally.result(surveyedFt2) : null;
}

function slopeRaster(
  { grid, values }: Raster,
  { east, north }: { east: Float32Array; north: Float32Array },
): Raster {
  return { grid, values: values.map((_, i) => 100 * Math.hypot(east[i]!, north[i]!)) };
}
