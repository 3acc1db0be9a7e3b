/** Dirt: how much moves, and in which state it is counted. */
import type { Raster } from "../geometry/grid.js";
import type { MultiPolygon, Point } from "../geometry/plane.js";

/** Volumes between natural ground and a design surface, with the area each covers. */
export interface CutFill {
  readonly cutFt3: number;
  readonly fillFt3: number;
  readonly maxCutFt: number;
  readonly maxFillFt: number;
  readonly cutFt2: number;
  readonly fillFt2: number;
}

/** `earthwork` of a scheme. Bank: in the ground. Loose: in the truck. Compacted: rolled in place. */
export interface Earthwork {
  readonly bankCutYd3: number;
  readonly compactedFillYd3: number;
  readonly looseExportYd3: number;
  readonly looseImportYd3: number;
  readonly truckloads: number;
  readonly maxCutFt: number;
  readonly meanCutFt: number;
  readonly maxFillFt: number;
  readonly disturbedFt2: number;
  /** One sigma on the cut (and on the fill), from the survey alone. */
  readonly uncertaintyYd3: number;
  /** Bank volume dug for a basement, temporary slopes included; 0 without one. */
  readonly digYd3: number;
  readonly backfillYd3: number;
  readonly stockpileFt2: number;
  readonly temporaryCutFt: number;
  readonly temporaryReachFt: number;
  /** True when the top of the temporary cut would lie past the lot line. */
  readonly temporaryLeavesLot: boolean;
  /** True when a batter or a temporary cut would cross the lot line. */
  readonly leavesLot: boolean;
  readonly topsoilYd3: number;
}

export interface Wall {
  readonly kind: "site" | "basement";
  /** Tallest exposed retained height. */
  readonly retainedFt: number;
  /** Bottom of footing to top. */
  readonly totalFt: number;
  readonly lengthFt: number;
  readonly faceFt2: number;
  readonly where: "uphill" | "downhill" | "left" | "right" | "between";
  readonly surcharge: boolean;
  readonly line: readonly Point[];
  /** Retained height along `line`, evenly spaced, ft. */
  readonly heightsFt: readonly number[];
  /** Length and face area in each height class, by upper limit: 4, 6, 8, 10, 12 ft and above. */
  readonly classes: readonly {
    readonly upToFt: number | null;
    readonly lengthFt: number;
    readonly faceFt2: number;
  }[];
  /** One of several walls that share a height, counted from the lowest, with so much clear ground between them; absent for a wall alone. */
  readonly tier?: { readonly nth: number; readonly of: number; readonly spacingFt: number };
}

/** Where the design surface meets natural ground, and how deep it lies below or above it. */
export interface GradedGround {
  readonly cut: MultiPolygon;
  readonly fill: MultiPolygon;
  /** Positive where ground is cut, negative where filled, NaN untouched. */
  readonly depth: Raster;
}
