/** The bill of one scheme: how much of which item. */

/** What makes quantities uncertain together: one draw per cause. "severity": how bad an event is, one draw per event. */
export type QuantityCause =
  | "none"
  | "ground"
  | "walls"
  | "drains"
  | "pier-depth"
  | "driveway"
  | "topsoil"
  | "severity";

/** One line of the bill: how much of which item, and where the number came from. */
export interface QuantityLine {
  readonly code: string;
  readonly quantity: number;
  readonly unit: string;
  readonly cause: QuantityCause;
  /** P10 and P90 of the quantity over its likely value, where they differ from the cause's own. */
  readonly spread?: readonly [low: number, high: number];
  /** True for loose volumes: how much the soil swells is drawn on top. */
  readonly swells?: boolean;
  /** One sigma of the quantity from the survey's accuracy, in `unit`; negative where higher ground means less of it. */
  readonly surveySigma?: number;
  /** Multiplies the unit price: harder than the book's plain case. 1 when absent. */
  readonly factor?: number;
  /** "earthwork.looseExportYd3: bank cut 480 yd³ less fill, × 1.25". */
  readonly trace: string;
}
