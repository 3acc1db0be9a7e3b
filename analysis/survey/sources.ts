/** What the readers of single formats hand on: still in the file's own coordinates and units. */
import type { LengthUnit } from "../units.js";
import type { PointTable } from "./point-table.js";

/** A line of points in the file's coordinates: easting, northing, elevation. */
export type SourceLine = readonly (readonly [easting: number, northing: number, elevation: number])[];

/** Who says which axis is north: a name for it (or the format), a bare x and y, or nobody. */
export type AxisSaying = "named" | "x-y" | "guessed";

export interface FrameSaid {
  readonly axes: AxisSaying;
  /** Unit the file itself states; that of its elevations too where it says nothing else of them. */
  readonly unit: LengthUnit | null;
  /** Unit it states of the elevations themselves. */
  readonly verticalUnit: LengthUnit | null;
  /** Coordinates are degrees by name or by the format's own rule. */
  readonly degrees: boolean;
  /** "EPSG:…" where the file states one. */
  readonly crs: string | null;
}

/** How heights came about, where the format tells: it decides how far they are believed. */
export type HeightsFrom =
  | { readonly kind: "shots" | "lidar" | "grid" }
  /** Smallest step between two contours, in the file's unit; null when there is one contour only. */
  | { readonly kind: "contours"; readonly interval: number | null };

export interface TopoSource {
  readonly heightsFrom: HeightsFrom;
  readonly said: FrameSaid;
  readonly format: string;
  readonly columns: Readonly<Record<string, number>> | null;
  readonly columnsBecause: string;
  readonly points: PointTable;
  /** Rows that hold data, read or not. */
  readonly pointsRead: number;
  readonly breaklines: readonly SourceLine[];
  /** The surveyor's own facets: places in `points` of the corners, three a facet. */
  readonly faces?: Uint32Array;
}

export interface BoundarySource {
  readonly said: FrameSaid;
  readonly format: string;
  /** Null for formats without columns. */
  readonly columns: Readonly<Record<string, number>> | null;
  /** Corners in the order given: easting, northing. The first is not repeated. */
  readonly ring: readonly (readonly [easting: number, northing: number])[];
  /** Caller's number of the edge that leaves each corner. */
  readonly edge: readonly number[];
  /** 1-based row of each corner, where the format has rows. */
  readonly row: readonly number[] | null;
  readonly traverse: {
    readonly misclosure: number;
    readonly length: number;
    readonly adjusted: boolean;
  } | null;
}
