/** Inclined planes and formulas, where every number is known in closed form. */
import { assert, describe, test } from "vitest";
import { areaFt2 } from "../../analysis/geometry/plane.js";
import { understandRequest } from "../../analysis/request/index.js";
import { buildTerrain, elevationAt } from "../../analysis/terrain/index.js";
import { formulaSite, planeSite, siteOf, surveyOf } from "../support/sites.js";

function near(actual: number, expected: number, tolerance: number): void {
  assert.ok(Math.abs(actual - expected) <= tolerance, `${actual} against ${expected} ± ${tolerance}`);
}

describe("a plane of 20 % on a lot 100 × 200 ft", () => {
  // Contours at 2 ft lie 10 ft apart: 20 of them, each 100 ft long, S = 100 · 2 · 2000 / 20000 = 20.0 % (the contour-length formula of hillside ordinances).
  const { summary } = planeSite({ gradePct: 20, widthFt: 100, depthFt: 200, middleElevFt: 501 }).terrain;
  test("has an average slope of exactly 20.0 % by contour length", () => {
    near(summary.averageSlope.contourLengthFt, 2000, 1e-6);
    near(summary.averageSlope.pct, 20, 1e-9);
  });
  test("counts a contour on the lot line once, not twice", () => {
    near(
      planeSite({ gradePct: 20, widthFt: 100, depthFt: 200, middleElevFt: 500 }).terrain.summary.averageSlope
        .pct,
      20,
      1e-9,
    );
  });
  test("lies wholly in the band that begins at 20 %: a slope on a limit goes to the steeper class", () => {
    const band = summary.slopeBands.find(({ fromPct }) => fromPct === 20)!;
    near(band.areaFt2, 20_000, 1e-6);
    near(band.sharePct, 100, 1e-9);
  });
  test("has a surface √1.04 times its plan", () =>
    near(summary.surfaceAreaFt2, 20_000 * Math.sqrt(1.04), 1e-6));
  test("rises 40 ft", () => near(summary.reliefFt, 40, 1e-9));
});

test("contour length of another interval: I = 5 ft on a plane of 25 % gives 25 %", () => {
  // Contours 20 ft apart on a lot 200 ft deep: ten of 150 ft.
  const { averageSlope } = planeSite({
    gradePct: 25,
    widthFt: 150,
    depthFt: 200,
    middleElevFt: 502.5,
    request: { rules: { contourIntervalFt: 5 } },
  }).terrain.summary;
  near(averageSlope.contourLengthFt, 1500, 1e-6);
  near(averageSlope.pct, 25, 1e-9);
});

test.each([0, 37, 90, 180, 270, 311.5])("a plane falling to azimuth %d says so", (azimuth) => {
  const { aspectDeg, meanSlopePct } = planeSite({ gradePct: 17, downhillAzimuthDeg: azimuth }).terrain
    .summary;
  near(aspectDeg, azimuth, 1e-6);
  near(meanSlopePct, 17, 1e-9);
});

test("heights between shots are those of the plane, and there are none off the survey", () => {
  const { terrain } = planeSite({ gradePct: 30, widthFt: 100, depthFt: 100, beyondFt: 40 });
  for (const [x, y] of [
    [0, 0],
    [13.7, 88.1],
    [50, 50],
    [-39.9, 139.9],
  ] as const)
    near(elevationAt(terrain.tin, x, y), 500 + 0.3 * (y - 50), 1e-9);
  assert.isNaN(elevationAt(terrain.tin, -41, 50));
  assert.isNaN(elevationAt(terrain.tin, 50, 1e9));
});

test("the rasters hold the plane at their cell centres", () => {
  const { elevation, slope } = planeSite({ gradePct: 25, widthFt: 120, depthFt: 90 }).terrain;
  const { cols, rows, cellFt, originNorthFt } = elevation.grid;
  let cells = 0;
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const z = elevation.values[row * cols + col]!;
      if (Number.isNaN(z)) continue;
      cells++;
      near(z, 500 + 0.25 * (originNorthFt + (row + 0.5) * cellFt - 45), 1e-4);
      near(slope.values[row * cols + col]!, 25, 1e-5);
    }
  assert.ok(cells * cellFt ** 2 > 120 * 90, "the lot and a margin are covered");
});

describe("ground the survey does not show", () => {
  const request = understandRequest({}).request;
  test("a topo over half the lot covers half", () => {
    const { terrain } = siteOf({
      boundary: [
        [0, 0],
        [200, 0],
        [200, 100],
        [0, 100],
      ],
      points: gridOf(-20, -20, 100, 120),
    });
    near(terrain.coveragePct, 50, 1e-6);
    near(terrain.summary.planAreaFt2, 10_000, 1e-6);
  });
  test("a notch between two arms of shots is not bridged", () => {
    // Arms 0–60 and 240–300 ft east joined along the south: the notch between them is 180 ft wide.
    const points = gridOf(0, 0, 300, 40).concat(gridOf(0, 60, 60, 300), gridOf(240, 60, 300, 300));
    const { terrain } = siteOf({
      boundary: [
        [10, 10],
        [290, 10],
        [290, 290],
        [10, 290],
      ],
      points,
    });
    const notch = (180 * 250) / (280 * 280);
    // at the two inner corners facets with sides up to 50 ft may reach across
    assert.ok(terrain.coveragePct >= 100 * (1 - notch));
    assert.ok(terrain.coveragePct <= 100 * (1 - notch + 50 ** 2 / 280 ** 2));
    assert.isNaN(elevationAt(terrain.tin, 150, 200));
  });
  test("shots on one line are refused", () => {
    const outcome = buildTerrain(
      surveyOf({
        boundary: [
          [0, 0],
          [10, 0],
          [10, 10],
        ],
        points: [
          [0, 0, 1],
          [1, 1, 2],
          [2, 2, 3],
          [5, 5, 9],
        ],
      }),
      request,
    );
    assert.equal(outcome.ok, false);
    if (!outcome.ok) assert.equal(outcome.problems[0]!.code, "topo-on-one-line");
  });
  test("a topo beside the lot is refused", () => {
    const outcome = buildTerrain(
      surveyOf({
        boundary: [
          [1000, 0],
          [1100, 0],
          [1100, 100],
        ],
        points: gridOf(0, 0, 100, 100),
      }),
      request,
    );
    assert.equal(outcome.ok, false);
    if (!outcome.ok) assert.equal(outcome.problems[0]!.code, "topo-outside-lot");
  });
});

