/** Money as ranges. */
import type { Percentiles } from "../chance/percentiles.js";

/** One cause, drawn on its own, and what it does to a sum of money. */
export interface Driver {
  readonly name: string;
  /** Share of the variance it explains, 0 to 1. */
  readonly share: number;
  /** Mean of the sum when the cause is low, middling, high (a yes/no event: no, no, yes). */
  readonly swingUsd: Percentiles;
}

/** Shares of the variance of the total by kind of doubt; what is missing to 1 comes from several together. */
export interface SpreadShares {
  readonly prices: number;
  readonly quantities: number;
  readonly events: number;
}

/** What the figures are, and what is not in them. */
export interface CostBasis {
  readonly book: string;
  readonly bookDate: string;
  readonly region: string;
  readonly regionFactor: number;
  readonly finishLevel: "plain" | "good" | "high";
  readonly words: string;
  /** Which class of figure this is, and what is not claimed. */
  readonly classWords: string;
  readonly leftOut: readonly string[];
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
  /** The same floor area on flat ground with a basement; null where the scheme has none. */
  readonly flatWithBasementUsd: Percentiles | null;
  readonly premiumOverFlatWithBasementUsd: Percentiles | null;
  /** Premium split by what it is spent on; the middles do not add up to the middle of the whole. */
  readonly premiumByPartUsd: readonly { readonly part: string; readonly premiumUsd: Percentiles }[];
  /** P80 − P50 of the total, at least a tenth of the sitework: money to keep, not a price. */
  readonly holdBackUsd: number;
  readonly perFt2Usd: Percentiles;
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
    /** What the hill adds to this item, draw by draw; the middles do not add up to the middle of the whole. */
    readonly premiumUsd: Percentiles;
    readonly trace: string;
  }[];
  /** What the spread of the total comes from, strongest first. */
  readonly drivers: readonly Driver[];
  readonly spread: SpreadShares;
  /** What the spread of the hillside premium comes from, strongest first. */
  readonly premiumDrivers: readonly Driver[];
  readonly whatIfs: readonly {
    readonly name: string;
    readonly chance: number;
    readonly addsUsd: Percentiles;
  }[];
  readonly offer: {
    readonly askingUsd: number;
    readonly flatLotUsd: number | null;
    readonly allInUsd: Percentiles;
    /** Asking price at which this lot and the flat one cost the same. */
    readonly evenPriceUsd: Percentiles | null;
    readonly chanceCheaper: number | null;
  } | null;
  /** Truckloads of the whole job, driveway and pier spoil included, out and in. */
  readonly hauledLoads: Percentiles;
  readonly draws: number;
  readonly basis: CostBasis;
}
