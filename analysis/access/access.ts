/** Can a car get up there. */
import type { Grid, Raster } from "../geometry/grid.js";
import type { MultiPolygon, Point, Point3, Ring } from "../geometry/plane.js";

/** A place on the lot line where a lane may come in square to the street. */
export interface StreetEntry {
  readonly at: Point;
  /** Unit vector into the lot. */
  readonly inward: Point;
  readonly elevFt: number;
}

/** The ground as lanes meet it, on a grid coarser than the terrain's. Never leaves the analysis. */
export interface LaneGround {
  readonly grid: Grid;
  /** NaN where nobody surveyed. */
  readonly elevFt: Float32Array;
  /** Plan distance to the nearest place no lane may touch (neighbours, trees, water, unsurveyed ground), ft; negative on it. */
  readonly clearanceFt: Float32Array;
}

/** A coarse look before anything is placed: the mildest sustained grade by which each cell can be reached from the street. */
export interface Reach {
  /** Where a car enters, or null when no frontage is known and none could be guessed. */
  readonly entry: Point | null;
  readonly entryElevFt: number;
  readonly entryOrigin: "given" | "frontage midpoint" | "guessed" | "unknown";
  /** Shortest path length from the street at the grade limit, ft, a lower bound; NaN where lanes have no room. On a grid of its own. */
  readonly distanceFt: Raster;
  /** Every entry tried, in order along the street; `entry` is the middle one. */
  readonly entries: readonly StreetEntry[];
  readonly lanes: LaneGround;
}

export interface ProfileStation {
  readonly stationFt: number;
  /** Before anything is dug. */
  readonly groundFt: number;
  readonly gradeFt: number;
}

/** Yes, or the reason why not. */
export interface VehicleAnswer {
  readonly ok: boolean;
  readonly because: string;
  /** Widest ground it sweeps, from outer front to inner rear tyre. */
  readonly sweptFt: number;
  /** Wider than drawn in its widest curve, with room to steer; null where a turn is too tight at any width. */
  readonly wideningFt: number | null;
  /** Where it cannot pass as drawn; null where it can, or where grade, not turning, is the reason. */
  readonly failsAt: Point | null;
}

export interface Driveway {
  readonly lengthFt: number;
  /** Steepest place on the pavement, inside edges of curves included. */
  readonly maxGradePct: number;
  readonly meanGradePct: number;
  readonly line: readonly Point3[];
  readonly bankCutYd3: number;
  readonly compactedFillYd3: number;
  readonly prismoidalCutYd3: number;
  readonly prismoidalFillYd3: number;
  readonly turnaround: boolean;
  readonly turnaroundRequired: boolean;
  /** The leg a car backs into, when there is room for one; not in `pavedFt2`. */
  readonly turnaroundRing?: Ring | null;
  /** Inside edge of the tightest curve; null when the drive is straight. */
  readonly insideRadiusFt?: number | null;
  readonly steepestAt?: Point;
  readonly widthFt: number;
  readonly pavedFt2: number;
  readonly wallFaceFt2: number;
  readonly wallMaxFt: number;
  readonly profile: readonly ProfileStation[];
  readonly garageFloorFt: number;
  readonly garageAt: Point;
  readonly footprint: MultiPolygon;
  readonly car: VehicleAnswer;
  /** A loaded concrete truck. */
  readonly heavyVehicle: VehicleAnswer;
  readonly fireEngine: VehicleAnswer;
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
      /** What was tried or would help, in words; `tried` holds the same trials as numbers. */
      readonly helps: readonly string[];
      readonly tried: readonly TriedHelp[];
    };

/** Something that was tried where no lane keeps the rules. */
export interface TriedHelp {
  readonly what: "steeper" | "other-floor" | "even-ends" | "tighter-turns" | "easement";
  readonly works: boolean;
  /** Of the lane found. */
  readonly lengthFt: number | null;
  /** Steepest grade of that lane's rules, percent. */
  readonly gradePct: number | null;
  /** Of the lane found, over ground that is not the lot's. */
  readonly offLotFt: number | null;
}
