/** Shape of a study, as documented and as tests hold every answer to it. */
import { z } from "zod";
import { linksSchema, severity, verdictCode } from "./answers.js";
import { scheme } from "./scheme.js";
import { b, n, point, s, unit } from "./shapes.js";
import { understoodSchema } from "./understood.js";

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
  codes: z
    .array(z.looseObject({ description: s, takenFor: s, ground: b, count: z.int() }))
    .optional()
    .describe("What the descriptions of shots were taken for"),
  warnings: z.array(z.object({ code: s, message: s, remedy: s, rows: z.array(z.int()).optional() })),
});

const closure = z.object({ misclosureFt: n, precision: n, adjusted: z.boolean() }).nullable();

const lot = z.looseObject({
  areaFt2: n,
  areaAcres: n,
  perimeterFt: n,
  closure,
  edges: z.array(
    z.looseObject({
      number: z
        .int()
        .describe("What access.frontage and setbacksFt.edges call this edge; the report's Side 1 is 0"),
      role: z.enum(["front", "side", "rear"]),
      setbackFt: n,
      frontage: z.boolean(),
    }),
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
  supportedContourFt: n.describe("Closest contours the shots bear"),
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
  request: understoodSchema,
  survey,
  lot,
  terrain,
  buildable,
  water: z.looseObject({
    depressions: z.array(z.looseObject({ areaFt2: n, depthFt: n, at: point })),
    lotCatchmentFt2: n,
    lowerBound: b.describe("Water may come from beyond the survey"),
  }),
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
  lot: z.looseObject({ areaFt2: n, areaAcres: n, perimeterFt: n, closure }),
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
