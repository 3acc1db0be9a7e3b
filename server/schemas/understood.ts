/** Shape of a request as it was understood, every default filled in. */
import { z } from "zod";
import { requestSchema } from "../../analysis/request/index.js";
import { b, n, point, ring, s, yesNoUnknown } from "./shapes.js";

const maybe = n.nullable();

export const understoodSchema = z
  .looseObject({
    ref: s.nullable(),
    name: s,
    survey: requestSchema.shape.survey.describe("As sent"),
    access: z.looseObject({
      frontage: z.array(z.int()).nullable(),
      point: point.nullable(),
      streetElevationFt: maybe,
    }),
    brief: z.looseObject({
      floorAreaFt2: n,
      storeys: n,
      bedrooms: n,
      basementBedrooms: n,
      garageCars: n,
      basement: z.enum(["none", "daylight", "full", "either"]),
      footprint: z.looseObject({ widthFt: n, depthFt: n }).nullable(),
      pads: z
        .array(z.looseObject({ name: s, ring, elevationFt: n, sides: z.enum(["vertical", "battered"]) }))
        .nullable(),
      septic: b,
    }),
    rules: z.looseObject({
      setbacksFt: z
        .union([
          z.object({ all: n }),
          z.object({ front: n, side: n, rear: n }),
          z.object({ edges: z.array(n) }),
        ])
        .describe("As sent: all, front with side and rear, or edges"),
      slopeLimitPct: n,
      minBuildableWidthFt: n,
      slopeBandsPct: z.array(n),
      contourIntervalFt: n,
      cutBatter: n.describe("Run per unit of rise"),
      fillBatter: n,
      heightLimitFt: n,
      maxSiteWallFt: n,
      maxBasementRetainedFt: n,
      fillMaxSlopePct: n,
      temporaryBatter: n,
      workingSpaceFt: n,
      apronFt: z.looseObject({ uphill: n, side: n, downhill: n }),
      floorArea: z
        .looseObject({ ratio: n, reductionBySlope: z.array(z.looseObject({ fromPct: n, factor: n })) })
        .nullable(),
      maxLotCoveragePct: maybe,
      floorToFloorFt: n,
      topsoilFt: n,
      driveway: z.looseObject({ maxGradePct: n, widthFt: n, minInsideRadiusFt: n }),
      drainage: z.looseObject({ minPipeSlopePct: n, outletFromLineFt: n }),
      rainfall: z.looseObject({ durationMin: n, inPerHr10yr: n, inPerHr100yr: n, inPerHrLow: n }),
      gradingShutdown: z.looseObject({ fromMonth: n, toMonth: n }).nullable(),
      startMonth: maybe,
    }),
    utilities: z.looseObject({
      sewer: yesNoUnknown,
      sewerInvertFt: maybe,
      water: yesNoUnknown,
      power: yesNoUnknown,
      septic: b,
    }),
    hazards: z.looseObject({
      landslide: yesNoUnknown,
      fault: yesNoUnknown,
      flood: yesNoUnknown,
      wildfire: yesNoUnknown,
    }),
    soil: z.looseObject({
      kind: z.enum(["common-earth", "sand", "clay", "rock"]),
      expansive: z.union([b, z.literal("unknown")]),
      swellPct: n.describe("Loose over bank"),
      shrinkPct: n.describe("Bank over compacted; negative where the material bulks"),
      depthToRockFt: maybe,
      depthToWaterFt: maybe,
      depthToFirmFt: maybe,
    }),
    haul: z.looseObject({
      truckLooseYd3: n,
      truckPayloadTons: n,
      looseDensityLbPerYd3: n,
      roundTripMin: n,
      hoursPerDay: n,
      trucks: n,
      loadsPerDayCap: maybe,
      postedWeightTons: maybe,
    }),
    costs: z.looseObject({
      regionFactor: n,
      finishLevel: z.enum(["plain", "good", "high"]),
      book: s.nullable(),
      escalation: z.looseObject({ indexAtBook: n, indexNow: n, date: s.optional() }).nullable(),
      overrides: z
        .record(s, z.looseObject({ low: n, likely: n, high: n }))
        .describe("Prices that replace the book's, by item code"),
    }),
    offer: z.looseObject({ askingUsd: maybe, flatLotUsd: maybe }),
    display: z.enum(["us", "metric"]),
    seed: n,
    assumed: z.array(s).describe("Dotted paths whose value is a default of ours"),
  })
  .describe("As understood, defaults filled in");
