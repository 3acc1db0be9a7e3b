/** The cost book: the builder's unit prices, each as low, likely and high. */

/** Which market moves the price: earthwork, concrete and walls, house, utilities, professionals, fees, or the job as a whole. */
export type MarketGroup = "E" | "C" | "H" | "U" | "P" | "F" | "M";

export interface BookItem {
  readonly code: string;
  readonly label: string;
  readonly unit: string;
  /** P10, median and P90 of the unit price, USD. */
  readonly low: number;
  readonly likely: number;
  readonly high: number;
  readonly group: MarketGroup;
  readonly origin: string;
  readonly date: string;
  readonly note: string;
}

export interface CostBook {
  readonly id: string;
  readonly name: string;
  readonly date: string;
  readonly region: string;
  readonly items: readonly BookItem[];
}