describe("contours and bands as drawn", () => {
  // a paraboloid hill of 20 ft: contours are closed lines about (100, 100)
  const { terrain } = formulaSite((x, y) => 520 - 0.002 * ((x - 100) ** 2 + (y - 100) ** 2), {
    widthFt: 200,
    depthFt: 200,
    spacingFt: 8,
  });
  test("a contour round a hill is one closed line at its height, as long as its circle", () => {
    const { lines } = terrain.contours.find(({ elevFt }) => elevFt === 510)!;
    assert.equal(lines.length, 1);
    assert.deepEqual(lines[0]!.at(-1), lines[0]![0]);
    let lengthFt = 0;
    lines[0]!.forEach((point, i) => {
      near(elevationAt(terrain.tin, ...point), 510, 1e-6);
      const [px, py] = lines[0]![i - 1] ?? point;
      lengthFt += Math.hypot(point[0] - px, point[1] - py);
    });
    const circle = 2 * Math.PI * Math.sqrt(10 / 0.002);
    near(lengthFt, circle, 0.01 * circle);
  });
  test("lines drawn add up to the length reported", () => {
    let lengthFt = 0;
    for (const { lines } of terrain.contours)
      for (const line of lines)
        for (let i = 1; i < line.length; i++)
          lengthFt += Math.hypot(line[i]![0] - line[i - 1]![0], line[i]![1] - line[i - 1]![1]);
    near(lengthFt, terrain.summary.averageSlope.contourLengthFt, 1e-6);
  });
  test("band polygons have the areas of the bands", () => {
    terrain.bandPolygons.forEach(({ polygons }, i) => {
      near(areaFt2(polygons), terrain.summary.slopeBands[i]!.areaFt2, 0.05);
    });
  });
  test("an absurdly fine interval is refused by name", () => {
    const outcome = buildTerrain(
      surveyOf({
        boundary: [
          [0, 0],
          [100, 0],
          [100, 100],
        ],
        points: gridOf(-20, -20, 120, 120),
      }),
      understandRequest({ rules: { contourIntervalFt: 0.001 } }).request,
    );
    assert.equal(outcome.ok, false);
    if (!outcome.ok) assert.equal(outcome.problems[0]!.where, "request.rules.contourIntervalFt");
  });
});

test("shots a hair apart and shots in long straight rows leave every number finite", () => {
  const rows = gridOf(-20, -20, 120, 120);
  const hairs = rows.map(([x, y, z]): [number, number, number] => [x + 1e-9, y + 3e-10, z + 0.05]);
  const { terrain } = siteOf({
    boundary: [
      [0, 0],
      [100, 0],
      [100, 100],
      [0, 100],
    ],
    points: [...rows, ...hairs],
  });
  near(terrain.summary.planAreaFt2, 10_000, 0.01);
  near(terrain.summary.meanSlopePct, 10, 0.6);
  for (const value of Object.values(terrain.summary))
    if (typeof value === "number") assert.ok(Number.isFinite(value));
});

test("a dense noisy survey is measured on a smoothed grid, not on its noise", () => {
  // 2 ft grid of shots on a 20 % plane with ± 0.1 ft noise from an integer hash: facets alone would average near 21 %.
  const noise = (x: number, y: number) =>
    (((Math.imul(Math.round(x * 7), 374761393) ^ Math.imul(Math.round(y * 11), 668265263)) >>> 8) % 1000) /
      5000 -
    0.1;
  const { terrain } = formulaSite((x, y) => 500 + 0.2 * y + noise(x, y), {
    widthFt: 100,
    depthFt: 100,
    spacingFt: 2,
    beyondFt: 20,
  });
  assert.equal(terrain.summary.method, "grid");
  near(terrain.summary.meanSlopePct, 20, 0.5);
  near(terrain.summary.averageSlope.pct, 20, 0.6);
  const share = terrain.summary.slopeBands.filter(({ fromPct }) => fromPct === 15 || fromPct === 20);
  near(share[0]!.sharePct + share[1]!.sharePct, 100, 1);
  near(
    terrain.summary.slopeBands.reduce((sum, { areaFt2 }) => sum + areaFt2, 0),
    10_000,
    1e-6,
  );
});

function gridOf(west: number, south: number, east: number, north: number): [number, number, number][] {
  const shots: [number, number, number][] = [];
  for (let x = west; x <= east; x += 20)
    for (let y = south; y <= north; y += 20) shots.push([x, y, 100 + 0.1 * y]);
  return shots;
}
