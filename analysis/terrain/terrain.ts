/** The ground as the survey shows it. */
import type { Raster } from "../geometry/grid.js";
import type { MultiPolygon, Point } from "../geometry/plane.js";

/** Triangles over the ground shots. Vertex i of facet f is triangles[3 f + i], counter-clockwise. */
export interface Tin {
  readonly eastFt: Float64Array;
  readonly northFt: Float64Array;
  readonly elevFt: Float64Array;
  readonly triangles: Uint32Array;
  readonly facetCount: number;
  /** halfedges[e] is side e seen from the facet across it, −1 on the rim. Side e runs from triangles[e] to the facet's next vertex. */
  readonly halfedges: Int32Array;
  /** Rise per foot east and per foot north of each facet: z = z₀ + gradEast·(x − x₀) + gradNorth·(y − y₀). */
  readonly gradEast: Float64Array;
  readonly gradNorth: Float64Array;
  /** Plan area of each facet inside the lot; 0 where unsupported. */
  readonly areaInLotFt2: Float64Array;
  /** 0 where the facet spans ground the survey does not support (hull slivers, edges far longer than the spacing). */
  readonly supported: Uint8Array;
  /** Uniform buckets for point and box look-ups: facets of bucket b are facetIds[start[b]] … facetIds[start[b + 1] − 1]. */
  readonly index: {
    readonly originEastFt: number;
    readonly originNorthFt: number;
    readonly cellFt: number;
    readonly cols: number;
    readonly rows: number;
    readonly start: Uint32Array;
    readonly facetIds: Uint32Array;
  };
}

export interface SlopeBand {
  readonly fromPct: number;
  /** null for the open last band. */
  readonly toPct: number | null;
  readonly areaFt2: number;
  readonly sharePct: number;
}

/** `terrain` of the answer; every number is over the lot only. */
export interface TerrainSummary {
  readonly method: "facets" | "grid";
  readonly minElevationFt: number;
  readonly maxElevationFt: number;
  readonly reliefFt: number;
  /** Plan area of the surveyed part of the lot. */
  readonly planAreaFt2: number;
  readonly surfaceAreaFt2: number;
  readonly meanSlopePct: number;
  readonly averageSlope: {
    readonly intervalFt: number;
    readonly contourLengthFt: number;
    readonly pct: number;
  };
  readonly slopeBands: readonly SlopeBand[];
  /** Azimuth (clockwise from north) of the mean downhill direction. */
  readonly aspectDeg: number;
  /** Leave-one-out error of the ground between shots, root mean square; null with too few shots. */
  readonly interpolationRmsFt: number | null;
  readonly largestHoleFt: number;
  readonly longestFacetEdgeFt: number;
  /** Closest contour interval the ground's accuracy (`Terrain.groundSigmaFt`) supports by the National Map Accuracy Standards. */
  readonly supportedContourFt: number;
}

export interface ContourLine {
  readonly elevFt: number;
  readonly lines: readonly (readonly Point[])[];
}

export interface Terrain {
  readonly tin: Tin;
  /** Lot ∩ supported facets. */
  readonly surveyed: MultiPolygon;
  readonly coveragePct: number;
  readonly summary: TerrainSummary;
  /** Ground over the lot and a margin around it where surveyed, for drawing, flow and searching. */
  readonly elevation: Raster;
  /** Steepness (percent) per cell: of the facet, or of the smoothed grid on dense surveys. */
  readonly slope: Raster;
  /** Contours inside the lot at the request's interval. */
  readonly contours: readonly ContourLine[];
  readonly bandPolygons: readonly {
    readonly fromPct: number;
    readonly toPct: number | null;
    readonly polygons: MultiPolygon;
  }[];
  /** The survey's accuracy with the interpolation error added, one sigma, ft: what volumes are propagated with. */
  readonly groundSigmaFt: number;
}
