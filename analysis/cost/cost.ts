/** Money as ranges. */

/** What makes quantities uncertain together: one draw per cause. */
export type QuantityCause = "none" | "ground" | "walls" | "drains" | "pier-depth" | "driveway" | "topsoil";

/** One line of the bill: how much of which item, and where the number came from. */
export interface QuantityLine {
  readonly code: string;
  readonly quantity: number;
  readonly unit: string;
  readonly cause: QuantityCause;
  /** "earthwork.looseExportYd3: bank cut 480 yd³ less fill, × 1.25". */
  readonly trace: string;
}

export interface Percentiles {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

export interface SchemeCost {
  readonly p10Usd: number;
  readonly p50Usd: number;
  readonly p90Usd: number;
  readonly meanUsd: number;
  /** Standard error of each percentile from the finite number of draws, USD. */
  readonly samplingErrorUsd: Percentiles;
  readonly siteworkP50Usd: number;
  readonly siteworkUsd: Percentiles;
  readonly flatLotP50Usd: number;
  readonly flatLotUsd: Percentiles;
  readonly hillsidePremiumUsd: Percentiles;
  readonly premiumPerFt2Usd: Percentiles;
  readonly holdBackUsd: number;
  readonly items: readonly {
    readonly code: string;
    readonly label: string;
    readonly quantity: number;
    readonly unit: string;
    readonly lowUsd: number;
    readonly likelyUsd: number;
    readonly highUsd: number;
    /** Same item on the flat twin, likely. */
    readonly flatLikelyUsd: number;
    readonly trace: string;
  }[];
  /** Rank correlation with the total, strongest first. */
  readonly drivers: readonly { readonly name: string; readonly share: number; readonly swingUsd: Percentiles }[];
  readonly whatIfs: readonly { readonly name: string; readonly chance: number; readonly addsUsd: Percentiles }[];
  readonly offer: {
    readonly askingUsd: number;
    readonly flatLotUsd: number | null;
    readonly allInUsd: Percentiles;
    /** Asking price at which this lot and the flat one cost the same. */
    readonly evenPriceUsd: Percentiles | null;
    readonly chanceCheaper: number | null;
  } | null;
  readonly draws: number;
}
