/** A hand-made study of an invented lot that climbs from the street and steepens: for tests of the report alone. */
import { contours } from "d3-contour";
import type { Raster } from "../../analysis/geometry/grid.js";
import {
  areaFt2,
  type MultiPolygon,
  type Point,
  type Point3,
  perimeterFt,
  type Ring,
  ringContains,
} from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/site.js";
import { makePictures, type Pictures } from "../../analysis/pictures/index.js";
import { understandRequest } from "../../analysis/request/index.js";
import type { SchemeDesign, SchemeKind } from "../../analysis/schemes/scheme.js";
import type { SchemeStudy, StudyResult } from "../../analysis/study/result.js";
import { siteOf } from "../support/sites.js";

const CELL_FT = 2;
const LOT: Ring = [
  [12, 14],
  [138, 10],
  [146, 96],
  [132, 186],
  [20, 192],
  [8, 104],
];
const GRID = { originEastFt: -20, originNorthFt: -20, cellFt: CELL_FT, cols: 96, rows: 120 };

/** Elevation of the invented ground: 14 % at the street, more than 40 % at the back. */
export function groundFt(east: number, north: number): number {
  return 402 + 0.14 * north + 0.0008 * north * north + 2.5 * Math.sin(east / 38) + 0.02 * east;
}

function rasterOf(value: (east: number, north: number) => number): Raster {
  const values = new Float32Array(GRID.cols * GRID.rows);
  for (let row = 0; row < GRID.rows; row++)
    for (let col = 0; col < GRID.cols; col++)
      values[row * GRID.cols + col] = value(
        GRID.originEastFt + (col + 0.5) * CELL_FT,
        GRID.originNorthFt + (row + 0.5) * CELL_FT,
      );
  return { grid: GRID, values };
}

function atLeast(raster: Raster, threshold: number): MultiPolygon {
  const filled = Array.from(raster.values, (v) => (Number.isNaN(v) ? -1e9 : v));
  const shape = contours().size([GRID.cols, GRID.rows]).contour(filled, threshold);
  return shape.coordinates.map((polygon) =>
    polygon.map((ring) =>
      ring
        .slice(0, -1)
        .map(([x, y]): Point => [GRID.originEastFt + x! * CELL_FT, GRID.originNorthFt + y! * CELL_FT]),
    ),
  );
}

const inLot = (value: (e: number, n: number) => number) => (e: number, n: number) =>
  ringContains(LOT, [e, n]) ? value(e, n) : NaN;
const slopeAt = (e: number, n: number) =>
  100 * Math.hypot(groundFt(e + 0.5, n) - groundFt(e - 0.5, n), groundFt(e, n + 0.5) - groundFt(e, n - 0.5));

