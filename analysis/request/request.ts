/** The request as understood: every default filled in, and a record of which values were filled. */
import type { Point, Ring } from "../geometry/plane.js";
import type { PriceOverride, RequestInput } from "./schema.js";

export type YesNoUnknown = "yes" | "no" | "unknown";

export type Setbacks =
  | { readonly all: number }
  | { readonly front: number; readonly side: number; readonly rear: number }
  | { readonly edges: readonly number[] };

export interface FixedPad {
  readonly name: string;
  /** In survey coordinates, as given. */
  readonly ring: Ring;
  /** Feet, whatever unit the survey's heights are in. */
  readonly elevationFt: number;
  readonly sides: "vertical" | "battered";
}

export interface Brief {
  readonly floorAreaFt2: number;
  readonly storeys: number;
  readonly bedrooms: number;
  /** Bedrooms on the lower level of a basement scheme. */
  readonly basementBedrooms: number;
  readonly garageCars: number;
  readonly basement: "none" | "daylight" | "full" | "either";
  readonly footprint: { readonly widthFt: number; readonly depthFt: number } | null;
  readonly pads: readonly FixedPad[] | null;
  readonly septic: boolean;
}

export interface Rules {
  readonly setbacksFt: Setbacks;
  readonly slopeLimitPct: number;
  readonly minBuildableWidthFt: number;
  readonly slopeBandsPct: readonly number[];
  readonly contourIntervalFt: number;
  /** Run per unit of rise of a cut face. */
  readonly cutBatter: number;
  readonly fillBatter: number;
  readonly heightLimitFt: number;
  readonly maxSiteWallFt: number;
  readonly maxBasementRetainedFt: number;
  readonly fillMaxSlopePct: number;
  readonly temporaryBatter: number;
  readonly workingSpaceFt: number;
  readonly apronFt: { readonly uphill: number; readonly side: number; readonly downhill: number };
  readonly floorArea: {
    readonly ratio: number;
    readonly reductionBySlope: readonly { readonly fromPct: number; readonly factor: number }[];
  } | null;
  readonly maxLotCoveragePct: number | null;
  readonly floorToFloorFt: number;
  readonly topsoilFt: number;
  readonly driveway: {
    readonly maxGradePct: number;
    readonly widthFt: number;
    readonly minInsideRadiusFt: number;
  };
  readonly drainage: { readonly minPipeSlopePct: number; readonly outletFromLineFt: number };
  readonly rainfall: {
    readonly durationMin: number;
    readonly inPerHr10yr: number;
    readonly inPerHr100yr: number;
    readonly inPerHrLow: number;
  };
  readonly gradingShutdown: { readonly fromMonth: number; readonly toMonth: number } | null;
  /** Calendar month of the accepted offer, when the request says it. */
  readonly startMonth: number | null;
}

export interface Soil {
  readonly kind: "common-earth" | "sand" | "clay" | "rock";
  readonly expansive: boolean | "unknown";
  /** Loose = bank × (1 + swellPct / 100). */
  readonly swellPct: number;
  /** Compacted = bank × (1 − shrinkPct / 100); negative when the material bulks (rock). */
  readonly shrinkPct: number;
  readonly depthToRockFt: number | null;
  readonly depthToWaterFt: number | null;
  readonly depthToFirmFt: number | null;
}

export interface Haul {
  readonly truckLooseYd3: number;
  readonly truckPayloadTons: number;
  readonly looseDensityLbPerYd3: number;
  readonly roundTripMin: number;
  readonly hoursPerDay: number;
  readonly trucks: number;
  readonly loadsPerDayCap: number | null;
  readonly postedWeightTons: number | null;
}

export interface StudyRequest {
  readonly ref: string | null;
  readonly name: string;
  readonly survey: NonNullable<RequestInput["survey"]>;
  readonly access: {
    readonly frontage: readonly number[] | null;
    /** In survey coordinates. */
    readonly point: Point | null;
    readonly streetElevationFt: number | null;
  };
  readonly brief: Brief;
  readonly rules: Rules;
  readonly utilities: {
    readonly sewer: YesNoUnknown;
    readonly sewerInvertFt: number | null;
    readonly water: YesNoUnknown;
    readonly power: YesNoUnknown;
    readonly septic: boolean;
  };
  readonly hazards: {
    readonly landslide: YesNoUnknown;
    readonly fault: YesNoUnknown;
    readonly flood: YesNoUnknown;
    readonly wildfire: YesNoUnknown;
  };
  readonly soil: Soil;
  readonly haul: Haul;
  readonly costs: {
    readonly regionFactor: number;
    readonly finishLevel: "plain" | "good" | "high";
    readonly book: string | null;
    readonly escalation: {
      readonly indexAtBook: number;
      readonly indexNow: number;
      readonly date?: string | undefined;
    } | null;
    /** Prices that replace the book's, by item code. */
    readonly overrides: Readonly<Record<string, PriceOverride>>;
  };
  readonly offer: { readonly askingUsd: number | null; readonly flatLotUsd: number | null };
  readonly display: "us" | "metric";
  readonly seed: number;
  /** Dotted paths whose value is a default of ours, not the caller's: "rules.slopeLimitPct". */
  readonly assumed: readonly string[];
}

export function isAssumed(request: StudyRequest, path: string): boolean {
  return request.assumed.includes(path);
}
