/** Shapes of a scheme's money and months. */
import { z } from "zod";
import { b, lowLikelyHigh, months, n, percentiles, s } from "./shapes.js";

const drivers = z.array(
  z.looseObject({
    name: s,
    share: n.describe("Of the variance, 0 to 1"),
    swingUsd: percentiles.describe("Mean of the sum when the cause is low, middling, high"),
  }),
);

export const cost = z.looseObject({
  p10Usd: n,
  p50Usd: n,
  p90Usd: n,
  meanUsd: n,
  samplingErrorUsd: percentiles.describe("Standard error from the finite number of draws"),
  siteworkP50Usd: n,
  siteworkUsd: percentiles,
  flatLotP50Usd: n,
  flatLotUsd: percentiles,
  hillsidePremiumUsd: percentiles.describe("Against the same house on a flat lot, draw by draw"),
  premiumPerFt2Usd: percentiles,
  flatWithBasementUsd: percentiles.nullable(),
  premiumOverFlatWithBasementUsd: percentiles.nullable(),
  premiumByPartUsd: z.array(z.looseObject({ part: s, premiumUsd: percentiles })),
  holdBackUsd: n.describe("Money to keep, not a price"),
  perFt2Usd: percentiles,
  items: z.array(
    z.looseObject({
      code: s,
      label: s,
      quantity: n,
      unit: s,
      lowUsd: n,
      likelyUsd: n,
      highUsd: n,
      flatLikelyUsd: n,
      premiumUsd: percentiles.describe("What the hill adds to this item, draw by draw"),
      trace: s,
    }),
  ),
  drivers,
  spread: z
    .looseObject({ prices: n, quantities: n, events: n })
    .describe("Shares of the variance of the total by kind of doubt"),
  premiumDrivers: drivers,
  whatIfs: z.array(z.looseObject({ name: s, chance: n, addsUsd: percentiles })),
  offer: z
    .looseObject({
      askingUsd: n,
      flatLotUsd: n.nullable(),
      allInUsd: percentiles,
      evenPriceUsd: percentiles
        .nullable()
        .describe("Asking price at which this lot and the flat one cost the same"),
      chanceCheaper: n.nullable(),
    })
    .nullable(),
  hauledLoads: percentiles.describe("Truckloads of the whole job, out and in"),
  draws: z.int(),
  basis: z.looseObject({
    book: s,
    bookDate: s,
    region: s,
    regionFactor: n,
    finishLevel: z.enum(["plain", "good", "high"]),
    words: s,
    classWords: s,
    leftOut: z.array(s),
  }),
});

export const schedule = z.looseObject({
  clock: z.literal("from accepted offer"),
  preconstructionMonths: months,
  groundMonths: months,
  houseMonths: months,
  totalMonths: months,
  flatTotalMonths: months,
  flatPreconstructionMonths: months,
  flatGroundMonths: months,
  flatHouseMonths: months,
  untilFrameMonths: months,
  flatUntilFrameMonths: months,
  buildingMonths: months.describe("First machine to keys"),
  flatBuildingMonths: months,
  belowFloorMonths: months
    .nullable()
    .describe(
      "Of the building months: ground work and finish of the basement rooms; null without a basement",
    ),
  belowFloorShare: months.nullable().describe("The same over the building months of the same draw, 0 to 1"),
  activities: z.array(
    z.looseObject({
      id: s,
      name: s,
      phase: z.enum(["before", "ground", "house"]),
      after: z.array(s),
      weeks: lowLikelyHigh,
      startWeekP50: n,
      finishWeekP50: n,
      criticalShare: n.describe("Share of draws in which it decides the end"),
      hold: b,
      belowFloor: b.describe("Ground work or finish of the basement rooms, where there is a basement"),
    }),
  ),
  longerIf: z
    .array(z.looseObject({ name: s, chance: n, addsWeeks: n }))
    .describe("What is not certain and would take time, each alone; in none of the ranges"),
});