function makeSite(): Site {
  const { request } = understandRequest({
    name: "Lot 7, Tamsin Ridge Road, Harrow Springs",
    topo: { points: [] },
    rules: { setbacksFt: { front: 25, side: 10, rear: 20 }, slopeLimitPct: 30 },
    brief: { floorAreaFt2: 3200, storeys: 2, bedrooms: 4, garageCars: 2, basement: "either" },
    offer: { askingUsd: 480_000, flatLotUsd: 900_000 },
  } as Parameters<typeof understandRequest>[0]);
  const elevation = rasterOf(groundFt);
  const slope = rasterOf(inLot(slopeAt));
  const bands = [0, 10, 15, 20, 25, 30, 40];
  const lotFt2 = areaFt2([[LOT]]);
  const bandPolygons = bands.map((fromPct, i) => {
    const toPct = bands[i + 1] ?? null;
    return {
      fromPct,
      toPct,
      polygons: atLeast(
        rasterOf(inLot((e, n) => (slopeAt(e, n) >= fromPct && slopeAt(e, n) < (toPct ?? 1e9) ? 1 : 0))),
        0.5,
      ),
    };
  });
  const contourLines = Array.from({ length: 40 }, (_, i) => 400 + 2 * i).map((elevFt) => ({
    elevFt,
    lines: linesAt(elevFt),
  }));
  const inside: Ring = [
    [20, 36],
    [130, 36],
    [135, 96],
    [124, 166],
    [29, 170],
    [18, 104],
  ];
  const buildable: MultiPolygon = [
    [
      [
        [20, 36],
        [130, 36],
        [134, 88],
        [131, 104],
        [18, 104],
      ],
    ],
  ];
  const points = Array.from({ length: 120 }, (_, i) => [((i * 37) % 160) - 5, ((i * 61) % 210) - 5] as const);
  const shots = gridShots();
  return {
    request,
    survey: {
      frame: {
        originEasting: 6_000_000,
        originNorthing: 2_000_000,
        unit: "us-ft",
        verticalUnit: "us-ft",
        feetPerUnit: 1,
        verticalFeetPerUnit: 1,
        crs: "local",
        proj4: null,
      },
      ground: {
        count: points.length,
        eastFt: Float64Array.from(points, (p) => p[0]),
        northFt: Float64Array.from(points, (p) => p[1]),
        elevFt: Float64Array.from(points, (p) => groundFt(p[0], p[1])),
        row: Int32Array.from(points, (_, i) => i + 2),
      },
      features: [
        {
          kind: "tree",
          at: [110, 130],
          elevFt: groundFt(110, 130),
          description: "OAK 18",
          row: 130,
          trunkIn: 18,
        },
        {
          kind: "tree",
          at: [40, 150],
          elevFt: groundFt(40, 150),
          description: "PINE 24",
          row: 131,
          trunkIn: 24,
        },
        { kind: "utility", at: [70, 4], elevFt: groundFt(70, 4), description: "SSMH", row: 132 },
      ],
      boundary: LOT,
      inputEdge: [0, 1, 2, 3, 4, 5],
      closure: { misclosureFt: 0.04, precision: 12_500, adjusted: false },
      noBuild: [
        {
          name: "Drainage easement",
          kind: "easement",
          polygons: [
            [
              [
                [138, 10],
                [141, 44],
                [130, 44],
                [128, 10.4],
              ],
            ],
          ],
        },
      ],
      constraintsGiven: true,
      breaklines: [],
      accessPoint: null,
      summary: {
        pointsRead: 122,
        pointsUsed: 120,
        excluded: [
          { row: 9, reason: "duplicate" },
          { row: 44, reason: "not ground", evidence: "INV" },
        ],
        unit: "us-ft",
        verticalUnit: "us-ft",
        crs: "local",
        columns: { point: 0, northing: 1, easting: 2, elevation: 3, description: 4 },
        columnsBecause: "Header names point, northing, easting, elevation, description.",
        format: "csv",
        medianSpacingFt: 14.2,
        coveragePct: 97.4,
        verticalAccuracyFt: 0.3,
        verticalAccuracyOrigin: "common practice, no source",
        date: null,
        datum: null,
        basisOfBearings: null,
        warnings: [
          {
            code: "datum-missing",
            message: "The file names no vertical datum.",
            remedy: "Ask the surveyor for datum and bench mark.",
          },
        ],
      },
    },
    terrain: {
      tin: siteOf({ boundary: LOT, points: shots }).terrain.tin,
      surveyed: [
        [
          [
            [12, 14],
            [138, 10],
            [146, 96],
            [132, 186],
            [60, 189.9],
            [8.9, 110],
            [8, 104],
          ],
        ],
      ],
      coveragePct: 97.4,
      summary: {
        method: "facets",
        minElevationFt: 404.1,
        maxElevationFt: 462.8,
        reliefFt: 58.7,
        planAreaFt2: lotFt2 * 0.974,
        surfaceAreaFt2: lotFt2 * 1.02,
        meanSlopePct: 27.3,
        averageSlope: { intervalFt: 2, contourLengthFt: 3120, pct: 27.6 },
        slopeBands: bandPolygons.map((band) => ({
          fromPct: band.fromPct,
          toPct: band.toPct,
          areaFt2: areaFt2(band.polygons),
          sharePct: (100 * areaFt2(band.polygons)) / lotFt2,
        })),
        aspectDeg: 182,
        interpolationRmsFt: 0.42,
        largestHoleFt: 31,
        supportedContourFt: 1.6,
        longestFacetEdgeFt: 44,
      },
      elevation,
      slope,
      contours: contourLines,
      bandPolygons,
      groundSigmaFt: 0.5,
    },
    lot: {
      summary: {
        areaFt2: lotFt2,
        areaAcres: lotFt2 / 43_560,
        perimeterFt: perimeterFt(LOT),
        closure: { misclosureFt: 0.04, precision: 12_500, adjusted: false },
      },
      buildable: {
        slopeLimitPct: 30,
        areaFt2: 7_450,
        sharePct: (100 * 7_450) / lotFt2,
        largestPatchFt2: 7_450,
        patches: 1,
        steps: [
          { reason: "lot", removedFt2: 0, remainingFt2: lotFt2 },
          { reason: "setback", removedFt2: lotFt2 - 14_600, remainingFt2: 14_600 },
          { reason: "easement", removedFt2: 120, remainingFt2: 14_480 },
          { reason: "unsurveyed", removedFt2: 390, remainingFt2: 14_090 },
          { reason: "slope", removedFt2: 6_420, remainingFt2: 7_670 },
          { reason: "narrow", removedFt2: 220, remainingFt2: 7_450 },
        ],
        bySlopeLimit: [
          [10, 0],
          [15, 0],
          [20, 2_100],
          [25, 4_900],
          [30, 7_450],
          [35, 10_200],
          [40, 12_900],
          [50, 14_090],
        ].map(([limitPct, area]) => ({ limitPct: limitPct!, areaFt2: area! })),
      },
      edges: (["front", "side", "side", "rear", "side", "side"] as const).map((role, number) => ({
        number,
        role,
        setbackFt: role === "front" ? 25 : role === "rear" ? 20 : 10,
        frontage: role === "front",
      })),
      frontageOrigin: "given",
      insideSetbacks: [[inside]],
      usable: [[inside]],
      buildablePolygons: buildable,
      buildableMask: { grid: GRID, values: new Uint8Array(GRID.cols * GRID.rows) },
    },
  };
}

