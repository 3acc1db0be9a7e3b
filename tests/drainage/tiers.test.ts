import { assert, describe, test } from "vitest";
import type { Access } from "../../analysis/access/index.js";
import { planDrainage, routeLotWater } from "../../analysis/drainage/index.js";
import type { Ring } from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/index.js";
import type { RequestInput } from "../../analysis/request/index.js";
import type { SchemeDesign } from "../../analysis/schemes/scheme.js";
import { gridShots, planeSite, siteOf } from "../support/sites.js";

const NO_DRIVE: Access = {
  reachable: false,
  gentlestGradePct: null,
  pinchAt: null,
  because: "not asked",
  helps: [],
  tried: [],
};

/** A house 40 × 30 ft, its downhill wall at a distance north of the south line, on ground nobody graded. */
function basementHouse(south: number, floorFt: number, groundFt: number): SchemeDesign {
  const footprint: Ring = [
    [85, south],
    [125, south],
    [125, south + 30],
    [85, south + 30],
  ];
  const level = { ring: footprint, rotationDeg: 90 };
  // the drains read only these fields of a design
  const read = {
    kind: "daylight-basement",
    footprint,
    outline: footprint,
    downhill: [0, -1],
    walls: [],
    levels: [
      { ...level, name: "lower", role: "basement", elevationFt: floorFt - 0.9, floorElevationFt: floorFt },
      { ...level, name: "main", role: "house", elevationFt: groundFt, floorElevationFt: floorFt + 10 },
    ],
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

/** Ground of `planeSite` (falling south, 500 ft in the middle) at a distance north of the south line. */
const groundAt = (gradePct: number, north: number) => 500 + (gradePct / 100) * (north - 208.71 / 2);

function drained(site: Site, design: SchemeDesign) {
  return planDrainage(site, routeLotWater(site), design, NO_DRIVE);
}

describe("the three tiers of a basement", () => {
  for (const gradePct of [15, 20, 30])
    test(`on a ${gradePct} % plane each pipe runs out where the ground has fallen below it`, () => {
      // closed form: run = (ground at the wall − invert) ÷ (fall of the ground − fall of the pipe)
      const site = planeSite({ gradePct });
      const wall = groundAt(gradePct, 120);
      const floorFt = wall - 3;
      const { tiers } = drained(site, basementHouse(120, floorFt, groundAt(gradePct, 150)));
      assert.deepEqual(
        tiers.map(({ tier }) => tier),
        ["under-slab", "wall", "roof-and-surface"],
      );
      for (const { tier, below } of [
        { tier: "under-slab", below: 1.3 },
        { tier: "wall", below: 1.5 },
      ]) {
        const found = tiers.find((t) => t.tier === tier)!;
        assert.closeTo(found.invertFt, floorFt - below, 1e-9);
        assert.isTrue(found.gravity);
        const run = (3 + below) / (gradePct / 100 - 0.01);
        // the run is told by cells of 2 ft, from their middles
        assert.closeTo(found.runFt, run, 3.5);
        assert.isAtMost(found.outletFt!, found.invertFt - 0.01 * found.runFt + 1e-3);
        // straight down the hill
        const [from, to] = [found.route[0]!, found.route.at(-1)!];
        assert.closeTo(to[0], from[0], 2.1);
        assert.isBelow(to[1], from[1]);
      }
    });

  test("a deep basement on nearly flat ground has no way out: pumps, with their risk in words", () => {
    const site = planeSite({ gradePct: 2 });
    const { tiers } = drained(site, basementHouse(120, groundAt(2, 120) - 8, groundAt(2, 150)));
    for (const tier of tiers.slice(0, 2)) {
      assert.isFalse(tier.gravity);
      assert.isNull(tier.outletFt);
      assert.equal(tier.route.length, 0);
      assert.include(tier.words, "pump");
      assert.include(tier.words, "alarm");
    }
  });

  test("where only ground near the lot line is low enough, the outlet is told to lie there", () => {
    // the pipe must run (3 + 1.3) ÷ (0.20 − 0.01) = 22.6 ft of the 28 ft to the line: 5.4 ft short of it
    const site = planeSite({ gradePct: 20 });
    const { tiers } = drained(site, basementHouse(28, groundAt(20, 28) - 3, groundAt(20, 58)));
    const slab = tiers[0]!;
    assert.isTrue(slab.gravity);
    assert.closeTo(slab.outletToLineFt!, 5.4, 3);
    assert.include(slab.words, "civil engineer");
  });

  test("on steep ground the pipe runs on to 10 ft from the house, where the strip that falls away from it ends (IRC R401.3)", () => {
    // the closed form asks (0.7 + 1.3) ÷ (0.40 − 0.01) = 5.1 ft only
    const site = planeSite({ gradePct: 40 });
    const { tiers } = drained(site, basementHouse(120, groundAt(40, 120) - 0.7, groundAt(40, 150)));
    for (const { tier, route } of tiers) {
      const [east, north] = route.at(-1)!;
      const away = Math.hypot(Math.max(85 - east, 0, east - 125), Math.max(120 - north, 0, north - 150));
      // along cells of 2 ft, told by their middles
      assert.isAtLeast(away, 8, tier);
    }
  });

  test("a steeper least fall asks for a longer run", () => {
    const run = (minPipeSlopePct: number) => {
      const site = planeSite({ gradePct: 20, request: { rules: { drainage: { minPipeSlopePct } } } });
      return drained(site, basementHouse(120, groundAt(20, 120) - 5, groundAt(20, 150))).tiers[0]!.runFt;
    };
    assert.isAbove(run(8), run(1) + 10);
  });
});

test("roof and drive raise the lot's peak by what their runoff shares exceed the ground's", () => {
  const site = planeSite({
    gradePct: 20,
    request: {
      soil: { kind: "clay" },
      rules: { rainfall: { durationMin: 5, inPerHr10yr: 4, inPerHr100yr: 6 } },
    },
  });
  const plan = drained(site, basementHouse(120, 490, 500));
  // clay, over 10 % steep: C = 0.60 (ASCE rural table, pasture, hilly, tight clay); roof 1,200 ft² at 0.95; k = 1.008
  assert.closeTo(plan.lotAfterCfs - plan.lotBeforeCfs, (1.008 * 4 * 1_200 * (0.95 - 0.6)) / 43_560, 1e-9);
  assert.closeTo(plan.lotBeforeCfs, (1.008 * 4 * 0.6 * 208.71 ** 2) / 43_560, 1e-6);
  assert.equal(plan.imperviousFt2, 1_200);
  // a garage that stands apart has a roof too
  const house = basementHouse(120, 490, 500);
  const corners = [
    [10, 10],
    [32, 10],
    [32, 32],
    [10, 32],
  ] as const;
  const level = { name: "garage", role: "garage", ring: corners, rotationDeg: 0 } as const;
  const garage = { ...level, elevationFt: 480, floorElevationFt: 480 };
  const apart = drained(site, { ...house, garage: "detached", levels: [...house.levels, garage] });
  assert.equal(apart.imperviousFt2, 1_200 + 22 * 22);
});

describe("the way water takes when an inlet is blocked", () => {
  const side = 208;
  const boundary: Ring = [
    [0, 0],
    [side, 0],
    [side, side],
    [0, side],
  ];
  const shotFrom = (south: number) =>
    gridShots((_, y) => 500 + 0.2 * y, -20, south, side + 20, side + 20, 10);
  const overflow = (south: number, request: RequestInput = {}) =>
    drained(siteOf({ boundary, points: shotFrom(south), request }), basementHouse(120, 520, 530)).overflow;

  test("ends over the line at the foot of the plane, and says whose ground that is", () => {
    const neighbor = overflow(-20)!;
    assert.equal(neighbor.edge, 0);
    assert.equal(neighbor.toward, "neighbor");
    const [x, y] = neighbor.line.at(-1)!;
    assert.isTrue(y < 0, `${x}, ${y}`);
    assert.closeTo(x, 105, 22);
    assert.equal(overflow(-20, { access: { frontage: [0] } })!.toward, "street");
    // ground surveyed to the line and no farther
    assert.equal(overflow(0)!.edge, 0);
  });
  test("is not known where the survey ends on the lot", () => {
    assert.isNull(overflow(60));
  });
});
