/** Shapes of a scheme's water, foundation, basement and structure. */
import { z } from "zod";
import { b, lowLikelyHigh, n, point, s } from "./shapes.js";

const foundationKind = z.enum(["slab", "raised", "pier-and-grade-beam"]);

export const drainage = z.looseObject({
  catchmentFt2: n,
  lowerBound: b.describe("Water may come from beyond the survey"),
  concentrationMin: n,
  peakCfs: n.describe("10-year rain"),
  peak100Cfs: n,
  lotBeforeCfs: n.describe("Whole lot as it lies, 10-year rain"),
  lotAfterCfs: n.describe("Whole lot with roof and drive, 10-year rain"),
  imperviousFt2: n,
  roofPipeIn: n,
  detention: z.looseObject({
    peakFt3: n.describe("Storage that keeps the peak to what it is today"),
    addedFt3: n.describe("All that roof and paving add in an hour's rain"),
    allowedCfs: n,
    peakCfs: n,
    rainMin: n,
    words: s,
  }),
  crossings: z.array(
    z.looseObject({
      at: point,
      stationFt: n,
      catchmentFt2: n,
      peak100Cfs: n,
      slopePct: n,
      pipeIn: n.nullable().describe("Null: more than one pipe carries"),
      lengthFt: n,
      words: s,
    }),
  ),
  overflow: z
    .looseObject({
      line: z.array(point),
      toward: z.enum(["street", "neighbor"]),
      edge: z.int().describe("Number of the lot line, as the request numbers them"),
      words: s,
    })
    .nullable(),
  fallAwayFromHouse: z.looseObject({ ok: b, because: s }),
  swale: z
    .looseObject({
      lengthFt: n,
      depthIn: n,
      slopePct: n,
      velocityFtPerS: n,
      steepestPct: n,
      fastestFtPerS: n,
      lined: b.describe("Faster than grass holds"),
      words: s,
    })
    .nullable(),
  tiers: z.array(
    z.looseObject({
      tier: z.enum(["under-slab", "wall", "roof-and-surface"]),
      invertFt: n,
      outletFt: n.nullable(),
      runFt: n,
      gravity: b,
      route: z.array(point),
      outletToLineFt: n.nullable(),
      pipeIn: n,
      words: s,
    }),
  ),
});

export const foundation = z.looseObject({
  kind: foundationKind,
  standing: z.enum(["likely", "cannot-tell", "specialist-first"]),
  rule: s.describe("Of every rule that holds, the one that leads"),
  reasons: z.array(s),
  runnerUp: foundationKind,
  runnerUpReasons: z.array(s),
  wouldChange: z.array(s).describe("What would have to be found for it to come out otherwise"),
  piers: z.int(),
  pierDepthFt: lowLikelyHigh,
  pierDiameterIn: n,
  pierAt: z.array(point),
  gradeBeamFt: n,
  slabFt2: n,
  raisedFloorFt2: n,
  concreteYd3: n,
  concreteTrucks: n,
  concreteByElement: z.array(z.looseObject({ element: s, yd3: n })),
  pump: b,
});

export const basement = z.looseObject({
  lightWells: z.int(),
  wells: z.array(
    z.looseObject({
      at: point,
      depthFt: n,
      ladder: b,
      side: s,
      openingIn: z.tuple([n, n]).describe("Least clear opening: wide, high").optional(),
    }),
  ),
  bedroomsOnOpenWall: z.int(),
  ifBedroomMoves: s,
  buriedWallFt: n,
  daylightWallFt: n,
  maxRetainedFt: n,
  sides: z.array(
    z.looseObject({
      side: z.enum(["uphill", "downhill", "left", "right"]),
      lengthFt: n,
      buriedFt: n,
      maxUnbalancedFt: n,
      profileFt: z.array(n),
    }),
  ),
  wallFaceFt2: n,
  waterproofFt2: n,
  underSlabFt2: n,
  shoringFt2: n,
  protection: s,
});

export const structure = z.looseObject({
  slopeSetbacks: z.array(
    z.looseObject({
      direction: z.enum(["ascending", "descending"]),
      slopeHeightFt: n,
      requiredFt: n,
      availableFt: n,
      met: b,
    }),
  ),
  heightAboveGroundFt: n,
  heightLimitFt: n,
  heightOk: b,
  allowedFloorAreaFt2: n.nullable(),
  coveragePct: n,
  railingFt: n,
  septic: z.looseObject({ fits: b, areaFt2: n, because: s }).nullable(),
  cautions: z.array(s),
});
