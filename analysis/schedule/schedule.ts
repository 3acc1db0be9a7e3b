/** Months as ranges. */

export type Months = readonly [p10: number, p50: number, p90: number];

export interface ScheduleActivity {
  readonly id: string;
  readonly name: string;
  readonly phase: "before" | "ground" | "house";
  readonly after: readonly string[];
  readonly weeks: readonly [low: number, likely: number, high: number];
  readonly startWeekP50: number;
  readonly finishWeekP50: number;
  /** Share of draws in which it lies on the critical path. */
  readonly criticalShare: number;
  readonly hold: boolean;
  /** Of a house with a basement: ground work and the finish of the basement rooms. */
  readonly belowFloor: boolean;
}

/** Something that is not certain and would take time. */
export interface LongerIf {
  /** "Rock is met in the dig". */
  readonly name: string;
  readonly chance: number;
  /** Likely weeks by which the keys come later, if it happens alone; in no range above. */
  readonly addsWeeks: number;
}

export interface Schedule {
  readonly clock: "from accepted offer";
  readonly preconstructionMonths: Months;
  readonly groundMonths: Months;
  readonly houseMonths: Months;
  readonly totalMonths: Months;
  readonly flatTotalMonths: Months;
  readonly flatPreconstructionMonths: Months;
  readonly flatGroundMonths: Months;
  readonly flatHouseMonths: Months;
  /** From accepted offer until the wood frame can start. */
  readonly untilFrameMonths: Months;
  readonly flatUntilFrameMonths: Months;
  /** First machine to keys: what general conditions are paid for. */
  readonly buildingMonths: Months;
  readonly flatBuildingMonths: Months;
  /** Of the months from the first machine to the keys: ground work and the finish of the basement rooms. Null without a basement. */
  readonly belowFloorMonths: Months | null;
  /** The same over the building months of the same draw, 0 to 1. */
  readonly belowFloorShare: readonly [p10: number, p50: number, p90: number] | null;
  readonly activities: readonly ScheduleActivity[];
  readonly longerIf: readonly LongerIf[];
}

/** The time of one scheme, with the draws that money is paid by. */
export interface PlannedTime {
  readonly schedule: Schedule;
  /** Months from the first machine to the keys in every draw, with the same luck for the scheme and its flat twins. */
  readonly building: {
    readonly hill: Float64Array;
    readonly flat: Float64Array;
    /** Null where the scheme has no basement. */
    readonly flatWithBasement: Float64Array | null;
  };
}