/** Shots every 12 ft over the lot and around it. */
function gridShots(): Point3[] {
  const shots: Point3[] = [];
  for (let east = -16; east <= 164; east += 12)
    for (let north = -16; north <= 212; north += 12) shots.push([east, north, groundFt(east, north)]);
  return shots;
}

/** The ground's contour by stepping along east and solving for north: the invented ground rises with north everywhere on the lot. */
function linesAt(elevFt: number): Point[][] {
  const lines: Point[][] = [];
  let line: Point[] = [];
  for (let east = 0; east <= 160; east += 2) {
    let low = -20;
    let high = 220;
    for (let i = 0; i < 40; i++) {
      const mid = (low + high) / 2;
      if (groundFt(east, mid) < elevFt) low = mid;
      else high = mid;
    }
    if (ringContains(LOT, [east, low])) line.push([east, low]);
    else if (line.length) {
      lines.push(line);
      line = [];
    }
  }
  return line.length ? [...lines, line] : lines;
}

const rect = (w: number, s: number, e: number, n: number): Ring => [
  [w, s],
  [e, s],
  [e, n],
  [w, n],
];

function makeScheme(kind: SchemeKind, money: number, feasible = true): SchemeStudy {
  const basement = kind === "daylight-basement";
  const house = basement ? rect(52, 44, 112, 76) : rect(50, 42, 112, 80);
  const outline = basement ? rect(47, 40, 117, 84) : rect(45, 38, 117, 88);
  const padFt = basement ? 413.5 : 417;
  const depthAt = (e: number, n: number) => {
    if (ringContains(outline, [e, n])) return groundFt(e, n) - padFt;
    const [w, s] = outline[0]!;
    const [x, y] = outline[2]!;
    const off = Math.hypot(Math.max(w - e, 0, e - x), Math.max(s - n, 0, n - y));
    const ground = groundFt(e, n);
    const depth = ground > padFt ? ground - (padFt + off / 2) : ground - (padFt - off / 2);
    return off > 26 || (ground > padFt ? depth <= 0 : depth >= 0) ? NaN : depth;
  };
  const depth = rasterOf(depthAt);
  const design: SchemeDesign = {
    id: kind,
    name: basement ? "Daylight basement" : kind === "level-pad" ? "One level pad" : "Raised on piers",
    kind,
    feasible,
    problems: feasible
      ? []
      : [
          {
            code: "site-wall",
            message: "A wall outside the house would have to hold 9 ft; the rule allows 6 ft.",
            freedBy: "Fits with walls up to 9 ft.",
          },
        ],
    levels: basement
      ? [
          {
            name: "basement",
            role: "basement",
            ring: house,
            elevationFt: 413.5,
            floorElevationFt: 414.5,
            rotationDeg: 90,
          },
          {
            name: "main",
            role: "house",
            ring: house,
            elevationFt: 423.5,
            floorElevationFt: 424.5,
            rotationDeg: 90,
          },
        ]
      : [
          {
            name: "main",
            role: "house",
            ring: house,
            elevationFt: 417,
            floorElevationFt: 418,
            rotationDeg: 90,
          },
          {
            name: "garage",
            role: "garage",
            ring: rect(112, 48, 134, 70),
            elevationFt: 416.5,
            floorElevationFt: 417,
            rotationDeg: 90,
          },
        ],
    footprint: house,
    outline,
    footprintShape: basement ? "60 × 32 ft" : "62 × 38 ft",
    floorAreaFt2: 3200,
    garageAt: [118, 59],
    garageFloorFt: 417,
    garage: "attached",
    downhill: [0.05, -0.99875],
    earthwork: {
      bankCutYd3: basement ? 610 : 540,
      compactedFillYd3: basement ? 90 : 210,
      looseExportYd3: basement ? 660 : 385,
      looseImportYd3: 0,
      truckloads: basement ? 57 : 34,
      maxCutFt: 8.2,
      meanCutFt: 3.9,
      maxFillFt: 4.6,
      disturbedFt2: 6100,
      uncertaintyYd3: 62,
      digYd3: basement ? 980 : 0,
      backfillYd3: basement ? 310 : 0,
      stockpileFt2: basement ? 2100 : 0,
      temporaryCutFt: basement ? 11 : 0,
      temporaryReachFt: basement ? 17 : 0,
      temporaryLeavesLot: false,
      leavesLot: false,
      topsoilYd3: 113,
    },
    graded: {
      cut: atLeast(depth, 0.02),
      fill: atLeast({ grid: GRID, values: depth.values.map((v) => -v) }, 0.02),
      depth,
    },
    walls: [
      {
        kind: "site",
        retainedFt: 5.2,
        totalFt: 7.4,
        lengthFt: 72,
        faceFt2: 310,
        where: "uphill",
        surcharge: true,
        line: [
          [45, 88],
          [117, 88],
        ],
        heightsFt: [4, 5.2, 5, 4.1],
        classes: [
          { upToFt: 4, lengthFt: 12, faceFt2: 40 },
          { upToFt: 6, lengthFt: 60, faceFt2: 270 },
        ],
      },
      ...(basement
        ? [
            {
              kind: "basement" as const,
              retainedFt: 8.4,
              totalFt: 10.6,
              lengthFt: 60,
              faceFt2: 480,
              where: "uphill" as const,
              surcharge: false,
              line: [
                [52, 76],
                [112, 76],
              ] as Point[],
              heightsFt: [7.8, 8.4, 8],
              classes: [{ upToFt: 10, lengthFt: 60, faceFt2: 480 }],
            },
          ]
        : []),
    ],
    temporary: basement ? { outline: [rect(40, 38, 124, 97)], heightFt: 11, reachFt: 17 } : null,
    straddle: { cutSharePct: 64, fillSharePct: 36, maxFillUnderHouseFt: 3.1, daylightUnderHouse: true },
    slopeUnderHousePct: { mean: 23.4, p90: 28.1 },
    overexcavationYd3: 60,
    keyBenchYd3: 40,
    objectiveUsd: 214_000,
    search: {
      placementsTried: 18_400,
      exactTried: 50,
      byFootprint: [
        { shape: "62 × 38 ft", objectiveUsd: 214_000 },
        { shape: "70 × 34 ft", objectiveUsd: 219_500 },
      ],
    },
    curves: {
      exportByLevel: [412, 413, 414, 415, 416, 417, 418, 419, 420].map((levelFt) => ({
        levelFt,
        looseExportYd3: Math.max(0, 1300 - 185 * (levelFt - 412)),
        objectiveUsd: 214_000 + 4_000 * (levelFt - 417) ** 2,
        breaks: levelFt < 414 ? ["site-wall"] : [],
      })),
      exportByFloorArea: [2400, 2800, 3200, 3600].map((floorAreaFt2) => ({
        floorAreaFt2,
        looseExportYd3: floorAreaFt2 * 0.12,
        breaks: floorAreaFt2 > 3200 ? ["buildable"] : [],
      })),
      costByRotation: [0, 30, 60, 90, 120, 150].map((rotationDeg) => ({
        rotationDeg,
        objectiveUsd: 214_000 + 300 * Math.abs(rotationDeg - 90),
        breaks: [],
      })),
    },
  };
  const driveLine = Array.from({ length: 15 }, (_, i): [number, number, number] => [
    70 + 3.6 * i + 0.05 * i * i,
    10 + 3.5 * i,
    404.8 + 0.87 * i,
  ]);
  return {
    design,
    access: {
      reachable: true,
      driveway: {
        lengthFt: 78,
        maxGradePct: 13.8,
        meanGradePct: 11.2,
        line: driveLine,
        bankCutYd3: 38,
        compactedFillYd3: 22,
        prismoidalCutYd3: 37.6,
        prismoidalFillYd3: 21.9,
        turnaround: false,
        turnaroundRequired: false,
        widthFt: 12,
        pavedFt2: 1480,
        wallFaceFt2: 0,
        wallMaxFt: 0,
        profile: driveLine.map(([e, n, gradeFt], i) => ({
          stationFt: i * 5.2,
          groundFt: groundFt(e, n),
          gradeFt,
        })),
        garageFloorFt: 417,
        garageAt: [118, 59],
        footprint: [
          [
            [
              ...driveLine.map(([e, n]): Point => [e - 5, n + 3]),
              ...driveLine.map(([e, n]): Point => [e + 5, n - 3]).reverse(),
            ],
          ],
        ],
        car: {
          ok: true,
          because: "Every stretch stays under 15 %.",
          sweptFt: 7,
          wideningFt: 0,
          failsAt: null,
        },
        heavyVehicle: {
          ok: false,
          because: "A loaded concrete truck would want 12 % or less.",
          sweptFt: 9.4,
          wideningFt: 1.5,
          failsAt: null,
        },
        fireEngine: {
          ok: false,
          because: "The bend by the street is too tight for a pumper.",
          sweptFt: 10.2,
          wideningFt: 2.2,
          failsAt: driveLine[1] ? [driveLine[1][0], driveLine[1][1]] : null,
        },
        stairsRiseFt: 1,
        stairsCount: 2,
        walkFt: 24,
      },
    },
    drainage: {
      catchmentFt2: 9_300,
      catchment: [
        [
          [
            [45, 88],
            [117, 88],
            [130, 150],
            [126, 186],
            [30, 190],
            [26, 140],
          ],
        ],
      ],
      lowerBound: true,
      concentrationMin: 6,
      peakCfs: 0.52,
      peak100Cfs: 0.95,
      lotBeforeCfs: 0.9,
      lotAfterCfs: 1.3,
      imperviousFt2: 4_600,
      swale: {
        lengthFt: 92,
        depthIn: 9,
        slopePct: 2,
        velocityFtPerS: 3.1,
        line: [
          [120, 92],
          [82, 93],
          [44, 91],
          [38, 60],
        ],
        steepestPct: 14,
        fastestFtPerS: 4.2,
        lined: false,
        words: "Grass is likely to hold the water of the ditch.",
      },
      detention: {
        peakFt3: 30,
        addedFt3: 540,
        allowedCfs: 0.9,
        peakCfs: 1.3,
        rainMin: 5,
        words: "Roof and paving raise the peak.",
      },
      crossings: [],
      overflow: null,
      roofPipeIn: 6,
      tiers: [
        {
          tier: "wall",
          invertFt: padFt - 1.5,
          outletFt: 408.2,
          runFt: 46,
          gravity: true,
          route: [
            [46, 86],
            [42, 60],
            [40, 34],
          ],
          outletToLineFt: 24,
          pipeIn: 4,
          words: "Runs out by gravity near the street.",
        },
        {
          tier: "roof-and-surface",
          invertFt: padFt - 1,
          outletFt: 408,
          runFt: 50,
          gravity: true,
          route: [
            [50, 42],
            [36, 30],
          ],
          outletToLineFt: 18,
          pipeIn: 6,
          words: "Runs out by gravity near the street.",
        },
        ...(basement
          ? [
              {
                tier: "under-slab" as const,
                invertFt: padFt - 1.3,
                outletFt: 408.4,
                runFt: 44,
                gravity: true,
                route: [
                  [60, 70],
                  [60, 30],
                ] as Point[],
                outletToLineFt: 16,
                pipeIn: 4,
                words: "Runs out by gravity near the street.",
              },
            ]
          : []),
      ],
      fallAwayFromHouse: { ok: true, because: "The apron falls 6 in over 10 ft on all sides." },
    },
    structure: {
      foundation: {
        kind: "pier-and-grade-beam",
        standing: "likely",
        runnerUp: "raised",
        rule: "F2",
        reasons: ["Part of the house would sit on cut and part on new fill; the two settle differently."],
        runnerUpReasons: ["Firm ground close to the surface would let a raised floor stand on footings."],
        wouldChange: ["A soils report that finds firm ground within 2 ft."],
        piers: 28,
        pierDepthFt: [12, 16, 25],
        pierDiameterIn: 18,
        pierAt: [52, 67, 82, 97, 110].flatMap((e) => [44, 54, 64, 76].map((n): Point => [e, n])),
        gradeBeamFt: 330,
        slabFt2: 0,
        raisedFloorFt2: 2350,
        concreteYd3: 72,
        concreteTrucks: 11,
        concreteByElement: [
          { element: "piers", yd3: 33 },
          { element: "grade beams", yd3: 39 },
        ],
        pump: true,
      },
      basement: basement
        ? {
            lightWells: 1,
            wells: [{ at: [84, 78], depthFt: 7.5, ladder: true, side: "uphill" }],
            bedroomsOnOpenWall: 1,
            ifBedroomMoves: "No well is needed when both bedrooms face the open wall.",
            buriedWallFt: 104,
            daylightWallFt: 60,
            maxRetainedFt: 8.4,
            sides: [
              { side: "uphill", lengthFt: 60, buriedFt: 60, maxUnbalancedFt: 8.4, profileFt: [7.8, 8.4, 8] },
              {
                side: "downhill",
                lengthFt: 60,
                buriedFt: 0,
                maxUnbalancedFt: 0.6,
                profileFt: [0.4, 0.6, 0.2],
              },
              { side: "left", lengthFt: 32, buriedFt: 22, maxUnbalancedFt: 7.6, profileFt: [7.6, 4, 0.3] },
              { side: "right", lengthFt: 32, buriedFt: 22, maxUnbalancedFt: 7.9, profileFt: [7.9, 4, 0.4] },
            ],
            wallFaceFt2: 720,
            waterproofFt2: 780,
            underSlabFt2: 1920,
            shoringFt2: 0,
            protection: "Open cut at 1.5 to 1",
          }
        : null,
      slopeSetbacks: [
        { direction: "ascending", slopeHeightFt: 24, requiredFt: 12, availableFt: 14, met: true },
      ],
      heightAboveGroundFt: 27.4,
      heightLimitFt: 30,
      heightOk: true,
      allowedFloorAreaFt2: null,
      coveragePct: 14.2,
      railingFt: 64,
      septic: null,
      cautions: ["Open pier holes kill. Covered, marked, barricaded or filled the same day; nobody enters."],
    },
    cost: {
      p10Usd: 1_500_000 + money,
      p50Usd: 1_720_000 + 1.2 * money,
      p90Usd: 1_990_000 + 1.5 * money,
      meanUsd: 1_750_000 + money,
      samplingErrorUsd: { p10: 4000, p50: 5000, p90: 9000 },
      siteworkP50Usd: 640_000,
      siteworkUsd: { p10: 450_000, p50: 640_000, p90: 930_000 },
      flatLotP50Usd: 1_210_000,
      flatLotUsd: { p10: 1_080_000, p50: 1_210_000, p90: 1_370_000 },
      hillsidePremiumUsd: { p10: 352_000 + money, p50: 518_000 + money, p90: 784_000 + money },
      flatWithBasementUsd: null,
      premiumOverFlatWithBasementUsd: null,
      premiumByPartUsd: [
        { part: "Earthwork", premiumUsd: { p10: 60_000, p50: 96_000, p90: 160_000 } },
        { part: "Foundation", premiumUsd: { p10: 90_000, p50: 140_000, p90: 230_000 } },
        { part: "Walls", premiumUsd: { p10: 40_000, p50: 66_000, p90: 110_000 } },
      ],
      perFt2Usd: { p10: 470, p50: 540, p90: 620 },
      spread: { prices: 0.4, quantities: 0.2, events: 0.4 },
      premiumDrivers: [
        { name: "Drilled piers", share: 0.34, swingUsd: { p10: 478_000, p50: 518_000, p90: 600_000 } },
        { name: "Rock in the dig", share: 0.2, swingUsd: { p10: 518_000, p50: 518_000, p90: 579_000 } },
        { name: "Retaining walls", share: 0.12, swingUsd: { p10: 500_000, p50: 518_000, p90: 549_000 } },
      ],
      basis: {
        book: "Default book",
        bookDate: "2026-11",
        region: "coastal California level",
        regionFactor: 1,
        finishLevel: "good",
        words:
          "Order of magnitude for deciding whether to spend money on engineers; no price was asked of anyone.",
        classWords: "First look, before any drawing.",
        leftOut: ["land", "loan", "furniture", "landscaping"],
      },
      premiumPerFt2Usd: { p10: 110, p50: 162, p90: 245 },
      holdBackUsd: 120_000,
      items: [
        {
          code: "EXCAV",
          label: "Mass excavation, open site",
          quantity: 540,
          unit: "bcy",
          lowUsd: 5_000,
          likelyUsd: 8_600,
          highUsd: 17_300,
          flatLikelyUsd: 2_000,
          premiumUsd: { p10: 3_400, p50: 6_700, p90: 15_800 },
          trace: "earthwork.bankCutYd3",
        },
        {
          code: "HAUL",
          label: "Load and haul off",
          quantity: 385,
          unit: "lcy",
          lowUsd: 5_400,
          likelyUsd: 9_200,
          highUsd: 17_300,
          flatLikelyUsd: 900,
          premiumUsd: { p10: 4_700, p50: 8_400, p90: 17_100 },
          trace: "earthwork.looseExportYd3",
        },
        {
          code: "WALL-6",
          label: "Retaining wall 4 to 6 ft",
          quantity: 310,
          unit: "ff²",
          lowUsd: 21_700,
          likelyUsd: 34_100,
          highUsd: 55_800,
          flatLikelyUsd: 0,
          premiumUsd: { p10: 22_000, p50: 34_500, p90: 58_000 },
          trace: "walls[].classes",
        },
        {
          code: "PIER",
          label: "Drilled pier, 18 in",
          quantity: 448,
          unit: "ft",
          lowUsd: 42_600,
          likelyUsd: 67_200,
          highUsd: 116_500,
          flatLikelyUsd: 0,
          premiumUsd: { p10: 42_000, p50: 68_000, p90: 118_000 },
          trace: "28 piers × 16 ft",
        },
        {
          code: "HOUSE",
          label: "House above foundation",
          quantity: 3200,
          unit: "ft²",
          lowUsd: 930_000,
          likelyUsd: 1_056_000,
          highUsd: 1_180_000,
          flatLikelyUsd: 1_056_000,
          premiumUsd: { p10: 0, p50: 0, p90: 0 },
          trace: "brief.floorAreaFt2",
        },
      ],
      drivers: [
        {
          name: "House above foundation",
          share: 0.41,
          swingUsd: { p10: 1_570_000, p50: 1_720_000, p90: 1_890_000 },
        },
        { name: "Drilled piers", share: 0.22, swingUsd: { p10: 1_680_000, p50: 1_720_000, p90: 1_802_000 } },
      ],
      whatIfs: [
        { name: "Rock in the dig", chance: 0.25, addsUsd: { p10: 12_000, p50: 38_000, p90: 96_000 } },
        { name: "Old fill or soft ground", chance: 0.2, addsUsd: { p10: 18_000, p50: 44_000, p90: 110_000 } },
      ],
      offer: {
        askingUsd: 480_000,
        flatLotUsd: 900_000,
        allInUsd: { p10: 1_980_000, p50: 2_210_000, p90: 2_560_000 },
        evenPriceUsd: { p10: 116_000, p50: 382_000, p90: 548_000 },
        chanceCheaper: 0.28,
      },
      hauledLoads: { p10: 35, p50: 41, p90: 55 },
      draws: 10_000,
    },
    schedule: {
      clock: "from accepted offer",
      preconstructionMonths: [8.1, 12, 18],
      groundMonths: [2, 3.3, 5.5],
      houseMonths: [8.5, 12, 18],
      totalMonths: [20, 27.2, 38],
      flatTotalMonths: [15, 19, 26],
      flatPreconstructionMonths: [5, 7, 10],
      flatGroundMonths: [1, 1.4, 2],
      flatHouseMonths: [8, 11, 16],
      buildingMonths: [11, 15.3, 23],
      flatBuildingMonths: [9.5, 13.4, 20],
      untilFrameMonths: [10.4, 15.3, 22],
      flatUntilFrameMonths: [6.2, 8.4, 11.6],
      belowFloorMonths: null,
      belowFloorShare: null,
      longerIf: [{ name: "Rock in the dig", chance: 0.25, addsWeeks: 0.8 }],
      activities: [
        {
          id: "survey",
          name: "Boundary and topo survey",
          phase: "before",
          after: [],
          weeks: [3, 5, 8],
          startWeekP50: 0,
          finishWeekP50: 5,
          criticalShare: 0.6,
          hold: false,
          belowFloor: false,
        },
        {
          id: "soils",
          name: "Soils report",
          phase: "before",
          after: ["survey"],
          weeks: [4, 7, 12],
          startWeekP50: 3,
          finishWeekP50: 11,
          criticalShare: 0.4,
          hold: false,
          belowFloor: false,
        },
        {
          id: "plans",
          name: "Construction drawings",
          phase: "before",
          after: ["soils"],
          weeks: [8, 14, 22],
          startWeekP50: 11,
          finishWeekP50: 26,
          criticalShare: 0.9,
          hold: false,
          belowFloor: false,
        },
        {
          id: "permit",
          name: "Plan check and permit",
          phase: "before",
          after: ["plans"],
          weeks: [6, 14, 28],
          startWeekP50: 26,
          finishWeekP50: 52,
          criticalShare: 1,
          hold: true,
          belowFloor: false,
        },
        {
          id: "dig",
          name: "Dig, haul and fill",
          phase: "ground",
          after: ["permit"],
          weeks: [1, 2, 5],
          startWeekP50: 52,
          finishWeekP50: 57,
          criticalShare: 1,
          hold: false,
          belowFloor: false,
        },
        {
          id: "piers",
          name: "Piers and grade beams",
          phase: "ground",
          after: ["dig"],
          weeks: [3, 4, 8],
          startWeekP50: 57,
          finishWeekP50: 66,
          criticalShare: 0.8,
          hold: true,
          belowFloor: false,
        },
        {
          id: "house",
          name: "Frame to keys",
          phase: "house",
          after: ["piers"],
          weeks: [37, 52, 78],
          startWeekP50: 66,
          finishWeekP50: 118,
          criticalShare: 1,
          hold: false,
          belowFloor: false,
        },
      ],
    },
  };
}

