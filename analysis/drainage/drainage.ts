/** Where the water goes. */
import type { MultiPolygon, Point } from "../geometry/plane.js";
import type { FlowField } from "./flow-field.js";

/** Water over the natural ground, once per lot. */
export interface LotWater {
  /** Cell by cell, for the stages that follow; never leaves the analysis. */
  readonly flow: FlowField;
  /** Lines of concentrated flow worth drawing, with the area behind their lower end. */
  readonly streams: readonly { readonly line: readonly Point[]; readonly catchmentFt2: number }[];
  readonly depressions: readonly { readonly areaFt2: number; readonly depthFt: number; readonly at: Point }[];
  readonly lotCatchmentFt2: number;
  readonly lotCatchment: MultiPolygon;
  /** True when water may come from beyond the survey: areas are lower bounds. */
  readonly lowerBound: boolean;
}

export interface DrainTier {
  readonly tier: "under-slab" | "wall" | "roof-and-surface";
  readonly invertFt: number;
  /** Elevation of the place where it can run out; null when none was found on the lot. */
  readonly outletFt: number | null;
  readonly runFt: number;
  readonly gravity: boolean;
  readonly route: readonly Point[];
  readonly outletToLineFt: number | null;
  readonly pipeIn: number;
  readonly words: string;
}

export interface Drainage {
  readonly catchmentFt2: number;
  readonly catchment: MultiPolygon;
  readonly lowerBound: boolean;
  readonly concentrationMin: number;
  /** Peak at the 10-year rain onto the pad from above. */
  readonly peakCfs: number;
  readonly peak100Cfs: number;
  /** Whole lot, before and after roof and drive, 10-year rain. */
  readonly lotBeforeCfs: number;
  readonly lotAfterCfs: number;
  readonly imperviousFt2: number;
  readonly swale: {
    readonly lengthFt: number;
    readonly depthIn: number;
    readonly slopePct: number;
    readonly velocityFtPerS: number;
    readonly line: readonly Point[];
    /** Steepest stretch down the sides, and the 100-year water there. */
    readonly steepestPct: number;
    readonly fastestFtPerS: number;
    /** Faster than grass holds. */
    readonly lined: boolean;
    readonly words: string;
  } | null;
  /** Water of the whole lot to hold back, 10-year rain. */
  readonly detention: {
    /** Storage that keeps the peak to what it is today. */
    readonly peakFt3: number;
    /** All that roof and paving add in an hour's rain. */
    readonly addedFt3: number;
    readonly allowedCfs: number;
    readonly peakCfs: number;
    readonly rainMin: number;
    readonly words: string;
  };
  /** Where the drive crosses gathered water, from the street up. `pipeIn` null: more than one pipe carries. */
  readonly crossings: readonly {
    readonly at: Point;
    readonly stationFt: number;
    readonly catchmentFt2: number;
    readonly peak100Cfs: number;
    readonly slopePct: number;
    readonly pipeIn: number | null;
    readonly lengthFt: number;
    readonly words: string;
  }[];
  /** Way of the water over the ground when an inlet is blocked; null where it is not known. */
  readonly overflow: {
    readonly line: readonly Point[];
    readonly toward: "street" | "neighbor";
    /** Number of the lot line, as the request numbers them. */
    readonly edge: number;
    readonly words: string;
  } | null;
  readonly roofPipeIn: number;
  readonly tiers: readonly DrainTier[];
  /** 6 in of fall in the first 10 ft (IRC R401.3): "yes", or what stands instead. */
  readonly fallAwayFromHouse: { readonly ok: boolean; readonly because: string };
}
