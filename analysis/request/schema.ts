/** The request as callers may send it: one schema that validates, documents and types. Every object is strict, so a mistyped name is refused instead of ignored. */
import { z } from "zod";
import { finite, nonNegative, positive, refuse, ring, xy, yesNoUnknown } from "./field-kinds.js";
import { calls, survey } from "./survey-schema.js";

const geojsonGeometry = z.looseObject({ type: z.string() });

const pad = z.strictObject({
  name: z
    .string()
    .min(1)
    .max(60)
    .regex(/^[\w .-]+$/),
  ring,
  elevationFt: finite,
  sides: z.enum(["vertical", "battered"]).default("vertical"),
});

const brief = z
  .strictObject({
    floorAreaFt2: positive.max(50_000).optional(),
    storeys: z.number().min(1).max(4).optional(),
    bedrooms: z.int().min(0).max(20).optional(),
    basementBedrooms: z.int().min(0).max(20).optional(),
    garageCars: z.int().min(0).max(6).optional(),
    basement: z.enum(["none", "daylight", "full", "either"]).optional(),
    footprint: z.strictObject({ widthFt: positive.max(400), depthFt: positive.max(400) }).optional(),
    pads: z.array(pad).min(1).max(20).optional(),
    septic: z.boolean().optional(),
  })
  .superRefine(({ bedrooms = Infinity, basementBedrooms = 0 }, ctx) => {
    if (basementBedrooms > bedrooms)
      refuse(
        ctx,
        ["basementBedrooms"],
        `${basementBedrooms} bedrooms in a basement are more than the ${bedrooms} of the house`,
        "Bedrooms in a basement are counted in brief.bedrooms: raise that or lower this.",
      );
  });

const setbacks = z.union([
  z.strictObject({ all: nonNegative.max(1000) }),
  z.strictObject({ front: nonNegative.max(1000), side: nonNegative.max(1000), rear: nonNegative.max(1000) }),
  z.strictObject({ edges: z.array(nonNegative.max(1000)).min(3) }),
]);

const rules = z.strictObject({
  setbacksFt: setbacks.optional(),
  slopeLimitPct: positive.max(200).optional(),
  minBuildableWidthFt: nonNegative.max(500).optional(),
  slopeBandsPct: z
    .array(nonNegative.max(500))
    .min(1)
    .max(20)
    .superRefine((edges, ctx) => {
      const wrong = edges.findIndex((edge, i) => (i === 0 ? edge !== 0 : !(edge > edges[i - 1]!)));
      if (wrong >= 0)
        refuse(
          ctx,
          [wrong],
          wrong === 0
            ? "the first band must begin at 0"
            : `${edges[wrong]} is not above ${edges[wrong - 1]}, where the band before it begins`,
          "Give where each band begins, rising from 0: [0, 10, 15, 20, 25, 30, 40].",
        );
    })
    .optional(),
  contourIntervalFt: positive.max(100).optional(),
  cutBatter: positive.max(10).optional(),
  fillBatter: positive.max(10).optional(),
  heightLimitFt: positive.max(500).optional(),
  maxSiteWallFt: nonNegative.max(50).optional(),
  maxBasementRetainedFt: positive.max(50).optional(),
  fillMaxSlopePct: positive.max(200).optional(),
  temporaryBatter: nonNegative.max(5).optional(),
  workingSpaceFt: nonNegative.max(20).optional(),
  apronFt: z
    .strictObject({
      uphill: nonNegative.max(60).optional(),
      side: nonNegative.max(60).optional(),
      downhill: nonNegative.max(60).optional(),
    })
    .optional(),
  floorArea: z
    .strictObject({
      ratio: positive.max(10),
      reductionBySlope: z
        .array(z.strictObject({ fromPct: nonNegative, factor: nonNegative.max(1) }))
        .optional(),
    })
    .optional(),
  maxLotCoveragePct: positive.max(100).optional(),
  floorToFloorFt: positive.max(20).optional(),
  topsoilFt: nonNegative.max(5).optional(),
  driveway: z
    .strictObject({
      maxGradePct: positive.max(50).optional(),
      widthFt: positive.max(40).optional(),
      minInsideRadiusFt: positive.max(200).optional(),
    })
    .optional(),
  drainage: z
    .strictObject({
      minPipeSlopePct: positive.max(20).optional(),
      outletFromLineFt: nonNegative.max(100).optional(),
    })
    .optional(),
  rainfall: z
    .strictObject({
      durationMin: positive,
      inPerHr10yr: positive.max(30),
      inPerHr100yr: positive.max(40),
      inPerHrLow: positive.max(30).optional(),
    })
    .superRefine(({ durationMin, inPerHrLow = 0, inPerHr10yr, inPerHr100yr }, ctx) => {
      // the peak of a lot comes minutes after the rain begins: the mean of a day's rain would size pipes far too small
      if (!(durationMin >= 5 && durationMin <= 60))
        refuse(
          ctx,
          ["durationMin"],
          `rain of ${durationMin} minutes does not size the drains of a lot`,
          "Give the intensity of a rain of 5 to 60 minutes, 5 or 10 where nothing is prescribed, from the official rainfall atlas.",
        );
      const remedy = "Give all in inches an hour, of the same duration: low ≤ 10-year ≤ 100-year.";
      if (inPerHrLow > inPerHr10yr)
        refuse(ctx, ["inPerHrLow"], `${inPerHrLow} is above the 10-year rain, ${inPerHr10yr}`, remedy);
      if (inPerHr100yr < inPerHr10yr)
        refuse(ctx, ["inPerHr100yr"], `${inPerHr100yr} is below the 10-year rain, ${inPerHr10yr}`, remedy);
    })
    .optional(),
  gradingShutdown: z
    .strictObject({ fromMonth: z.int().min(1).max(12), toMonth: z.int().min(1).max(12) })
    .superRefine(({ fromMonth, toMonth }, ctx) => {
      if ((toMonth + 1 - fromMonth) % 12 === 0)
        refuse(
          ctx,
          ["toMonth"],
          "one month at least must be left to grade in",
          "Give the first and the last month of the stop: 10 and 4 stop grading from October to April.",
        );
    })
    .optional(),
  startMonth: z.int().min(1).max(12).optional(),
});