export interface Fixture {
  readonly study: StudyResult & { readonly id: string; readonly createdAt: string; readonly token: string };
  readonly pictures: Pictures;
}

const FINDINGS: StudyResult["findings"] = [
  {
    code: "UTL-01",
    severity: "concern",
    title: "Sewer not confirmed",
    detail: "No sewer means a septic field, which steep land often refuses.",
    measured: "unknown",
    threshold: "yes",
    unit: "",
    basis: "assumed",
    affects: [],
    next: "Ask for a written will-serve letter",
    who: "utility company, city or county",
    source: "common practice, no source",
  },
  {
    code: "ERT-02",
    severity: "concern",
    title: "New fill under the house",
    detail: "New fill settles for years.",
    measured: 3.1,
    threshold: 3,
    unit: "ft",
    basis: "survey",
    affects: ["level-pad"],
    next: "Piers or another place",
    who: "soils engineer",
    source: "common practice, no source",
  },
  {
    code: "SLP-06",
    severity: "watch",
    title: "Nobody has said whether this hill moves",
    detail: "Steep ground and no geology answer.",
    measured: 28.1,
    threshold: 25,
    unit: "%",
    basis: "survey",
    affects: [],
    next: "Landslide map and report",
    who: "soils engineer",
    source: "common practice, no source",
  },
  {
    code: "SRV-05",
    severity: "watch",
    title: "Vertical datum not stated",
    detail: "Heights of two kinds look alike.",
    measured: "not stated",
    threshold: "stated",
    unit: "",
    basis: "survey",
    affects: [],
    next: "State unit, datum, bench mark",
    who: "licensed surveyor",
    source: "common practice, no source",
  },
  {
    code: "SLP-01",
    severity: "info",
    title: "Hillside rules may start here",
    detail: "Many hillside rules start at 15 %.",
    measured: 27.6,
    threshold: 15,
    unit: "%",
    basis: "survey",
    affects: [],
    next: "Ask whether hillside rules apply",
    who: "city or county",
    source: "local hillside ordinances",
  },
];

