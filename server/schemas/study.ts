/** Shape of a study, as documented and as tests hold every answer to it. */
import { z } from "zod";
import { linksSchema, severity, verdictCode } from "./answers.js";

const n = z.number();
const s = z.string();
const percentiles = z.object({ p10: n, p50: n, p90: n });
const point = z.tuple([n, n]).describe("[easting, northing] in the survey's frame");
const point3 = z.tuple([n, n, n]).describe("[easting, northing, elevation ft]");
const ring = z.array(point);
const unit = z.enum(["us-ft", "ft", "m"]);
const months = z.tuple([n, n, n]).describe("P10, P50, P90");

const survey = z.looseObject({
  pointsRead: z.int(),
  pointsUsed: z.int(),
  excluded: z.array(z.object({ row: z.int(), reason: s, evidence: s.optional() })),
  unit,
  verticalUnit: unit,
  crs: s,
  columns: z.record(s, n).nullable(),
  columnsBecause: s,
  format: s,
  medianSpacingFt: n,
  coveragePct: n,
  verticalAccuracyFt: n,
  verticalAccuracyOrigin: s,
  date: s.nullable(),
  datum: s.nullable(),
  basisOfBearings: s.nullable(),
  warnings: z.array(z.object({ code: s, message: s, remedy: s, rows: z.array(z.int()).optional() })),
});

const lot = z.looseObject({
  areaFt2: n,
  areaAcres: n,
  perimeterFt: n,
  closure: z.object({ misclosureFt: n, precision: n, adjusted: z.boolean() }).nullable(),
  edges: z.array(
    z.looseObject({ role: z.enum(["front", "side", "rear"]), setbackFt: n, frontage: z.boolean() }),
  ),
  frontageOrigin: z.enum(["given", "guessed", "unknown"]),
});

const terrain = z.looseObject({
  method: z.enum(["facets", "grid"]),
  minElevationFt: n,
  maxElevationFt: n,
  reliefFt: n,
  planAreaFt2: n,
  surfaceAreaFt2: n,
  meanSlopePct: n.describe("Area-weighted over the lot"),
  averageSlope: z
    .object({ intervalFt: n, contourLengthFt: n, pct: n })
    .describe("100 × interval × contour length ÷ area"),
  slopeBands: z.array(z.object({ fromPct: n, toPct: n.nullable(), areaFt2: n, sharePct: n })),
  aspectDeg: n.describe("Azimuth of the mean downhill direction"),
  interpolationRmsFt: n.nullable(),
  largestHoleFt: n,
  longestFacetEdgeFt: n,
});

const buildable = z.looseObject({
  slopeLimitPct: n,
  areaFt2: n,
  sharePct: n,
  largestPatchFt2: n,
  patches: z.int(),
  steps: z.array(z.looseObject({ reason: s, removedFt2: n, remainingFt2: n })),
  bySlopeLimit: z.array(z.object({ limitPct: n, areaFt2: n })),
});

const earthwork = z.looseObject({
  bankCutYd3: n,
  compactedFillYd3: n,
  looseExportYd3: n,
  looseImportYd3: n,
  truckloads: z
    .int()
    .describe("Of pad and basement alone; cost.hauledLoads counts driveway, pier spoil and backfill as well"),
  maxCutFt: n,
  meanCutFt: n,
  maxFillFt: n,
  disturbedFt2: n,
  uncertaintyYd3: n,
  digYd3: n,
  backfillYd3: n,
  stockpileFt2: n,
  temporaryCutFt: n,
  temporaryReachFt: n,
  leavesLot: z.boolean(),
  topsoilYd3: n,
  overexcavationYd3: n,
  keyBenchYd3: n,
});

const wall = z.looseObject({
  kind: z.enum(["site", "basement"]),
  retainedFt: n,
  totalFt: n.describe("Bottom of footing to top"),
  lengthFt: n,
  faceFt2: n,
  where: s,
  surcharge: z.boolean(),
  line: z.array(point),
  heightsFt: z.array(n),
});

const driveway = z.looseObject({
  lengthFt: n,
  maxGradePct: n,
  meanGradePct: n,
  line: z.array(point3),
  bankCutYd3: n,
  compactedFillYd3: n,
  turnaround: z.boolean(),
  turnaroundRequired: z.boolean(),
  widthFt: n,
  garageAt: point,
});

