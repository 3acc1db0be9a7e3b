/** The request as callers may send it: one schema that validates, documents and types. Every object is strict, so a mistyped name is refused instead of ignored. */
import { z } from "zod";

const finite = z.number();
const positive = z.number().positive();
const nonNegative = z.number().min(0);
const xy = z.tuple([finite, finite]);
const ring = z.array(xy).min(3);
const lengthUnit = z.enum(["us-ft", "ft", "m"]);
const yesNoUnknown = z.enum(["yes", "no", "unknown"]);

const survey = z.strictObject({
  unit: lengthUnit.optional(),
  verticalUnit: lengthUnit.optional(),
  crs: z
    .string()
    .regex(/^(local|EPSG:\d{4,6})$/)
    .optional(),
  boundaryCrs: z
    .string()
    .regex(/^(local|EPSG:\d{4,6})$/)
    .optional(),
  columns: z
    .strictObject({
      point: z.int().min(0).optional(),
      northing: z.int().min(0),
      easting: z.int().min(0),
      elevation: z.int().min(0),
      description: z.int().min(0).optional(),
      line: z.int().min(0).optional(),
    })
    .optional(),
  boundaryColumns: z.strictObject({ northing: z.int().min(0), easting: z.int().min(0) }).optional(),
  verticalAccuracyFt: positive.max(50).optional(),
  /** "shots" on open ground, "canopy" or lidar under trees, "contours" traced from a map. */
  source: z.enum(["shots", "canopy", "contours"]).optional(),
  sourceContourIntervalFt: positive.max(100).optional(),
  date: z.iso.date().optional(),
  datum: z.string().max(200).optional(),
  basisOfBearings: z.string().max(200).optional(),
  surveyor: z.string().max(200).optional(),
  codes: z
    .strictObject({
      ground: z.array(z.string()).optional(),
      breakline: z.array(z.string()).optional(),
      tree: z.array(z.string()).optional(),
      structure: z.array(z.string()).optional(),
      utility: z.array(z.string()).optional(),
      ignore: z.array(z.string()).optional(),
    })
    .optional(),
  keepRows: z.array(z.int().min(1)).optional(),
  adjustBoundary: z.enum(["none", "compass"]).optional(),
});

const calls = z.strictObject({
  start: xy,
  calls: z.string().min(1).max(200_000),
  unit: lengthUnit.optional(),
});
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

const brief = z.strictObject({
  floorAreaFt2: positive.max(50_000).optional(),
  storeys: z.number().min(1).max(4).optional(),
  bedrooms: z.int().min(0).max(20).optional(),
  basementBedrooms: z.int().min(0).max(20).optional(),
  garageCars: z.int().min(0).max(6).optional(),
  basement: z.enum(["none", "daylight", "full", "either"]).optional(),
  footprint: z.strictObject({ widthFt: positive.max(400), depthFt: positive.max(400) }).optional(),
  pads: z.array(pad).min(1).max(20).optional(),
  septic: z.boolean().optional(),
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
    .refine(
      (b) => b[0] === 0 && b.every((v, i) => i === 0 || v > b[i - 1]!),
      "lower edges must start at 0 and rise",
    )
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
      durationMin: positive.max(1440),
      inPerHr10yr: positive.max(30),
      inPerHr100yr: positive.max(40),
      inPerHrLow: positive.max(30).optional(),
    })
    .optional(),
  gradingShutdown: z
    .strictObject({ fromMonth: z.int().min(1).max(12), toMonth: z.int().min(1).max(12) })
    .refine(
      ({ fromMonth, toMonth }) => (toMonth + 1 - fromMonth) % 12 !== 0,
      "one month at least must be left to grade in",
    )
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
  .refine((p) => p.low <= p.likely && p.likely <= p.high, "low ≤ likely ≤ high is required");

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
