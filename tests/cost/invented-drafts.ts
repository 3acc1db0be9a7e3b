/** Two invented schemes with round quantities, as the geometry stages would hand them over. */
import { readFileSync } from "node:fs";
import type { PricedDraft, SchemeParts } from "../../analysis/bill/index.js";
import { listQuantities } from "../../analysis/bill/index.js";
import { type CostBook, parseCostBook } from "../../analysis/book/index.js";
import type { Site } from "../../analysis/lot/site.js";
import { requestSchema } from "../../analysis/request/index.js";
import { planeSite } from "../support/sites.js";

export function defaultBook(): CostBook {
  const read = parseCostBook(
    JSON.parse(readFileSync(new URL("../../demo-data/cost-book.json", import.meta.url), "utf8")),
  );
  if (!read.ok) throw new Error(JSON.stringify(read.problems));
  return read.book;
}

/** A plane lot of 120 × 180 ft at 25 %. */
export function steepSite(request: Readonly<Record<string, unknown>> = {}): Site {
  const input = requestSchema.parse(request);
  return planeSite({ gradePct: 25, widthFt: 120, depthFt: 180, spacingFt: 20, request: input });
}

const rectangle = (widthFt: number, depthFt: number) =>
  [
    [0, 0],
    [widthFt, 0],
    [widthFt, depthFt],
    [0, depthFt],
  ] as const;

const emptyRaster = {
  grid: { originEastFt: 0, originNorthFt: 0, cellFt: 1, cols: 1, rows: 1 },
  values: new Float32Array([5]),
};

/** 3,200 ft² on a level pad, 25 % slope: 480 loose yd³ leave, 720 ft² of wall up to 8 ft, 26 piers, 330 ft of grade beam. */
export function levelPadParts(): SchemeParts {
  return {
    design: {
      id: "level-pad",
      name: "One level pad",
      kind: "level-pad",
      feasible: true,
      problems: [],
      levels: [
        {
          name: "main",
          role: "house",
          ring: rectangle(60, 40),
          elevationFt: 500,
          floorElevationFt: 500.7,
          rotationDeg: 0,
        },
        {
          name: "garage",
          role: "garage",
          ring: rectangle(22, 22),
          elevationFt: 500,
          floorElevationFt: 500.5,
          rotationDeg: 0,
        },
      ],
      footprint: rectangle(60, 40),
      outline: rectangle(70, 50),
      footprintShape: "60 × 40 ft",
      floorAreaFt2: 3200,
      garageAt: [0, 0],
      garageFloorFt: 500.5,
      garage: "attached",
      downhill: [0, -1],
      earthwork: {
        bankCutYd3: 480,
        compactedFillYd3: 90,
        looseExportYd3: 480,
        looseImportYd3: 0,
        truckloads: 42,
        maxCutFt: 8,
        meanCutFt: 3,
        maxFillFt: 3,
        disturbedFt2: 7000,
        uncertaintyYd3: 30,
        digYd3: 0,
        backfillYd3: 0,
        stockpileFt2: 0,
        temporaryCutFt: 0,
        temporaryReachFt: 0,
        temporaryLeavesLot: false,
        leavesLot: false,
        topsoilYd3: 130,
      },
      graded: { cut: [[rectangle(70, 35)]], fill: [[rectangle(70, 15)]], depth: emptyRaster },
      walls: [
        {
          kind: "site",
          retainedFt: 8,
          totalFt: 10,
          lengthFt: 110,
          faceFt2: 720,
          where: "uphill",
          surcharge: true,
          line: [],
          heightsFt: [],
          classes: [
            { upToFt: 6, lengthFt: 40, faceFt2: 200 },
            { upToFt: 8, lengthFt: 70, faceFt2: 520 },
          ],
        },
      ],
      temporary: null,
      straddle: { cutSharePct: 70, fillSharePct: 30, maxFillUnderHouseFt: 3, daylightUnderHouse: true },
      slopeUnderHousePct: { mean: 25, p90: 26 },
      overexcavationYd3: 0,
      keyBenchYd3: 70,
      objectiveUsd: 0,
      search: null,
      curves: null,
    },
    access: {
      reachable: true,
      driveway: {
        lengthFt: 80,
        maxGradePct: 14,
        meanGradePct: 12,
        line: [],
        bankCutYd3: 40,
        compactedFillYd3: 10,
        prismoidalCutYd3: 40,
        prismoidalFillYd3: 10,
        turnaround: true,
        turnaroundRequired: false,
        widthFt: 12,
        pavedFt2: 960,
        wallFaceFt2: 60,
        wallMaxFt: 4,
        profile: [],
        garageFloorFt: 500.5,
        garageAt: [0, 0],
        footprint: [],
        car: { ok: true, because: "", sweptFt: 7, wideningFt: 0, failsAt: null },
        heavyVehicle: { ok: true, because: "", sweptFt: 11, wideningFt: 0, failsAt: null },
        fireEngine: { ok: true, because: "", sweptFt: 11, wideningFt: 0, failsAt: null },
        stairsRiseFt: 0,
        stairsCount: 0,
        walkFt: 0,
      },
    },
    drainage: {
      catchmentFt2: 6000,
      catchment: [],
      lowerBound: true,
      concentrationMin: 5,
      peakCfs: 0.3,
      peak100Cfs: 0.6,
      lotBeforeCfs: 1,
      lotAfterCfs: 1.3,
      imperviousFt2: 4200,
      swale: {
        lengthFt: 90,
        depthIn: 8,
        slopePct: 2,
        velocityFtPerS: 3,
        line: [],
        steepestPct: 2,
        fastestFtPerS: 2,
        lined: false,
        words: "",
      },
      detention: { peakFt3: 0, addedFt3: 0, allowedCfs: 1, peakCfs: 1.3, rainMin: 5, words: "" },
      crossings: [],
      overflow: null,
      roofPipeIn: 6,
      tiers: [
        {
          tier: "roof-and-surface",
          invertFt: 498,
          outletFt: 490,
          runFt: 80,
          gravity: true,
          route: [],
          outletToLineFt: 15,
          pipeIn: 6,
          words: "",
        },
      ],
      fallAwayFromHouse: { ok: true, because: "" },
    },
    structure: {
      foundation: {
        kind: "pier-and-grade-beam",
        standing: "likely",
        runnerUp: "raised",
        rule: "F2",
        reasons: [],
        runnerUpReasons: [],
        wouldChange: [],
        piers: 26,
        pierDepthFt: [12, 16, 25],
        pierDiameterIn: 18,
        pierAt: [],
        gradeBeamFt: 330,
        slabFt2: 484,
        raisedFloorFt2: 1916,
        concreteYd3: 80,
        concreteTrucks: 12,
        concreteByElement: [],
        pump: true,
      },
      basement: null,
      slopeSetbacks: [],
      heightAboveGroundFt: 26,
      heightLimitFt: 30,
      heightOk: true,
      allowedFloorAreaFt2: null,
      coveragePct: 12,
      railingFt: 0,
      septic: null,
      cautions: [],
    },
  };
}

