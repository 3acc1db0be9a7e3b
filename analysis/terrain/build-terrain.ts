/** The terrain stage: shots and lot line in, the shape of the ground out. */
import type { Problem } from "../assumptions.js";
import { intersectionOf } from "../geometry/clip.js";
import type { Raster } from "../geometry/grid.js";
import { type MultiPolygon, type Ring, signedAreaFt2 } from "../geometry/plane.js";
import { scanPolygons } from "../geometry/scan.js";
import type { StudyRequest } from "../request/request.js";
import type { Survey, SurveyWarning } from "../survey/survey.js";
import { outlineBands } from "./band-polygons.js";
import { traceContours } from "./contours.js";
import { outlineFacets } from "./facet-outlines.js";
import { OUTSIDE, placeFacets } from "./facets-in-lot.js";
import { type GradientStatistics, GradientTally } from "./gradient-statistics.js";
import { meshOfGrid } from "./grid-mesh.js";
import { gridGradients, smoothGround } from "./grid-slope.js";
import { gridOver, rasteriseGround } from "./ground-rasters.js";
import { leaveOneOutRmsFt } from "./interpolation-error.js";
import { joinBreaklines } from "./join-breaklines.js";
import { layFaces } from "./lay-faces.js";
import { measureFacets } from "./measure-facets.js";
import type { Mesh } from "./mesh.js";
import { lotRelief } from "./relief.js";
import { medianSideFt } from "./supported-facets.js";
import { largestHoleFt, longestSideInLotFt } from "./survey-gaps.js";
import type { Terrain, Tin } from "./terrain.js";
import { triangulate } from "./triangulate.js";

/** Closer shots than this make facets that measure noise, not ground: slopes are then taken on a smoothed grid. */
export const DENSE_SPACING_FT = 3;
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

/** More contours than this are no drawing, and their tracing could take minutes. */
const MOST_CONTOURS = 5000;
/** A lot surveyed to this share is wholly surveyed: the rest is rounding. */
const WHOLE = 1 - 1e-9;

type TerrainOutcome =
  | { readonly ok: true; readonly survey: Survey; readonly terrain: Terrain }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Joins the ground shots to facets, clips the facets to the lot and measures them: areas, slopes, bands, contours.
 * Facets are the truth where shots are farther apart than a median 3 ft; on denser surveys slopes, bands and contours
 * come from a grid smoothed over about 10 ft (`summary.method` says which). Average slope S = 100·I·L/A with I the
 * contour interval, L the length of contours in the lot, A the surveyed area of the lot.
 * Refuses shots on one line, surveys that do not reach the lot, and a contour interval that is absurdly fine.
 */
