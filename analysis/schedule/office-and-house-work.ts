/** Steps before the ground and above the floor. Method: docs/methods/schedule.md */
import type { Activity, SiteHardness } from "./activity.js";
import {
  atSlope,
  FIXED_HOUSE_SHARE,
  FRAME_SHARE,
  HOLD_DAYS,
  HOUSE_OF_RATES_FT2,
  HOUSE_WEEKS,
  OFFICE_WEEKS,
} from "./rates.js";
import { days, NO_TIME, scaled } from "./weeks.js";

export function paperWork({ grade, slopeUnderHousePct, lotSlopePct }: SiteHardness): Activity[] {
  const step = (id: keyof typeof OFFICE_WEEKS, name: string, after: readonly string[]): Activity => ({
    id,
    name,
    phase: "before",
    after,
    weeks: atSlope(OFFICE_WEEKS[id], grade, id === "review" ? lotSlopePct : slopeUnderHousePct),
  });
  return [
    step("survey", "Corners set, survey completed and signed", []),
    step("soils", "Soils report", ["survey"]),
    step("concept", "Concept and choice of scheme", ["survey"]),
    step("review", "Planning or hillside review", ["concept", "soils"]),
    step("drawings", "Construction drawings", ["review"]),
    step("permit", "Plan check and permit", ["drawings"]),
  ];
}

/** Months that go with this floor area, over those of the house the rates are for. */
function areaFactor(areaFt2: number): number {
  return ((1 - FIXED_HOUSE_SHARE) * areaFt2) / HOUSE_OF_RATES_FT2;
}

/** The finish of the basement's rooms: a step of its own, so that what lies below the floor can be told apart. */
export const FINISH_BELOW = "finish-below";

export function houseWork(
  { grade, slopeUnderHousePct, floorAreaFt2, basementFt2 }: SiteHardness,
  after: readonly string[],
): Activity[] {
  const weeks = atSlope(HOUSE_WEEKS, grade, slopeUnderHousePct);
  const aboveFactor = FIXED_HOUSE_SHARE + areaFactor(floorAreaFt2 - basementFt2);
  const house = { phase: "house", stream: "house" } as const;
  const letter = { phase: "house", weeks: days(HOLD_DAYS), hold: true } as const;
  return [
    {
      ...house,
      id: "frame",
      name: "Frame and roof",
      after,
      weeks: scaled(weeks, FRAME_SHARE * aboveFactor),
    },
    {
      ...letter,
      id: "height-letter",
      name: "Height letter of the surveyor",
      after: ["frame"],
      weeks: grade === "flat" ? NO_TIME : letter.weeks,
    },
    {
      ...house,
      id: FINISH_BELOW,
      name: "Pipes, wires and finish of the basement rooms",
      after: ["height-letter"],
      weeks: scaled(weeks, (1 - FRAME_SHARE) * areaFactor(basementFt2)),
    },
    {
      ...house,
      id: "finish",
      name: "House to the keys",
      after: [FINISH_BELOW],
      weeks: scaled(weeks, (1 - FRAME_SHARE) * aboveFactor),
    },
    {
      ...letter,
      id: "final-letter",
      name: "Final grading report, drains as built",
      after: ["finish"],
    },
  ];
}
