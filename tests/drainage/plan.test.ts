/** What a plan of the water is made of, each part against a closed form or an arithmetic by hand. */
import { assert, describe, test } from "vitest";
import type { Access } from "../../analysis/access/index.js";
import { crossingsOf } from "../../analysis/drainage/crossings.js";
import { concentrationMin, groundC } from "../../analysis/drainage/hydrology.js";
import { planDrainage, routeLotWater } from "../../analysis/drainage/index.js";
import type { Ring } from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/index.js";
import { inUsUnits } from "../../analysis/measure.js";
import type { SchemeDesign } from "../../analysis/schemes/scheme.js";
import { formulaSite, planeSite } from "../support/sites.js";

const NO_DRIVE = { reachable: false } as Access;

/** A level house on ground nobody graded, falling south; its corners from (x, south) to (x + 40, south + 30). */
function levelHouse(x: number, south: number, groundFt: number): SchemeDesign {
  const footprint: Ring = [
    [x, south],
    [x + 40, south],
    [x + 40, south + 30],
    [x, south + 30],
  ];
  const level = { ring: footprint, rotationDeg: 90, name: "main", role: "house" };
  const read = {
    kind: "level-pad",
    footprint,
    outline: footprint,
    downhill: [0, -1],
    walls: [],
    garage: "none",
    levels: [{ ...level, elevationFt: groundFt, floorElevationFt: groundFt + 0.67 }],
    graded: {
      cut: [],
      fill: [],
      depth: {
        grid: { originEastFt: 0, originNorthFt: 0, cellFt: 1, cols: 0, rows: 0 },
        values: new Float32Array(0),
      },
    },
  };
  return read as unknown as SchemeDesign;
}

const planned = (site: Site, design: SchemeDesign) =>
  planDrainage(site, routeLotWater(site), design, NO_DRIVE);

test("300 ft at 10 %: a hundred of them sheet flow over grass, the rest by Kirpich", () => {
  // 60·0.007·(0.15·100)^0.8 ÷ (3.5^0.5·0.1^0.4) = 4.921 min, and 0.0078·200^0.77·0.1^−0.385 = 1.119 min
  assert.closeTo(concentrationMin(300, 30), 4.921 + 1.119, 0.002);
});

test("runoff shares of pasture by soil and slope, hilly from 10 % on (ASCE rural table; flat and rolling from memory)", () => {
  const row = (pct: number) =>
    (["sand", "common-earth", "clay", "rock"] as const).map((kind) => groundC(kind, pct));
  assert.deepEqual(row(4.9), [0.1, 0.3, 0.4, 0.4]);
  assert.deepEqual(row(5), [0.16, 0.36, 0.55, 0.55]);
  assert.deepEqual(row(9.9), row(5));
  assert.deepEqual(row(10), [0.22, 0.42, 0.6, 0.6]);
});

describe("the ditch above a pad on a plane of 20 %", () => {
  const site = planeSite({ gradePct: 20 });
  const plan = planned(site, levelHouse(85, 90, 500));
  test("runs along the uphill edge and down both sides", () => {
    assert.closeTo(plan.swale!.lengthFt, 30 + 40 + 30, 1e-9);
    assert.deepEqual(plan.swale!.line.length, 4);
  });
  test("each side carries half the 100-year water at the slope of the ground", () => {
    assert.closeTo(plan.swale!.steepestPct, 20, 1e-6);
    // V-shaped, 3:1: A = 3y², R = 3y ÷ 2√10; y by bisection of Manning's formula, n 0.03
    const cfs = plan.peak100Cfs / 2;
    const flow = (y: number) =>
      (1.486 / 0.03) * ((3 * y) / (2 * Math.sqrt(10))) ** (2 / 3) * Math.sqrt(0.2) * 3 * y * y;
    let [low, high] = [0, 3];
    for (let k = 0; k < 60; k++)
      [low, high] = flow((low + high) / 2) < cfs ? [(low + high) / 2, high] : [low, (low + high) / 2];
    assert.closeTo(plan.swale!.fastestFtPerS, cfs / (3 * low * low), 1e-6);
  });
});

test("an interceptor is drawn where water runs more than 40 ft towards the pad, and not where less", () => {
  // a ridge along y = 150: nothing beyond it drains south
  const site = formulaSite((_, y) => 500 - 0.2 * Math.abs(y - 150), { widthFt: 200, depthFt: 200 });
  const above = (pathFt: number) => planned(site, levelHouse(80, 150 - 30 - pathFt, 490));
  const near = above(30);
  assert.isFalse(near.lowerBound);
  assert.isAbove(near.catchmentFt2, 0);
  assert.isNull(near.swale);
  assert.isNotNull(above(60).swale);
});