/** The same floor area with a 1,600 ft² daylight basement on 30 %: 740 bank yd³ dug, 363 come back, 950 ft² of basement wall. */
export function daylightParts(): SchemeParts {
  const pad = levelPadParts();
  return {
    ...pad,
    design: {
      ...pad.design,
      id: "daylight-basement",
      name: "Daylight basement",
      kind: "daylight-basement",
      levels: [
        ...pad.design.levels,
        {
          name: "basement",
          role: "basement",
          ring: rectangle(50, 32),
          elevationFt: 490,
          floorElevationFt: 490.7,
          rotationDeg: 0,
        },
      ],
      earthwork: {
        ...pad.design.earthwork,
        bankCutYd3: 420,
        compactedFillYd3: 20,
        looseExportYd3: 480,
        digYd3: 740,
        backfillYd3: 363,
        temporaryCutFt: 15.7,
        temporaryReachFt: 18.7,
        temporaryLeavesLot: false,
      },
      walls: [],
      slopeUnderHousePct: { mean: 30, p90: 31 },
      keyBenchYd3: 0,
    },
    drainage: {
      ...pad.drainage,
      tiers: [
        ...pad.drainage.tiers,
        {
          tier: "wall",
          invertFt: 489,
          outletFt: 484,
          runFt: 60,
          gravity: true,
          route: [],
          outletToLineFt: 12,
          pipeIn: 4,
          words: "",
        },
      ],
    },
    structure: {
      ...pad.structure,
      foundation: {
        ...pad.structure.foundation,
        piers: 14,
        gradeBeamFt: 180,
        slabFt2: 1600 + 484,
        raisedFloorFt2: 1600,
      },
      basement: {
        lightWells: 1,
        wells: [{ at: [0, 0], depthFt: 6, ladder: true, side: "uphill" }],
        bedroomsOnOpenWall: 1,
        ifBedroomMoves: "",
        buriedWallFt: 110,
        daylightWallFt: 54,
        maxRetainedFt: 9.5,
        sides: [{ side: "uphill", lengthFt: 50, buriedFt: 50, maxUnbalancedFt: 9.5, profileFt: [] }],
        wallFaceFt2: 950,
        waterproofFt2: 1060,
        underSlabFt2: 1600,
        shoringFt2: 0,
        protection: "",
      },
    },
  };
}

export function draftOf(site: Site, parts: SchemeParts): PricedDraft {
  return { ...parts, quantities: listQuantities(site, parts) };
}