const drainage = z.looseObject({
  catchmentFt2: n,
  lowerBound: z.boolean().describe("Water may come from beyond the survey"),
  peakCfs: n.describe("10-year rain"),
  peak100Cfs: n,
  tiers: z.array(
    z.looseObject({
      tier: z.enum(["under-slab", "wall", "roof-and-surface"]),
      invertFt: n,
      outletFt: n.nullable(),
      runFt: n,
      gravity: z.boolean(),
    }),
  ),
});

const foundation = z.looseObject({
  kind: z.enum(["slab", "raised", "pier-and-grade-beam"]),
  standing: z.enum(["likely", "cannot-tell", "specialist-first"]),
  reasons: z.array(s),
  piers: z.int(),
  concreteYd3: n,
  concreteTrucks: n,
});

const basement = z.looseObject({
  lightWells: z.int(),
  buriedWallFt: n,
  daylightWallFt: n,
  maxRetainedFt: n,
});

const cost = z.looseObject({
  p10Usd: n,
  p50Usd: n,
  p90Usd: n,
  siteworkP50Usd: n,
  flatLotP50Usd: n,
  hillsidePremiumUsd: percentiles.describe("Against the same house on a flat lot, draw by draw"),
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
      premiumUsd: percentiles.describe("Against the same item on a flat lot, draw by draw"),
      trace: s,
    }),
  ),
});

const schedule = z.looseObject({
  clock: z.literal("from accepted offer"),
  preconstructionMonths: months,
  groundMonths: months,
  houseMonths: months,
  totalMonths: months,
});

const scheme = z.looseObject({
  id: s,
  name: s,
  kind: z.enum([
    "level-pad",
    "stepped-pad",
    "daylight-basement",
    "full-basement",
    "pier-raised",
    "fixed-pad",
  ]),
  feasible: z.boolean(),
  problems: z.array(s),
  levels: z.array(
    z.looseObject({ name: s, role: s, ring, elevationFt: n, floorElevationFt: n, rotationDeg: n }),
  ),
  floorAreaFt2: n,
  earthwork,
  walls: z.array(wall),
  driveway: driveway.nullable(),
  drainage,
  foundation,
  basement: basement.nullable(),
  cost,
  schedule,
});

const finding = z.object({
  code: s,
  severity,
  title: s,
  detail: s,
  measured: z.union([n, s]).nullable(),
  threshold: z.union([n, s]).nullable(),
  unit: s,
  basis: z.enum(["survey", "rule given", "assumed"]),
  affects: z.array(s),
  next: s,
  who: s,
  source: s,
});

export const studySchema = z.object({
  id: s,
  token: s.describe("Share token of the public page /r/{token}"),
  createdAt: z.iso.datetime(),
  parent: s.nullable(),
  ref: s.nullable(),
  name: s,
  version: s,
  request: z.looseObject({ name: s, assumed: z.array(s) }).describe("As understood, defaults filled in"),
  survey,
  lot,
  terrain,
  buildable,
  water: z.looseObject({ lotCatchmentFt2: n, lowerBound: z.boolean() }),
  schemes: z.array(scheme),
  recommendation: z.looseObject({
    schemeId: s.nullable(),
    verdictCode,
    verdict: s,
    reasons: z.array(s),
    flipsIf: z.array(s),
  }),
  findings: z.array(finding),
  assumptions: z.array(
    z.object({ name: s, value: z.union([n, s]), unit: s, origin: s, changeWith: s.optional() }),
  ),
  provenance: z.object({ engineVersion: s, costBook: s, costBookHash: s, rulesHash: s }),
  links: linksSchema,
});

export const checkSchema = z.object({
  survey,
  lot: z.looseObject({ areaFt2: n, areaAcres: n, perimeterFt: n }),
  preview: z.object({
    boundary: z.array(point),
    edges: z.array(
      z.object({
        number: z.int().describe("What access.frontage and setbacksFt.edges call this edge"),
        lengthFt: n,
        faces: s,
        role: z.enum(["front", "side", "rear"]),
        frontage: z.boolean(),
      }),
    ),
    frontageOrigin: z.enum(["given", "guessed", "unknown"]),
    minElevationFt: n,
    maxElevationFt: n,
    averageSlopePct: n,
    svg: s.describe("Drawing of what was read; edge i is the element with data-edge = its number"),
  }),
});
