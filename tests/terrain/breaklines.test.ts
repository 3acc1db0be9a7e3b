/** Break lines forced into the facets: ridges and swales that no shot hits, crossings, and tangles. */
import fc from "fast-check";
import { assert, describe, test } from "vitest";
import type { Point, Point3, Ring } from "../../analysis/geometry/plane.js";
import { areaFt2 } from "../../analysis/geometry/plane.js";
import { understandRequest } from "../../analysis/request/index.js";
import { buildTerrain, elevationAt, type Terrain } from "../../analysis/terrain/index.js";
import { gridShots, surveyOf } from "../support/sites.js";

const boundary: Ring = [
  [0, 0],
  [200, 0],
  [200, 200],
  [0, 200],
];

/** A gable roof of ground: ridge along the line y = 100 + 0.3 (x − 100), falling 25 % to both sides. */
function roof(x: number, y: number): number {
  return 500 - 0.25 * (Math.abs(y - 100 - 0.3 * (x - 100)) / Math.hypot(1, 0.3));
}

function scatter(
  count: number,
  seed: number,
  height: (x: number, y: number) => number,
  keepOff = 0,
): Point3[] {
  let state = seed;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  const shots: Point3[] = [];
  while (shots.length < count) {
    const x = -30 + 260 * next();
    const y = -30 + 260 * next();
    if (Math.abs(y - 100 - 0.3 * (x - 100)) > keepOff) shots.push([x, y, height(x, y)]);
  }
  return shots;
}

function shape(
  points: Point3[],
  breaklines: Point3[][],
  lot = boundary,
): { terrain: Terrain; codes: string[] } {
  const outcome = buildTerrain(
    surveyOf({ boundary: lot, points, breaklines }),
    understandRequest({}).request,
  );
  if (!outcome.ok) throw new Error(outcome.problems[0]!.message);
  return { terrain: outcome.terrain, codes: outcome.survey.summary.warnings.map(({ code }) => code) };
}

describe("a ridge between the shots", () => {
  const points = scatter(150, 3, roof, 6);
  const ridge: Point3[] = [
    [-60, 100 + 0.3 * -160, 500],
    [260, 100 + 0.3 * 160, 500],
  ];
  const without = shape(points, []).terrain;
  const { terrain, codes } = shape(points, [ridge]);

  test("is cut off without its break line and exact with it", () => {
    let worstWithout = 0;
    for (let x = 5; x < 200; x += 7.3)
      for (let y = 5; y < 200; y += 6.1) {
        assert.closeTo(elevationAt(terrain.tin, x, y), roof(x, y), 1e-6);
        worstWithout = Math.max(worstWithout, Math.abs(elevationAt(without.tin, x, y) - roof(x, y)));
      }
    assert.ok(worstWithout > 1, `only ${worstWithout} ft wrong without`);
  });
  test("makes the mean slope that of the roof", () => {
    assert.closeTo(terrain.summary.meanSlopePct, 25, 1e-6);
    assert.ok(without.summary.meanSlopePct < 24.9);
  });
  test("needs no warning", () => assert.deepEqual(codes, []));
});

describe("lines that need cleaning", () => {
  const plane = (x: number, y: number) => 300 + 0.1 * x + 0.05 * y;
  const on = (x: number, y: number, lift = 0): Point3 => [x, y, plane(x, y) + lift];
  const points = scatter(120, 9, plane);

  test("two lines that cross share a point at their mean height", () => {
    const { terrain, codes } = shape(points, [
      [on(20, 20), on(180, 180)],
      [on(20, 170, 2), on(180, 40, 2)],
    ]);
    assert.deepEqual(codes, ["breakline-crossing"]);
    // y = x meets y = 170 − 13/16 (x − 20) at x = y = 102.7586
    const at = (170 + (13 / 16) * 20) / (1 + 13 / 16);
    assert.closeTo(elevationAt(terrain.tin, at, at), plane(at, at) + 1, 1e-6);
  });
  test("a line through a shot is led through it", () => {
    const { terrain, codes } = shape([...points, on(60, 50, 1)], [[on(50, 50), on(70, 50)]]);
    assert.deepEqual(codes, ["breakline-bent"]);
    assert.closeTo(elevationAt(terrain.tin, 60, 50), plane(60, 50) + 1, 1e-9);
    assert.closeTo(elevationAt(terrain.tin, 55, 50), plane(55, 50) + 0.5, 1e-9);
  });
  test("a line point on a shot keeps the shot's height and says that they differ", () => {
    const { terrain, codes } = shape([...points, on(80, 80)], [[on(80, 80, 3), on(90, 95)]]);
    assert.deepEqual(codes, ["breakline-height-differs"]);
    assert.closeTo(elevationAt(terrain.tin, 80, 80), plane(80, 80), 1e-9);
  });
  test("a line ending on another line joins it", () => {
    const { codes } = shape(points, [
      [on(20, 100), on(180, 100)],
      [on(100, 100), on(100, 150)],
    ]);
    assert.deepEqual(codes, ["breakline-bent"]);
  });
  test("the same line sent twice, doubled points and a line of one point change nothing", () => {
    const line = [on(30, 40), on(90, 120), on(90, 120), on(150, 130)];
    const once = shape(points, [line]);
    const twice = shape(points, [line, [...line].reverse(), [on(10, 10)]]);
    assert.deepEqual(twice.codes, []);
    assert.closeTo(twice.terrain.summary.surfaceAreaFt2, once.terrain.summary.surfaceAreaFt2, 1e-6);
  });
});

test("any tangle of lines is taken without loss of ground", () => {
  const coordinate = fc.integer({ min: 0, max: 40 }).map((n) => 5 * n);
  const pointArb = fc.tuple(coordinate, coordinate).map(([x, y]): Point => [x, y]);
  fc.assert(
    fc.property(
      fc.array(fc.array(pointArb, { minLength: 2, maxLength: 5 }), { minLength: 1, maxLength: 8 }),
      fc.integer({ min: 1, max: 1e6 }),
      (lines, seed) => {
        const height = (x: number, y: number) => 300 + 0.2 * x + 10 * Math.sin(y / 40);
        const points = scatter(80, seed, height).concat(gridShots(height, -30, -30, 230, 230, 26));
        const { terrain, codes } = shape(
          points,
          lines.map((line) => line.map(([x, y]): Point3 => [x, y, height(x, y)])),
        );
        assert.notInclude(codes, "breakline-lost");
        assert.closeTo(terrain.summary.planAreaFt2, 40_000, 1e-3);
        assert.closeTo(areaFt2(terrain.surveyed), 40_000, 1e-3);
        for (const rise of terrain.tin.gradEast) assert.ok(Number.isFinite(rise));
      },
    ),
    { numRuns: 80, seed: 21 },
  );
});