const haul = z.strictObject({
  truckLooseYd3: positive.max(60).optional(),
  truckPayloadTons: positive.max(60).optional(),
  looseDensityLbPerYd3: positive.max(6000).optional(),
  roundTripMin: positive.max(600).optional(),
  hoursPerDay: positive.max(24).optional(),
  trucks: z.int().positive().max(50).optional(),
  loadsPerDayCap: positive.max(1000).nullable().optional(),
  postedWeightTons: positive.max(100).nullable().optional(),
});

const soil = z.strictObject({
  kind: z.enum(["common-earth", "sand", "clay", "rock"]).optional(),
  expansive: z.union([z.boolean(), z.literal("unknown")]).optional(),
  swellPct: nonNegative.max(100).optional(),
  shrinkPct: z.number().min(-60).max(60).optional(),
  depthToRockFt: nonNegative.max(500).nullable().optional(),
  depthToWaterFt: nonNegative.max(500).nullable().optional(),
  depthToFirmFt: nonNegative.max(200).nullable().optional(),
});

export const priceSchema = z
  .strictObject({ low: nonNegative, likely: nonNegative, high: nonNegative })
  .superRefine(({ low, likely, high }, ctx) => {
    const remedy =
      "Give low ≤ likely ≤ high: one job in ten is cheaper than low, one in ten dearer than high.";
    if (low > likely) refuse(ctx, ["low"], `low, ${low}, is above likely, ${likely}`, remedy);
    if (high < likely) refuse(ctx, ["high"], `high, ${high}, is below likely, ${likely}`, remedy);
  });

const costs = z
  .object({
    regionFactor: positive.max(10).optional(),
    finishLevel: z.enum(["plain", "good", "high"]).optional(),
    book: z.string().max(80).optional(),
    escalation: z
      .strictObject({ indexAtBook: positive, indexNow: positive, date: z.iso.date().optional() })
      .optional(),
  })
  .catchall(priceSchema);

export const requestSchema = z.strictObject({
  ref: z.string().max(200).optional(),
  name: z.string().max(200).optional(),
  contact: z
    .strictObject({
      name: z.string().max(200).optional(),
      email: z.string().max(320).optional(),
      phone: z.string().max(60).optional(),
      message: z.string().max(10_000).optional(),
    })
    .optional(),
  survey: survey.optional(),
  topo: z
    .union([
      z.string(),
      z.strictObject({ points: z.array(z.tuple([finite, finite, finite])).min(1) }),
      geojsonGeometry,
    ])
    .optional(),
  boundary: z.union([z.string(), z.strictObject({ ring }), calls, geojsonGeometry]).optional(),
  constraints: geojsonGeometry.optional(),
  breaklines: geojsonGeometry.optional(),
  surveyId: z.string().max(100).optional(),
  access: z
    .strictObject({
      frontage: z.array(z.int().min(0)).optional(),
      point: xy.optional(),
      streetElevationFt: finite.optional(),
    })
    .optional(),
  brief: brief.optional(),
  rules: rules.optional(),
  utilities: z
    .strictObject({
      sewer: yesNoUnknown.optional(),
      sewerInvertFt: finite.nullable().optional(),
      water: yesNoUnknown.optional(),
      power: yesNoUnknown.optional(),
      septic: z.boolean().optional(),
    })
    .optional(),
  hazards: z
    .strictObject({
      landslide: yesNoUnknown.optional(),
      fault: yesNoUnknown.optional(),
      flood: yesNoUnknown.optional(),
      wildfire: yesNoUnknown.optional(),
    })
    .optional(),
  soil: soil.optional(),
  haul: haul.optional(),
  costs: costs.optional(),
  offer: z.strictObject({ askingUsd: nonNegative.optional(), flatLotUsd: nonNegative.optional() }).optional(),
  display: z.enum(["us", "metric"]).optional(),
  seed: z.int().min(0).max(0xffff_ffff).optional(),
});

/** What a caller sends. */
export type RequestInput = z.infer<typeof requestSchema>;

export type PriceOverride = z.infer<typeof priceSchema>;