test("a line of gathered water begins where an eighth of an acre comes together", () => {
  const site = formulaSite((x, y) => 500 + 0.1 * y + 0.2 * Math.abs(x - 100), { widthFt: 200, depthFt: 200 });
  const { flow, streams } = routeLotWater(site);
  const { grid, dInfinityFt2, receiver } = flow;
  assert.isNotEmpty(streams);
  for (const { line } of streams) {
    const [x, y] = line[0]!;
    const col = Math.floor((x - grid.originEastFt) / grid.cellFt);
    const head = Math.floor((y - grid.originNorthFt) / grid.cellFt) * grid.cols + col;
    assert.isAtLeast(dInfinityFt2[head]!, 43_560 / 8);
    receiver.forEach((to, cell) => {
      if (to === head) assert.isBelow(dInfinityFt2[cell]!, 43_560 / 8);
    });
  }
});

describe("a pipe under a drive", () => {
  const site = formulaSite((x, y) => 500 + 0.1 * y + 0.2 * Math.abs(x - 100), { widthFt: 200, depthFt: 200 });
  const water = routeLotWater(site);
  const drive = (line: readonly (readonly [number, number, number])[], fillFt: number) => {
    const profile = line.map((_, i) => ({ stationFt: 8 * i, groundFt: 510, gradeFt: 510 + fillFt }));
    return { reachable: true, driveway: { line, profile, widthFt: 12 } } as unknown as Access;
  };
  const across = Array.from({ length: 21 }, (_, i) => [20 + 8 * i, 60, 510] as const);
  test("is as long as the lane, 3 ft past each edge, and the slopes of its fill", () => {
    const lengthOf = (fillFt: number) => crossingsOf(site, water, drive(across, fillFt), 0.4)[0]!.lengthFt;
    assert.closeTo(lengthOf(0), 12 + 2 * 3, 1e-9);
    // fill 5 ft high at 2:1
    assert.closeTo(lengthOf(5), 12 + 2 * (3 + 5 * 2), 1e-9);
  });
  test("is shared by crossings within 20 ft, not by those farther apart", () => {
    const twice = (apartFt: number) => [
      [80, 60, 510] as const,
      [120, 60, 510] as const,
      [120, 60 + apartFt, 510] as const,
      [80, 60 + apartFt, 510] as const,
    ];
    assert.equal(crossingsOf(site, water, drive(twice(10), 0), 0.4).length, 1);
    assert.equal(crossingsOf(site, water, drive(twice(40), 0), 0.4).length, 2);
  });
});

test("the strip round the house is told where it is narrower than 10 ft (IRC R401.3)", () => {
  const fall = (apronFt: { uphill: number; side: number; downhill: number }) =>
    planned(planeSite({ gradePct: 10, request: { rules: { apronFt } } }), levelHouse(85, 90, 500))
      .fallAwayFromHouse;
  assert.isTrue(fall({ uphill: 10, side: 10, downhill: 4 }).ok);
  const narrow = fall({ uphill: 10, side: 9, downhill: 10 });
  assert.isFalse(narrow.ok);
  assert.match(inUsUnits(narrow.because), /\(sides 9 ft\)/);
});

describe("roof and surface water on a plane of 2 %", () => {
  // the pad lies at the ground of its downhill wall
  const groundAt = (north: number) => 500 + 0.02 * (north - 208.71 / 2);
  const tier = (south: number) =>
    planned(planeSite({ gradePct: 2 }), levelHouse(85, south, groundAt(south))).tiers[0]!;
  test("runs out through a pipe where there is room for it", () => {
    // 1 ft below the pad, at 1 %: 1 ÷ (0.02 − 0.01) = 100 ft
    assert.closeTo(tier(130).runFt, 100, 3.5);
    assert.isTrue(tier(130).gravity);
  });
  test("else over the ground in a swale", () => {
    // 6 in below the pad, at 0.5 %: 0.5 ÷ (0.02 − 0.005) = 33 ft
    const swale = tier(70);
    assert.isTrue(swale.gravity);
    assert.closeTo(swale.runFt, 33.3, 3.5);
    assert.include(swale.words, "swale over the ground");
  });
});

test("no pipe comes out on ground that is dug or filled", () => {
  const site = planeSite({ gradePct: 10 });
  const ground = (north: number) => 500 + 0.1 * (north - 208.71 / 2);
  const design = levelHouse(85, 120, ground(120));
  const { grid } = site.terrain.elevation;
  // everything from 50 ft below the house upward is dug by a foot
  const values = new Float32Array(grid.cols * grid.rows).fill(Number.NaN);
  for (let i = 0; i < values.length; i++)
    if (grid.originNorthFt + (Math.floor(i / grid.cols) + 0.5) * grid.cellFt > 70) values[i] = 1;
  const run = (graded: SchemeDesign["graded"]) => planned(site, { ...design, graded }).tiers[0]!.runFt;
  // 1 ft below the pad at 1 %: 1 ÷ (0.10 − 0.01) = 11.1 ft; beyond what is dug: 50 ft
  assert.closeTo(run(design.graded), 11.1, 3.5);
  assert.closeTo(run({ cut: [], fill: [], depth: { grid, values } }), 50, 3.5);
});
