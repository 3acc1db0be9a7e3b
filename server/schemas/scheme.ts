/** Shape of one way to build. */
import { z } from "zod";
import { cost, schedule } from "./scheme-money.js";
import { basement, drainage, foundation, structure } from "./scheme-structure.js";
import { b, n, point, point3, ring, s } from "./shapes.js";

const breaks = z.array(s).describe("Codes of the rules this point would break, as in problemDetails");

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
  temporaryLeavesLot: z.boolean(),
  leavesLot: z.boolean().describe("A graded bank or the temporary cut would cross the lot line"),
  topsoilYd3: n,
  overexcavationYd3: n,
  keyBenchYd3: n,
});

const wall = z.looseObject({
  kind: z
    .enum(["site", "basement"])
    .describe(
      "A wall drawn as basement holds the ground at its own line; basement.sides reads the ground it is backfilled to",
    ),
  retainedFt: n,
  totalFt: n.describe("Bottom of footing to top"),
  lengthFt: n,
  faceFt2: n,
  where: s,
  surcharge: z.boolean(),
  line: z.array(point),
  heightsFt: z.array(n).describe("Retained height along `line`, evenly spaced"),
  classes: z.array(z.looseObject({ upToFt: n.nullable(), lengthFt: n, faceFt2: n })).describe("By height"),
  tier: z
    .looseObject({ nth: z.int(), of: z.int(), spacingFt: n })
    .optional()
    .describe("Of terraced walls: counted from the lowest, with the clear ground between them"),
});

const vehicle = z.looseObject({
  ok: b,
  because: s,
  sweptFt: n,
  wideningFt: n.nullable().describe("Null: too tight at any width"),
  failsAt: point.nullable(),
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
  turnaroundRing: ring.nullable().optional(),
  prismoidalCutYd3: n,
  prismoidalFillYd3: n,
  widthFt: n,
  pavedFt2: n,
  wallFaceFt2: n,
  wallMaxFt: n,
  profile: z.array(
    z.looseObject({ stationFt: n, groundFt: n.describe("Before anything is dug"), gradeFt: n }),
  ),
  garageFloorFt: n,
  garageAt: point,
  insideRadiusFt: n.nullable().optional(),
  steepestAt: point.optional(),
  car: vehicle,
  heavyVehicle: vehicle.describe("A loaded concrete truck"),
  fireEngine: vehicle,
  stairsRiseFt: n,
  stairsCount: n,
  walkFt: n,
});

export const scheme = z.looseObject({
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
  problemDetails: z.array(
    z.looseObject({
      code: s,
      message: s,
      freedBy: s.optional(),
      freed: z.looseObject({ rule: s, value: n }).optional(),
    }),
  ),
  levels: z.array(
    z.looseObject({ name: s, role: s, ring, elevationFt: n, floorElevationFt: n, rotationDeg: n }),
  ),
  floorAreaFt2: n,
  footprintShape: s,
  garage: z.enum(["attached", "detached", "none"]),
  garageChoice: z
    .looseObject({
      tried: z.array(
        z.looseObject({
          garage: z.enum(["attached", "detached"]),
          reachable: b,
          siteUsd: n.nullable(),
          because: s,
        }),
      ),
      savesUsd: n.nullable(),
    })
    .nullable(),
  straddle: z
    .looseObject({ cutSharePct: n, fillSharePct: n, maxFillUnderHouseFt: n, daylightUnderHouse: b })
    .describe("How the house sits across the line between cut and fill"),
  slopeUnderHousePct: z.looseObject({ mean: n, p90: n }),
  earthwork,
  walls: z.array(wall),
  driveway: driveway.nullable(),
  access: z.looseObject({
    reachable: b,
    because: s,
    gentlestGradePct: n.nullable(),
    helps: z.array(s),
  }),
  drainage,
  foundation,
  basement: basement.nullable(),
  structure,
  cost,
  schedule,
  search: z
    .looseObject({
      placementsTried: z.int(),
      exactTried: z.int(),
      byFootprint: z.array(z.looseObject({ shape: s, objectiveUsd: n })),
    })
    .nullable(),
  curves: z
    .looseObject({
      exportByLevel: z.array(z.looseObject({ levelFt: n, looseExportYd3: n, objectiveUsd: n, breaks })),
      exportByFloorArea: z.array(z.looseObject({ floorAreaFt2: n, looseExportYd3: n, breaks })),
      costByRotation: z.array(z.looseObject({ rotationDeg: n, objectiveUsd: n, breaks })),
    })
    .nullable(),
});
