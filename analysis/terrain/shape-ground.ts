/** From shots and lot line to facets, lot ground and contours: what intake shows, and what the terrain stage goes on from. */
import type { Problem } from "../assumptions.js";
import type { Raster } from "../geometry/grid.js";
import { boxOf, type MultiPolygon, type Ring, signedAreaFt2 } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import type { Survey, SurveyWarning } from "../survey/survey.js";
import { traceContours } from "./contours.js";
import { facetsWithin } from "./facet-outlines.js";
import { OUTSIDE, placeFacets } from "./facets-in-lot.js";
import { meshOfGrid } from "./grid-mesh.js";
import { smoothGround } from "./grid-slope.js";
import { gridOver, rasteriseGround } from "./ground-rasters.js";
import { joinBreaklines } from "./join-breaklines.js";
import { layFaces } from "./lay-faces.js";
import { measureFacets } from "./measure-facets.js";
import type { Mesh } from "./mesh.js";
import type { LotExtremes } from "./relief.js";
import { medianSideFt } from "./supported-facets.js";
import type { ContourLine, Tin } from "./terrain.js";
import { triangulate } from "./triangulate.js";

/** Closer shots than this make facets that measure noise, not ground: slopes are then taken on a smoothed grid. */
export const DENSE_SPACING_FT = 3;

/** More contours than this are no drawing, and their tracing could take minutes. */
const MOST_CONTOURS = 5000;
/** A lot surveyed to this share is wholly surveyed: the rest is rounding. */
const WHOLE = 1 - 1e-9;

/** The ground of one lot before its steepness is summed up. */
export interface ShapedGround {
  readonly mesh: Mesh;
  readonly tin: Tin;
  /** How each facet lies to the lot line. */
  readonly place: Uint8Array;
  /** Plan area of the surveyed part of the lot. */
  readonly surveyedFt2: number;
  /** Lot ∩ supported facets. */
  readonly surveyed: MultiPolygon;
  readonly coveragePct: number;
  readonly extremes: LotExtremes;
  readonly elevation: Raster;
  /** Steepness of the facet under each cell, percent. */
  readonly facetSlope: Raster;
  /** The elevations smoothed, where shots are so dense that facets measure noise. */
  readonly smooth: Raster | null;
  readonly contours: readonly ContourLine[];
  /** Average slope by the length of contours in the lot. */
  readonly averageSlope: {
    readonly intervalFt: number;
    readonly contourLengthFt: number;
    readonly pct: number;
  };
}

export type ShapingOutcome =
  | { readonly ok: true; readonly survey: Survey; readonly shaped: ShapedGround }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Joins the ground shots to facets, clips the facets to the lot and draws its contours; the survey comes back with its
 * coverage and the warnings of the joining. Average slope S = 100·I·L/A with I the contour interval, L the length of
 * contours in the lot, A the surveyed area of the lot.
 * Refuses shots on one line, surveys that do not reach the lot, and a contour interval that is absurdly fine.
 */
export function shapeGround(survey: Survey, request: StudyRequest): ShapingOutcome {
  const joined = joinBreaklines(survey.ground, survey.breaklines);
  const faces = survey.faces && layFaces(survey.faces, survey.ground);
  const mesh = triangulate(joined, faces?.sides);
  if (mesh.triangles.length === 0) return { ok: false, problems: [onOneLine(survey.ground.count)] };
  const lot = survey.boundary;
  const lotAreaFt2 = signedAreaFt2(lot);
  const { tin, place, extremes } = measureFacets(mesh, lot, faces?.isDrawn);
  let surveyedFt2 = 0;
  for (let f = 0; f < tin.facetCount; f++) surveyedFt2 += tin.areaInLotFt2[f]!;
  if (!(surveyedFt2 > 0)) return { ok: false, problems: [doesNotReachLot()] };

  const intervalFt = request.rules.contourIntervalFt;
  const { minElevationFt, maxElevationFt } = extremes;
  const levels = (maxElevationFt - minElevationFt) / intervalFt;
  if (levels > MOST_CONTOURS) return { ok: false, problems: [tooManyContours(levels)] };

  const { elevation, slope: facetSlope } = rasteriseGround(tin, gridOver(lot, lotAreaFt2, tin));
  const smooth = medianSideFt(mesh) < DENSE_SPACING_FT ? smoothGround(elevation) : null;
  const contourMesh = smooth ? meshOfGrid(smooth, boxOf(lot)) : tin;
  const contourPlace = smooth ? placeFacets(contourMesh, lot) : place;
  const { contours, lengthFt } = traceContours(contourMesh, lot, contourPlace, intervalFt);

  const coveragePct = Math.min(100, (100 * surveyedFt2) / lotAreaFt2);
  const warnings = [...survey.summary.warnings, ...joined.warnings, ...lostSides(mesh)];
  return {
    ok: true,
    survey: { ...survey, summary: { ...survey.summary, coveragePct, warnings } },
    shaped: {
      mesh,
      tin,
      place,
      surveyedFt2,
      surveyed: surveyedFt2 >= lotAreaFt2 * WHOLE ? [[lot]] : surveyedGround(tin, lot, place),
      coveragePct,
      extremes,
      elevation,
      facetSlope,
      smooth,
      contours,
      averageSlope: {
        intervalFt,
        contourLengthFt: lengthFt,
        pct: (100 * intervalFt * lengthFt) / surveyedFt2,
      },
    },
  };
}

/** Lot ∩ supported facets. */
function surveyedGround(tin: Tin, lot: Ring, place: Uint8Array): MultiPolygon {
  const chosen = Uint8Array.from(place, (side, f) => (side !== OUTSIDE && tin.supported[f] ? 1 : 0));
  return facetsWithin(tin, chosen, [[lot]]);
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
