/** Surveys and sites made in memory, without files: the ground is a formula or a list of shots, the lot any ring. */
import type { Point, Point3, Ring } from "../../analysis/geometry/plane.js";
import { signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { findBuildable, type Site } from "../../analysis/lot/index.js";
import { type RequestInput, type StudyRequest, understandRequest } from "../../analysis/request/index.js";
import type { GroundPoints, NoBuildArea, Survey, SurveyFeature } from "../../analysis/survey/survey.js";
import { buildTerrain } from "../../analysis/terrain/index.js";

export interface SurveyParts {
  /** Lot line, local feet, either way round. Edge i runs from corner i to corner i + 1. */
  readonly boundary: Ring;
  readonly points: readonly Point3[];
  readonly request?: RequestInput;
  readonly features?: readonly SurveyFeature[];
  readonly noBuild?: readonly NoBuildArea[];
  readonly breaklines?: readonly (readonly Point3[])[];
}

/** A survey in a local frame whose survey coordinates are the local feet themselves. */
export function surveyOf({
  boundary,
  points,
  request = {},
  features = [],
  noBuild = [],
  breaklines = [],
}: SurveyParts): Survey {
  const clockwise = signedAreaFt2(boundary) < 0;
  const edges = boundary.map((_, i) => i);
  return {
    frame: {
      originEasting: 0,
      originNorthing: 0,
      unit: "ft",
      verticalUnit: "ft",
      feetPerUnit: 1,
      verticalFeetPerUnit: 1,
      crs: "local",
      proj4: null,
    },
    ground: groundOf(points),
    features,
    boundary: clockwise ? [...boundary].reverse() : boundary,
    // reversed, the edge from corner i runs to corner i − 1, which the caller numbered i − 1
    inputEdge: clockwise ? edges.map((i) => (2 * boundary.length - 2 - i) % boundary.length) : edges,
    closure: null,
    noBuild,
    constraintsGiven: noBuild.length > 0,
    breaklines,
    accessPoint: request.access?.point ?? null,
    summary: {
      pointsRead: points.length,
      pointsUsed: points.length,
      excluded: [],
      unit: "ft",
      verticalUnit: "ft",
      crs: "local",
      columns: null,
      columnsBecause: "made in memory",
      format: "memory",
      medianSpacingFt: medianSpacingFt(points),
      coveragePct: 0,
      verticalAccuracyFt: request.survey?.verticalAccuracyFt ?? 0.3,
      verticalAccuracyOrigin: "made in memory",
      date: null,
      datum: null,
      basisOfBearings: null,
      warnings: [],
    },
  };
}

/** A site from shots and a lot line, through the real terrain and lot stages. Throws when the terrain stage refuses. */
export function siteOf(parts: SurveyParts): Site {
  const request: StudyRequest = understandRequest(parts.request ?? {}).request;
  const shaped = buildTerrain(surveyOf(parts), request);
  if (!shaped.ok) throw new Error(shaped.problems.map(({ message }) => message).join("; "));
  const { survey, terrain } = shaped;
  return { request, survey, terrain, lot: findBuildable(survey, terrain, request) };
}

export interface FormulaOptions {
  readonly widthFt?: number;
  readonly depthFt?: number;
  readonly spacingFt?: number;
  /** Shots reach this far beyond the lot. */
  readonly beyondFt?: number;
  readonly request?: RequestInput;
}

/**
 * A rectangular lot [0, width] × [0, depth] (a square acre when not said) with shots on a square grid at the height
 * given by the formula, beyond the lot too. Edge 0 is the south line, then east, north, west.
 */
export function formulaSite(
  elevFt: (eastFt: number, northFt: number) => number,
  options: FormulaOptions = {},
): Site {
  const { widthFt = 208.71, depthFt = 208.71, spacingFt = 20, beyondFt = 60, request = {} } = options;
  return siteOf({
    boundary: [
      [0, 0],
      [widthFt, 0],
      [widthFt, depthFt],
      [0, depthFt],
    ],
    points: gridShots(elevFt, -beyondFt, -beyondFt, widthFt + beyondFt, depthFt + beyondFt, spacingFt),
    request,
  });
}

export interface PlaneOptions extends FormulaOptions {
  readonly gradePct: number;
  /** Direction in which the ground falls, clockwise from north; 180 (south) when not said. */
  readonly downhillAzimuthDeg?: number;
  /** Height at the middle of the lot; 500 when not said. */
  readonly middleElevFt?: number;
}

/** An inclined plane: steepness, direction and heights are known exactly. */
export function planeSite({
  gradePct,
  downhillAzimuthDeg = 180,
  middleElevFt = 500,
  ...options
}: PlaneOptions): Site {
  const azimuth = (downhillAzimuthDeg * Math.PI) / 180;
  const east = Math.sin(azimuth);
  const north = Math.cos(azimuth);
  const middleEast = (options.widthFt ?? 208.71) / 2;
  const middleNorth = (options.depthFt ?? 208.71) / 2;
  return formulaSite(
    (x, y) => middleElevFt - (gradePct / 100) * ((x - middleEast) * east + (y - middleNorth) * north),
    options,
  );
}

/** Shots on a square grid, the far sides included. */
export function gridShots(
  elevFt: (eastFt: number, northFt: number) => number,
  west: number,
  south: number,
  east: number,
  north: number,
  spacingFt: number,
): Point3[] {
  const shots: Point3[] = [];
  const cols = Math.max(1, Math.ceil((east - west) / spacingFt));
  const rows = Math.max(1, Math.ceil((north - south) / spacingFt));
  for (let row = 0; row <= rows; row++)
    for (let col = 0; col <= cols; col++) {
      const x = west + ((east - west) * col) / cols;
      const y = south + ((north - south) * row) / rows;
      shots.push([x, y, elevFt(x, y)]);
    }
  return shots;
}

function groundOf(points: readonly Point3[]): GroundPoints {
  return {
    count: points.length,
    eastFt: Float64Array.from(points, ([x]) => x),
    northFt: Float64Array.from(points, ([, y]) => y),
    elevFt: Float64Array.from(points, ([, , z]) => z),
    row: Int32Array.from(points, (_, i) => i + 1),
  };
}

/** Side of the square each shot would have to itself over the shots' box. */
function medianSpacingFt(points: readonly (Point3 | Point)[]): number {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  const span = (values: number[]) =>
    values.reduce((a, b) => Math.max(a, b)) - values.reduce((a, b) => Math.min(a, b));
  return Math.sqrt((span(xs) * span(ys)) / points.length);
}
