/** What intake understood of the files: the shapes every later stage reads. All geometry is in local feet. */
import type { Problem } from "../assumptions.js";
import type { MultiPolygon, Point, Point3, Ring } from "../geometry/plane.js";
import type { LengthUnit } from "../units.js";
import { projection } from "./projections.js";

/** Bytes a caller sent, with the name they gave (never used as a path). */
export interface SurveyFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface SurveyFiles {
  readonly topo?: SurveyFile;
  readonly boundary?: SurveyFile;
  readonly constraints?: SurveyFile;
  readonly breaklines?: SurveyFile;
}

/**
 * Between survey coordinates and local feet: local = (survey − origin) × feetPerUnit.
 * Elevations are not shifted: feet = survey elevation × verticalFeetPerUnit.
 */
export interface Frame {
  readonly originEasting: number;
  readonly originNorthing: number;
  readonly unit: LengthUnit;
  readonly verticalUnit: LengthUnit;
  readonly feetPerUnit: number;
  readonly verticalFeetPerUnit: number;
  /** "local" or "EPSG:…" of the survey coordinates; words for a plane through the lot that degrees were projected to. */
  readonly crs: string;
  /** proj4 definition of `crs`, when known. */
  readonly proj4: string | null;
}

/** Ground shots used, as columns, in the order of a curve that fills the plane: neighbours stand together. */
export interface GroundPoints {
  readonly count: number;
  readonly eastFt: Float64Array;
  readonly northFt: Float64Array;
  readonly elevFt: Float64Array;
  /** 1-based row of the file each point came from. */
  readonly row: Int32Array;
}

/**
 * The surveyor's own triangulation of the ground: the visible faces of a surface. Corners may have been left out of the
 * ground since, as blunders or repeats; ground outside the faces was not surveyed.
 */
export interface SurveyFaces {
  /** Places of all corners, local feet. */
  readonly eastFt: Float64Array;
  readonly northFt: Float64Array;
  /** Corner k of face f is corners[3 f + k], either way round. */
  readonly corners: Uint32Array;
}

/** A shot that is not ground, or is more than ground. */
export interface SurveyFeature {
  readonly kind: "tree" | "structure" | "utility" | "monument" | "street" | "water" | "rock" | "other";
  readonly at: Point;
  readonly elevFt: number;
  readonly description: string;
  readonly row: number;
  /** Trunk diameter read from the description, when it holds one. */
  readonly trunkIn?: number;
}

/** Ground nothing may be built on, from the constraints file, trees or watercourses. */
export interface NoBuildArea {
  readonly name: string;
  readonly kind: "easement" | "no-build" | "tree" | "watercourse";
  readonly polygons: MultiPolygon;
}

export interface SurveyWarning {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
  readonly rows?: readonly number[];
}

/** `survey` of the answer. */
export interface SurveySummary {
  readonly pointsRead: number;
  readonly pointsUsed: number;
  readonly excluded: readonly { readonly row: number; readonly reason: string; readonly evidence?: string }[];
  readonly unit: LengthUnit;
  readonly verticalUnit: LengthUnit;
  readonly crs: string;
  /** Zero-based columns as read; null for formats without columns. */
  readonly columns: Readonly<Record<string, number>> | null;
  /** How the columns were recognised, in words. */
  readonly columnsBecause: string;
  readonly format: string;
  readonly medianSpacingFt: number;
  /** Share of the lot lying on surveyed ground; filled by the terrain stage. */
  readonly coveragePct: number;
  /** One sigma of a ground shot. */
  readonly verticalAccuracyFt: number;
  readonly verticalAccuracyOrigin: string;
  readonly date: string | null;
  readonly datum: string | null;
  readonly basisOfBearings: string | null;
  readonly warnings: readonly SurveyWarning[];
  /** What each description was taken for, most frequent first. */
  readonly codes?: readonly {
    readonly description: string;
    readonly takenFor: string;
    readonly ground: boolean;
    readonly count: number;
  }[];
}

/** Misclosure of a boundary written as bearings and distances; null when it was given as corners. */
export interface Closure {
  readonly misclosureFt: number;
  /** Perimeter ÷ misclosure: 12500 is "1 in 12,500". */
  readonly precision: number;
  readonly adjusted: boolean;
}

export interface Survey {
  readonly frame: Frame;
  readonly ground: GroundPoints;
  readonly features: readonly SurveyFeature[];
  /** Lot line, counter-clockwise, local feet. */
  readonly boundary: Ring;
  /** inputEdge[i] is the caller's number (zero-based, in the order given) of the edge from boundary[i] to boundary[i + 1]. */
  readonly inputEdge: readonly number[];
  readonly closure: Closure | null;
  readonly noBuild: readonly NoBuildArea[];
  /** True when the caller sent a constraints file, even an empty one. */
  readonly constraintsGiven: boolean;
  readonly breaklines: readonly (readonly Point3[])[];
  /** Facets as the surveyor drew them, where the topo is a triangulated surface. */
  readonly faces?: SurveyFaces;
  /** Where the shots lie that were left out, repeats excepted. */
  readonly leftOut?: readonly { readonly at: Point; readonly row: number; readonly reason: string }[];
  /** Street entry in local feet, when the request gives one. */
  readonly accessPoint: Point | null;
  readonly summary: SurveySummary;
}

export type SurveyReading =
  | { readonly ok: true; readonly survey: Survey }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Local feet to survey coordinates. */
export function toSurvey(frame: Frame, [east, north]: Point): [number, number] {
  return [frame.originEasting + east / frame.feetPerUnit, frame.originNorthing + north / frame.feetPerUnit];
}

/**
 * Survey coordinates to local feet. Where the coordinate system is known degrees are taken too, longitude first, as
 * GeoJSON has them: places of a plane are never that small. A frame with a known system comes from `readSurvey` alone,
 * which has loaded the projections; surveys neither leave their thread nor are kept.
 */
export function toLocal(frame: Frame, at: Point): [number, number] {
  const { proj4 } = frame;
  const isDegrees = proj4 !== null && Math.abs(at[0]) <= 180 && Math.abs(at[1]) <= 90;
  const [easting, northing] = isDegrees ? projection("WGS84", proj4).forward([at[0], at[1]]) : at;
  return [
    (easting! - frame.originEasting) * frame.feetPerUnit,
    (northing! - frame.originNorthing) * frame.feetPerUnit,
  ];
}