export function buildTerrain(survey: Survey, request: StudyRequest): TerrainOutcome {
  const joined = joinBreaklines(survey.ground, survey.breaklines);
  const faces = survey.faces && layFaces(survey.faces, survey.ground);
  const mesh = triangulate(joined, faces?.sides);
  if (mesh.triangles.length === 0) return { ok: false, problems: [onOneLine(survey.ground.count)] };
  const lot = survey.boundary;
  const lotAreaFt2 = signedAreaFt2(lot);
  const { tin, place } = measureFacets(mesh, lot, faces?.isDrawn);
  const surveyedFt2 = tin.areaInLotFt2.reduce((sum, area) => sum + area, 0);
  if (!(surveyedFt2 > 0)) return { ok: false, problems: [doesNotReachLot()] };

  const { rules } = request;
  const { minElevationFt, maxElevationFt } = lotRelief(tin, lot, place);
  const levels = (maxElevationFt - minElevationFt) / rules.contourIntervalFt;
  if (levels > MOST_CONTOURS) return { ok: false, problems: [tooManyContours(levels)] };

  const grid = gridOver(lot, lotAreaFt2, tin);
  const { elevation, slope: facetSlope } = rasteriseGround(tin, grid);
  const dense = medianSideFt(mesh) < DENSE_SPACING_FT;
  const smooth = dense ? smoothGround(elevation) : elevation;
  const gradients = dense ? gridGradients(smooth) : null;
  const slope = gradients ? slopeRaster(smooth, gradients) : facetSlope;

  const surveyed = surveyedFt2 >= lotAreaFt2 * WHOLE ? [[lot]] : surveyedGround(tin, lot, place);
  const steepness =
    (gradients && gridStatistics(surveyed, smooth, gradients, rules.slopeBandsPct, surveyedFt2)) ??
    facetStatistics(tin, rules.slopeBandsPct);
  const contourMesh = dense ? meshOfGrid(smooth) : tin;
  const contourPlace = dense ? placeFacets(contourMesh, lot) : place;
  const { contours, lengthFt } = traceContours(contourMesh, lot, contourPlace, rules.contourIntervalFt);

  const interpolationRmsFt = leaveOneOutRmsFt(mesh, tin.supported);
  const groundSigmaFt = Math.hypot(
    survey.summary.verticalAccuracyFt,
    BETWEEN_SHOTS_SHARE * (interpolationRmsFt ?? 0),
  );
  const coveragePct = Math.min(100, (100 * surveyedFt2) / lotAreaFt2);
  const terrain: Terrain = {
    tin,
    surveyed,
    coveragePct,
    summary: {
      method: dense ? "grid" : "facets",
      minElevationFt,
      maxElevationFt,
      reliefFt: maxElevationFt - minElevationFt,
      ...steepness,
      averageSlope: {
        intervalFt: rules.contourIntervalFt,
        contourLengthFt: lengthFt,
        pct: (100 * rules.contourIntervalFt * lengthFt) / surveyedFt2,
      },
      interpolationRmsFt,
      largestHoleFt: largestHoleFt(tin, lot, grid),
      longestFacetEdgeFt: longestSideInLotFt(tin),
      supportedContourFt: INTERVAL_PER_SIGMA * groundSigmaFt,
    },
    elevation,
    slope,
    contours,
    bandPolygons: outlineBands(tin, place, surveyed, dense ? slope : null, rules.slopeBandsPct),
    groundSigmaFt,
  };
  const warnings = [...survey.summary.warnings, ...joined.warnings, ...lostSides(mesh)];
  return { ok: true, survey: { ...survey, summary: { ...survey.summary, coveragePct, warnings } }, terrain };
}

/** Lot ∩ supported facets. */
function surveyedGround(tin: Tin, lot: Ring, place: Uint8Array): MultiPolygon {
  const chosen = Uint8Array.from(place, (side, f) => (side !== OUTSIDE && tin.supported[f] ? 1 : 0));
  return intersectionOf(outlineFacets(tin, chosen), [[lot]]);
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

function lostSides({ sidesLost, faceSidesLost }: Mesh): SurveyWarning[] {
  const warnings: SurveyWarning[] = [];
  if (sidesLost > 0)
    warnings.push({
      code: "breakline-lost",
      message: `${sidesLost} pieces of break lines could not be joined to the shots and were left out.`,
      remedy: "Look for break lines that touch or cross in a tangle, and ask the surveyor for clean ones.",
    });
  if (faceSidesLost > 0)
    warnings.push({
      code: "surface-sides-lost",
      message: `Sides of the surveyor's faces that cross break lines or each other, or run through shots: ${faceSidesLost}. The ground beside them was joined anew.`,
      remedy: "Ask for a surface whose faces do not overlap, and send no break lines besides it.",
    });
  return warnings;
}

function onOneLine(count: number): Problem {
  return {
    code: "topo-on-one-line",
    where: "topo",
    message: `The ${count} ground shots lie on one line (or at one spot), so they make no surface.`,
    remedy:
      "Send shots spread over the lot, and check that the northing and easting columns are not the same column.",
  };
}

function tooManyContours(levels: number): Problem {
  return {
    code: "contour-interval-too-fine",
    where: "request.rules.contourIntervalFt",
    message: `The contour interval asks for ${Math.round(levels)} contours on this lot; at most ${MOST_CONTOURS} are drawn.`,
    remedy: "Give a larger interval: 2 ft is usual.",
  };
}

function doesNotReachLot(): Problem {
  return {
    code: "topo-outside-lot",
    where: "topo",
    message: "No surveyed ground lies inside the lot line.",
    remedy:
      "Check that topo and boundary are in the same coordinates and unit, and that northing and easting are not swapped.",
  };
}
