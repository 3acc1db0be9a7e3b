/** What is left to build on, against plane geometry worked by hand. */
import { assert, describe, test } from "vitest";
import { openingLimits } from "../../analysis/geometry/disc-filter.js";
import { areaFt2, type Point, type Ring, signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { scanPolygons } from "../../analysis/geometry/scan.js";
import { describeLot } from "../../analysis/lot/index.js";
import { understandRequest } from "../../analysis/request/index.js";
import type { SurveyFeature } from "../../analysis/survey/survey.js";
import { formulaSite, gridShots, planeSite, siteOf, surveyOf } from "../support/sites.js";

function near(actual: number, expected: number, tolerance: number): void {
  assert.ok(Math.abs(actual - expected) <= tolerance, `${actual} against ${expected} ± ${tolerance}`);
}
const flat = (boundary: Ring, rules: object, more: object = {}) => {
  const xs = boundary.map(([x]) => x);
  const ys = boundary.map(([, y]) => y);
  return siteOf({
    boundary,
    points: gridShots(
      () => 100,
      Math.min(...xs) - 20,
      Math.min(...ys) - 20,
      Math.max(...xs) + 20,
      Math.max(...ys) + 20,
      20,
    ),
    request: { rules, ...more },
  });
};
const removed = (site: ReturnType<typeof flat>, reason: string) =>
  site.lot.buildable.steps.find((step) => step.reason === reason)!.removedFt2;

describe("area and perimeter of the lot", () => {
  test("a worked example of area by coordinates: 102,935.7 ft², 2.3631 acres", () => {
    // J. Mahun, Open Access Surveying Library, chapter G "Area", example 1 (figure G-7); corners given north, east.
    const boundary: Ring = [
      [2000, 500],
      [1561.426, 323.614],
      [1488.321, 526.996],
      [1686.956, 719.336],
    ];
    const { summary } = flat(boundary, {}).lot;
    near(summary.areaFt2, 102_935.7, 0.06); // double area printed 205,871.5
    near(summary.areaAcres, 2.3631, 0.00005);
  });
  test("a lot given clockwise has the same area, and its edges keep the caller's numbers", () => {
    const clockwise: Ring = [
      [0, 0],
      [0, 100],
      [150, 100],
      [150, 0],
    ];
    const survey = surveyOf({ boundary: clockwise, points: gridShots(() => 0, 0, 0, 150, 100, 50) });
    near(signedAreaFt2(survey.boundary), 15_000, 1e-9);
    survey.boundary.forEach(([x0, y0], i) => {
      const [x1, y1] = survey.boundary[(i + 1) % 4]!;
      const given = [clockwise[survey.inputEdge[i]!]!, clockwise[(survey.inputEdge[i]! + 1) % 4]!];
      assert.deepEqual(
        [
          [x1, y1],
          [x0, y0],
        ],
        given.map(([x, y]) => [x, y]),
      );
    });
  });
});

describe("setbacks", () => {
  test("one setback all round a rectangle", () => {
    near(
      flat(
        [
          [0, 0],
          [200, 0],
          [200, 100],
          [0, 100],
        ],
        { setbacksFt: { all: 20 }, minBuildableWidthFt: 0 },
      ).lot.buildable.areaFt2,
      160 * 60,
      1e-6,
    );
  });
  test("front, side and rear from the frontage", () => {
    const site = flat(
      [
        [0, 0],
        [120, 0],
        [120, 200],
        [0, 200],
      ],
      { setbacksFt: { front: 30, side: 10, rear: 25 }, minBuildableWidthFt: 0 },
      { access: { frontage: [0] } },
    );
    assert.deepEqual(
      site.lot.edges.map(({ role }) => role),
      ["front", "side", "rear", "side"],
    );
    near(site.lot.buildable.areaFt2, 100 * 145, 1e-6);
    assert.equal(site.lot.frontageOrigin, "given");
  });
  test("a number for each edge, in the caller's order though the lot runs clockwise", () => {
    const site = flat(
      [
        [0, 0],
        [0, 200],
        [120, 200],
        [120, 0],
      ],
      { setbacksFt: { edges: [5, 10, 20, 40] }, minBuildableWidthFt: 0 },
    );
    // west 5, north 10, east 20, south 40
    near(site.lot.buildable.areaFt2, 95 * 150, 1e-6);
  });
  test("the frontage is guessed from the car's entry", () => {
    const site = flat(
      [
        [0, 0],
        [120, 0],
        [120, 200],
        [0, 200],
      ],
      { setbacksFt: { front: 30, side: 10, rear: 25 } },
      { access: { point: [125, 90] } },
    );
    assert.equal(site.lot.frontageOrigin, "guessed");
    assert.deepEqual(
      site.lot.edges.map(({ role }) => role),
      ["side", "front", "side", "rear"],
    );
  });
  test("a car's entry more than 60 ft from every line makes none of them the street", () => {
    const boundary: Ring = [
      [0, 0],
      [120, 0],
      [120, 200],
      [0, 200],
    ];
    const origin = (south: number) => {
      const request = { access: { point: [60, -south] as [number, number] } };
      const survey = surveyOf({ boundary, points: gridShots(() => 100, 0, 0, 120, 200, 40), request });
      return describeLot(survey, understandRequest(request).request).frontageOrigin;
    };
    assert.equal(origin(59), "guessed");
    assert.equal(origin(61), "unknown");
  });
  test("a rear line looks away from the street within 60 degrees", () => {
    const roles = (deg: number) => {
      // two lines meet over the middle of the lot, each looking so many degrees off straight away
      const peak = 100 + 100 * Math.tan((deg * Math.PI) / 180);
      const boundary: Ring = [
        [0, 0],
        [200, 0],
        [200, 100],
        [100, peak],
        [0, 100],
      ];
      const survey = surveyOf({ boundary, points: gridShots(() => 100, 0, 0, 200, 300, 40) });
      const { request } = understandRequest({ access: { frontage: [0] } });
      return describeLot(survey, request).edges.map(({ role }) => role);
    };
    assert.deepEqual(roles(59), ["front", "side", "rear", "rear", "side"]);
    // neither does: the one farthest off is the rear
    assert.deepEqual(roles(61).sort(), ["front", "rear", "side", "side", "side"]);
  });
  test("a line that curves is one line: all of it fronts the street, all of it is a rear", () => {
    // a straight line of 300 ft, and a half circle over it in 24 chords
    const arc = Array.from({ length: 24 }, (_, k): Point => {
      const angle = (Math.PI * k) / 24;
      return [150 + 150 * Math.cos(angle), 150 * Math.sin(angle)];
    });
    const boundary: Ring = [[0, 0], ...arc];
    const inputEdge = boundary.map((_, i) => (i === 0 ? 0 : 1));
    for (const [point, front] of [
      [[150, -5], 0],
      [[150, 155], 1],
    ] as const) {
      const request = { access: { point: [...point] as [number, number] } };
      const points = gridShots(() => 100, 0, 0, 300, 150, 50);
      const survey = { ...surveyOf({ boundary, points, request }), inputEdge };
      const { edges } = describeLot(survey, understandRequest(request).request);
      for (const { number, role } of edges) assert.equal(role, number === front ? "front" : "rear");
    }
  });
  test("the frontage is guessed from street shots", () => {
    const features = [10, 60, 100].map(
      (x): SurveyFeature => ({ kind: "street", at: [x, -12], elevFt: 100, description: "EP", row: 1 }),
    );
    const boundary: Ring = [
      [0, 0],
      [120, 0],
      [120, 200],
      [0, 200],
    ];
    const site = siteOf({ boundary, points: gridShots(() => 100, -20, -20, 140, 220, 20), features });
    assert.equal(site.lot.frontageOrigin, "guessed");
    assert.deepEqual(
      site.lot.edges.map(({ role }) => role),
      ["front", "side", "rear", "side"],
    );
  });
  test("with no frontage known the largest setback holds everywhere", () => {
    const site = flat(
      [
        [0, 0],
        [120, 0],
        [120, 200],
        [0, 200],
      ],
      { setbacksFt: { front: 30, side: 10, rear: 25 }, minBuildableWidthFt: 0 },
    );
    assert.equal(site.lot.frontageOrigin, "unknown");
    near(site.lot.buildable.areaFt2, 60 * 140, 1e-6);
  });
  test("where the lot turns inward the setback line is an arc", () => {
    // L of three 100 ft squares; inside 20 ft: 160 × 60 + 60 × 100 by straight lines, but at the inward corner the
    // line is a quarter circle about the corner instead of a square: it keeps 20² (1 − π/4) more.
    const site = flat(
      [
        [0, 0],
        [200, 0],
        [200, 100],
        [100, 100],
        [100, 200],
        [0, 200],
      ],
      { setbacksFt: { all: 20 }, minBuildableWidthFt: 0 },
    );
    near(site.lot.buildable.areaFt2, 160 * 60 + 60 * 100 + 20 ** 2 * (1 - Math.PI / 4), 0.05);
  });
  test("setbacks that meet leave nothing, and say so", () => {
    const { buildable } = flat(
      [
        [0, 0],
        [60, 0],
        [60, 60],
        [0, 60],
      ],
      { setbacksFt: { all: 31 } },
    ).lot;
    assert.equal(buildable.areaFt2, 0);
    assert.equal(buildable.patches, 0);
    near(buildable.steps.find(({ reason }) => reason === "setback")!.removedFt2, 3600, 1e-9);
  });
});

describe("the waterfall", () => {
  const boundary: Ring = [
    [0, 0],
    [200, 0],
    [200, 200],
    [0, 200],
  ];
  const square = (x: number, y: number, side: number): Ring => [
    [x, y],
    [x + side, y],
    [x + side, y + side],
    [x, y + side],
  ];
  const site = siteOf({
    boundary,
    points: gridShots((_, y) => 100 + 0.1 * y + (y > 150 ? 0.5 * (y - 150) : 0), -10, -10, 210, 210, 10),
    request: { rules: { setbacksFt: { all: 10 }, slopeLimitPct: 30, minBuildableWidthFt: 20 } },
    noBuild: [
      { name: "Sewer easement", kind: "easement", polygons: [[square(20, 20, 30)]] },
      { name: "Oak", kind: "tree", polygons: [[square(40, 40, 20)]] },
      { name: "Creek", kind: "watercourse", polygons: [[square(150, -10, 100)]] },
    ],
  });
  test("names each thief in order and adds up to the lot", () => {
    const { steps } = site.lot.buildable;
    assert.deepEqual(
      steps.map(({ reason }) => reason),
      ["lot", "setback", "easement", "tree", "watercourse", "unsurveyed", "slope", "narrow"],
    );
    const sum = steps.reduce((total, { removedFt2 }) => total + removedFt2, 0) + site.lot.buildable.areaFt2;
    near(sum, 40_000, 1e-6);
    for (let i = 1; i < steps.length; i++)
      near(steps[i - 1]!.remainingFt2 - steps[i]!.removedFt2, steps[i]!.remainingFt2, 1e-6);
  });
  test("takes each piece of ground once", () => {
    near(removed(site, "setback"), 40_000 - 180 ** 2, 1e-6);
    near(removed(site, "easement"), 900, 1e-6);
    near(removed(site, "tree"), 400 - 100, 1e-6); // a quarter of the oak's square lies in the easement
    near(removed(site, "watercourse"), 40 * 80, 1e-6);
    near(removed(site, "unsurveyed"), 0, 1e-6);
    near(removed(site, "slope"), 180 * 40, 1e-6); // 60 % ground begins at y = 150
  });
  test("an easement outside the lot takes nothing", () => {
    const far = siteOf({
      boundary,
      points: gridShots(() => 100, -10, -10, 210, 210, 20),
      noBuild: [{ name: "x", kind: "easement", polygons: [[square(900, 900, 50)]] }],
    });
    near(removed(far, "easement"), 0, 1e-9);
  });
});

describe("ground that is too narrow", () => {
  // Two 80 ft squares joined by a neck 20 ft wide and 40 ft long.
  const dumbbell: Ring = [
    [0, 0],
    [80, 0],
    [80, 30],
    [120, 30],
    [120, 0],
    [200, 0],
    [200, 80],
    [120, 80],
    [120, 50],
    [80, 50],
    [80, 80],
    [0, 80],
  ];
  test("a neck narrower than the minimum width is lost and parts the ground in two", () => {
    const { buildable } = flat(dumbbell, { setbacksFt: { all: 0 }, minBuildableWidthFt: 25 }).lot;
    // each square keeps all but its four corners rounded to radius 12.5
    assert.equal(buildable.patches, 2);
    // a disc of 25 ft at the mouth of a 20 ft neck pokes in by 12.5 − √(12.5² − 10²) = 5 ft; the piece between chord and arc is a circular segment
    const poke = 12.5 ** 2 * Math.asin(10 / 12.5) - 10 * 7.5;
    // eight corners and two mouths, 25π·2 + 2·23 ft of arc, drawn by chords up to 0.02 ft inside: two thirds of 0.02 ft along them
    near(buildable.areaFt2, 2 * (6400 - (4 - Math.PI) * 12.5 ** 2 + poke), 2.7);
  });
  test("a neck as wide as the minimum stays", () => {
    assert.equal(
      flat(dumbbell, { setbacksFt: { all: 0 }, minBuildableWidthFt: 19 }).lot.buildable.patches,
      1,
    );
  });
  test("agrees with an opening by discs on the cells of a half-foot grid", () => {
    const { buildable } = flat(dumbbell, { setbacksFt: { all: 0 }, minBuildableWidthFt: 25 }).lot;
    const grid = { originEastFt: -5, originNorthFt: -5, cellFt: 0.5, cols: 420, rows: 180 };
    const ground = Float32Array.from(scanPolygons(grid, [[dumbbell]]).values, (inside) =>
      inside ? 0 : Infinity,
    );
    const opened = openingLimits({ grid, values: ground }, 25).filter((limit) => limit === 0).length;
    near(opened * 0.25, buildable.areaFt2, 0.005 * buildable.areaFt2);
  });
});

describe("the slope limit", () => {
  test("ground exactly at the limit counts as buildable, ground above does not", () => {
    const at = planeSite({
      gradePct: 30,
      widthFt: 100,
      depthFt: 100,
      request: { rules: { setbacksFt: { all: 0 }, slopeLimitPct: 30, minBuildableWidthFt: 0 } },
    });
    near(at.lot.buildable.areaFt2, 10_000, 1e-6);
    const above = planeSite({
      gradePct: 30.001,
      widthFt: 100,
      depthFt: 100,
      request: { rules: { setbacksFt: { all: 0 }, slopeLimitPct: 30, minBuildableWidthFt: 0 } },
    });
    assert.equal(above.lot.buildable.areaFt2, 0);
  });
  test("the curve meets the answer at the limit asked for, and never falls", () => {
    const site = formulaSite((x, y) => 300 + 0.0015 * ((x - 100) ** 2 + (y - 100) ** 2), {
      spacingFt: 10,
      request: { rules: { slopeLimitPct: 27 } },
    });
    const { bySlopeLimit, areaFt2: answer } = site.lot.buildable;
    near(bySlopeLimit.find(({ limitPct }) => limitPct === 27)!.areaFt2, answer, 1e-9);
    for (let i = 1; i < bySlopeLimit.length; i++)
      assert.ok(bySlopeLimit[i]!.areaFt2 >= bySlopeLimit[i - 1]!.areaFt2);
  });
  test("on a bowl the gentle ground is a disc", () => {
    // z = 0.0015 r² is 0.3 r percent steep: 24 % at r = 80 ft.
    const site = formulaSite((x, y) => 300 + 0.0015 * ((x - 100) ** 2 + (y - 100) ** 2), {
      widthFt: 200,
      depthFt: 200,
      spacingFt: 5,
      request: { rules: { slopeLimitPct: 24, setbacksFt: { all: 0 }, minBuildableWidthFt: 25 } },
    });
    near(site.lot.buildable.areaFt2, Math.PI * 80 ** 2, 0.03 * Math.PI * 80 ** 2);
  });
});

test("mask and polygons tell the same story", () => {
  const { lot } = formulaSite((x, y) => 300 + 12 * Math.sin(x / 30) + 9 * Math.cos(y / 25), {
    spacingFt: 12,
    request: { rules: { setbacksFt: { all: 10 } } },
  });
  const { grid, values } = lot.buildableMask;
  const maskFt2 = values.reduce((sum, v) => sum + v, 0) * grid.cellFt ** 2;
  near(maskFt2, lot.buildable.areaFt2, 0.03 * lot.summary.areaFt2);
  near(areaFt2(lot.buildablePolygons), lot.buildable.areaFt2, 1e-6);
  near(Math.max(...lot.buildablePolygons.map((p) => areaFt2([p]))), lot.buildable.largestPatchFt2, 1e-6);
});

test("where a higher limit frees no ground the curve stays at the exact area, and the share is of the lot", () => {
  // a plane of 15 %, 20 ft from all lines of a square acre: corners rounded by the widest disc that fits are lost
  const { lot } = planeSite({
    gradePct: 15,
    request: { rules: { setbacksFt: { all: 20 }, slopeLimitPct: 22 } },
  });
  const exactFt2 = 168.71 ** 2 - (4 - Math.PI) * 12.5 ** 2;
  // arcs of 25π ft in all, drawn by chords up to 0.02 ft inside them
  near(lot.buildable.areaFt2, exactFt2, 0.02 * 25 * Math.PI);
  for (const { limitPct, areaFt2: freed } of lot.buildable.bySlopeLimit)
    near(freed, limitPct < 15 ? 0 : lot.buildable.areaFt2, limitPct === 20 || limitPct === 15 ? 1 : 1e-9);
  near(lot.buildable.sharePct, (100 * exactFt2) / 208.71 ** 2, 0.01);
});
