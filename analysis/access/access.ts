/** Can a car get up there. */
import type { Raster } from "../geometry/grid.js";
import type { MultiPolygon, Point, Point3 } from "../geometry/plane.js";

/** A coarse look before anything is placed: the mildest sustained grade by which each cell can be reached from the street. */
export interface Reach {
  /** Where a car enters, or null when no frontage is known and none could be guessed. */
  readonly entry: Point | null;
  readonly entryElevFt: number;
  readonly entryOrigin: "given" | "frontage midpoint" | "guessed" | "unknown";
  /** Shortest path length from the entry at the grade limit, ft; NaN where no path was found. On a grid of its own. */
  readonly distanceFt: Raster;
}

export interface ProfileStation {
  readonly stationFt: number;
  readonly groundFt: number;
  readonly gradeFt: number;
}

export interface Driveway {
  readonly lengthFt: number;
  readonly maxGradePct: number;
  readonly meanGradePct: number;
  readonly line: readonly Point3[];
  readonly bankCutYd3: number;
  readonly compactedFillYd3: number;
  readonly prismoidalCutYd3: number;
  readonly prismoidalFillYd3: number;
  readonly turnaround: boolean;
  readonly turnaroundRequired: boolean;
  readonly widthFt: number;
  readonly pavedFt2: number;
  readonly wallFaceFt2: number;
  readonly wallMaxFt: number;
  readonly profile: readonly ProfileStation[];
  readonly garageFloorFt: number;
  readonly garageAt: Point;
  readonly footprint: MultiPolygon;
  /** "a car" and "a fire engine or loaded truck", each yes or the reason why not. */
  readonly car: { readonly ok: boolean; readonly because: string };
  readonly heavyVehicle: { readonly ok: boolean; readonly because: string };
  readonly stairsRiseFt: number;
  readonly stairsCount: number;
  readonly walkFt: number;
}

export type Access =
  | { readonly reachable: true; readonly driveway: Driveway }
  | {
      readonly reachable: false;
      /** Gentlest grade by which some path exists, percent; null when none was found at all. */
      readonly gentlestGradePct: number | null;
      readonly pinchAt: Point | null;
      readonly because: string;
      readonly helps: readonly string[];
    };