/** Three ways to build, of which one breaks a rule; `kinds` picks others. */
export function makeFixture(
  kinds: readonly SchemeKind[] = ["level-pad", "daylight-basement", "pier-raised"],
): Fixture {
  const site = makeSite();
  const schemes = kinds.map((kind, i) => makeScheme(kind, i * 60_000, kind !== "pier-raised"));
  const water = {
    streams: [
      {
        line: [
          [128, 184],
          [120, 120],
          [136, 60],
          [134, 12],
        ] as Point[],
        catchmentFt2: 11_000,
      },
    ],
    depressions: [],
    lotCatchmentFt2: 31_000,
    lotCatchment: [[LOT]],
    lowerBound: true,
  };
  const reach = {
    entry: [70, 12.2] as Point,
    entryElevFt: 404.8,
    entryOrigin: "frontage midpoint" as const,
    distanceFt: rasterOf(() => NaN),
  };
  const pictures = makePictures({ site, water, reach, schemes });
  const { request, survey, terrain, lot } = site;
  const assumptions = understandRequest({ topo: { points: [] } } as Parameters<
    typeof understandRequest
  >[0]).assumptions;
  const study: StudyResult = {
    name: request.name,
    version: "0.1.0",
    request,
    survey: survey.summary,
    lot: { ...lot.summary, edges: lot.edges, frontageOrigin: lot.frontageOrigin },
    terrain: terrain.summary,
    buildable: lot.buildable,
    water: { depressions: [], lotCatchmentFt2: water.lotCatchmentFt2, lowerBound: true },
    schemes: schemes.map(({ design: d, access, drainage, structure, cost, schedule }) => ({
      id: d.id,
      name: d.name,
      kind: d.kind,
      feasible: d.feasible,
      problems: d.problems.map((p) => p.message),
      problemDetails: d.problems,
      levels: d.levels,
      floorAreaFt2: d.floorAreaFt2,
      footprintShape: d.footprintShape,
      garage: d.garage,
      garageChoice: null,
      straddle: d.straddle,
      slopeUnderHousePct: d.slopeUnderHousePct,
      earthwork: { ...d.earthwork, overexcavationYd3: d.overexcavationYd3, keyBenchYd3: d.keyBenchYd3 },
      walls: d.walls,
      driveway: access.reachable ? access.driveway : null,
      access: {
        reachable: true,
        because: access.reachable ? access.driveway.car.because : access.because,
        gentlestGradePct: null,
        helps: [],
      },
      drainage,
      foundation: structure.foundation,
      basement: structure.basement,
      structure,
      cost,
      schedule,
      search: d.search,
      curves: d.curves,
    })),
    recommendation: {
      schemeId: schemes[0]?.design.id ?? null,
      verdictCode: "hard-dear",
      verdict: "A house fits, but the hill will cost you. Buy only if the price leaves room.",
      reasons: [
        "The hill adds about 43 % to the cost of the same house on flat land.",
        "The house would stand partly on new fill, so deep concrete posts carry it.",
        "A wall of about 5 feet must hold the hill behind the house.",
      ],
      flipsIf: [
        "would become “fits in a fairly plain way” if the extra cost fell under 15 % of the flat house",
      ],
    },
    findings: FINDINGS,
    assumptions,
  };
  return {
    study: { ...study, id: "st_fixture", createdAt: "2026-11-25T08:00:00.000Z", token: "fixture-token" },
    pictures,
  };
}
