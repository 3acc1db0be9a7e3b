/**
 * Tall walls set back in tiers. Spacing rules: common practice, no source. Closed forms on a plane of slope s derived here:
 * n tiers of height t set back by 2t hold h₀ at the edge and 2ts more for each of the n − 1 setbacks, n·t = h₀ + 2ts(n − 1).
 */
import { describe, expect, test } from "vitest";
import {
  gradeSurface,
  type Pad,
  padWalls,
  prepareFootprint,
  slopeTerracesFt,
  terraceTallWalls,
  tieredWalls,
} from "../../analysis/earthwork/index.js";
import { spacingAskedFt } from "../../analysis/earthwork/terraces.js";
import type { Point, Ring } from "../../analysis/geometry/plane.js";
import { planeSite } from "../support/sites.js";

const DOWNHILL: Point = [0, -1];
/** 60 ft along the contour and 40 ft deep about (150, 150); the ground rises north and stands at 500 ft in the middle. */
const RING: Ring = [
  [120, 130],
  [180, 130],
  [180, 170],
  [120, 170],
];
const tin = (gradePct: number) =>
  planeSite({ gradePct, widthFt: 300, depthFt: 300, spacingFt: 20 }).terrain.tin;
/** Walls uphill and downhill, nothing at the ends. */
const pad = (levelFt: number): Pad => ({
  ring: RING,
  levelFt,
  sides: ["wall", "vertical", "wall", "vertical"],
});
const anywhere = {
  tallFromFt: 6,
  mostFt: 6,
  cutBatter: 0,
  fillBatter: 0,
  hasRoom: () => true,
};

test.each([
  // lower, upper, least clear spacing: the lower's height, or twice the upper's
  [4, 4, 8],
  [6, 2, 6],
  [6, 3, 6],
  [6, 4, 8],
  [3, 5, 10],
])("a wall of %d ft under one of %d ft: %d ft apart to stand for themselves", (lower, upper, apart) => {
  expect(spacingAskedFt(lower, upper)).toBe(apart);
});

// IBC Appendix J109 (figures as in Topeka Municipal Code 17.05.200): terraces at least 6 ft wide at most 30 ft apart in height
// on slopes steeper than 3:1; where one is enough it lies at mid-height; from 60 to 120 ft the one at mid-height is 12 ft wide.
test.each([
  [30, 2, []],
  [31, 2, [6]],
  [60, 2, [6]],
  [61, 2, [6, 12]],
  [90, 1.5, [6, 12]],
  [120, 2, [6, 12, 6]],
  [100, 3, []],
])("a graded slope %d ft high at %f:1 asks for terraces %j", (heightFt, batter, widths) => {
  expect(slopeTerracesFt(heightFt, batter)).toEqual(widths);
});

describe("on a plane", () => {
  test.each([
    // slope %, edge height, limit: tiers of height, so far apart
    [20, 8, 6, 2, 8 / (2 - 0.4)],
    [25, 8, 6, 2, 8 / (2 - 0.5)],
    [25, 8, 5, 3, 8 / (3 - 1)],
    [30, 10, 6, 3, 10 / (3 - 1.2)],
    [40, 8, 6, 3, 8 / (3 - 1.6)],
  ])(
    "slope %d percent, cut %d ft, walls up to %d ft: %d tiers of %f ft",
    (gradePct, heldFt, mostFt, of, tierFt) => {
      const ground = tin(gradePct);
      // ground at the uphill edge stands heldFt over the pad, the downhill edge is left out of it
      const levelFt = 500 + (gradePct / 100) * 20 - heldFt;
      const made = terraceTallWalls(
        ground,
        [{ ...pad(levelFt), sides: ["vertical", "vertical", "wall", "vertical"] }],
        {
          ...anywhere,
          mostFt,
          tallFromFt: mostFt,
        },
      );
      if (!made || typeof made === "string") throw new Error(`no terraces: ${made}`);
      expect(made.pads).toHaveLength(of);
      expect(made.tiers).toHaveLength(of);
      for (const { spacingFt } of made.tiers) expect(spacingFt).toBeCloseTo(2 * tierFt, 3);
      const walls = tieredWalls(padWalls(ground, made.pads, DOWNHILL), made.tiers, DOWNHILL).filter(
        (w) => w.tier,
      );
      expect(walls.map((w) => w.tier!.nth).sort()).toEqual(Array.from({ length: of }, (_, i) => i + 1));
      for (const wall of walls) {
        expect(wall.where).toBe("uphill");
        expect(wall.retainedFt).toBeCloseTo(tierFt, 3);
        expect(wall.lengthFt).toBeCloseTo(60, 6);
        expect(wall.faceFt2).toBeCloseTo(60 * tierFt, 1);
        // only the highest has ground that goes on rising behind it
        expect(wall.surcharge).toBe(wall.tier!.nth === of);
      }
      // each terrace k: 60 ft × 2t deep, ground over it on average h₀ + s(2k − 1)t − kt
      const s = gradePct / 100;
      const more = Array.from({ length: of - 1 }, (_, i) => i + 1).reduce(
        (sum, k) => sum + 60 * 2 * tierFt * (heldFt + s * (2 * k - 1) * tierFt - k * tierFt),
        0,
      );
      const terraces = made.pads
        .slice(1)
        .reduce((sum, { ring, levelFt: z }) => sum + prepareFootprint(ground, ring).evaluate(z).cutFt3, 0);
      expect(terraces / more).toBeCloseTo(1, 4);
      // pads and terraces together are graded without overlap
      const all = gradeSurface(ground, { pads: made.pads, cutBatter: 2, fillBatter: 2 });
      const alone = gradeSurface(ground, {
        pads: [{ ...pad(levelFt), sides: "vertical" }],
        cutBatter: 2,
        fillBatter: 2,
      });
      expect((all.cutFt3 - alone.cutFt3) / more).toBeCloseTo(1, 4);
    },
  );

  test("fill steps down in the same tiers, the lowest farthest out", () => {
    const ground = tin(25);
    // 8 ft over the ground at the downhill edge: tiers of 8 / (2 − 0.5) = 5.333 ft
    const made = terraceTallWalls(
      ground,
      [{ ...pad(500 - 5 + 8), sides: ["wall", "vertical", "vertical", "vertical"] }],
      anywhere,
    );
    if (!made || typeof made === "string") throw new Error(`no terraces: ${made}`);
    const walls = tieredWalls(padWalls(ground, made.pads, DOWNHILL), made.tiers, DOWNHILL).filter(
      (w) => w.tier,
    );
    expect(walls).toHaveLength(2);
    for (const wall of walls) {
      expect(wall.where).toBe("downhill");
      expect(wall.retainedFt).toBeCloseTo(16 / 3, 3);
    }
    const lowest = walls.find((w) => w.tier!.nth === 1)!;
    expect(lowest.line[0]![1]).toBeCloseTo(130 - 32 / 3, 2);
  });

  test("walls at the limit stay as they are", () => {
    expect(terraceTallWalls(tin(25), [pad(500)], anywhere)).toBeNull();
  });

  test("no tiers where they would not come out lower: from 1 in 2 on the ground climbs as fast as they step back", () => {
    expect(terraceTallWalls(tin(50), [pad(500 - 3)], anywhere)).toBe("too-steep");
  });

  test("no tiers where they have no room", () => {
    const made = terraceTallWalls(tin(25), [pad(500 - 3)], {
      ...anywhere,
      hasRoom: (ring) => Math.max(...ring.map(([, y]) => y)) < 175,
    });
    expect(made).toBe("no-room");
  });

  test("round a corner that both walls reach the terrace runs round it, and no wall stays taller than the limit", () => {
    // turned by 45°: the two upper sides hold from 0 to s·(60 + 40)/√2 ft
    const turn = ([x, y]: Point): Point => [
      150 + ((x - 150) * Math.SQRT1_2 - (y - 150) * Math.SQRT1_2),
      150 + ((x - 150) * Math.SQRT1_2 + (y - 150) * Math.SQRT1_2),
    ];
    const ring = RING.map(turn);
    const ground = tin(15);
    const levelFt = 500 - 0.15 * 50 * Math.SQRT1_2;
    const made = terraceTallWalls(ground, [{ ring, levelFt, sides: "wall" }], anywhere);
    if (!made || typeof made === "string") throw new Error(`no terraces: ${made}`);
    const walls = padWalls(ground, made.pads, DOWNHILL);
    const before = padWalls(ground, [{ ring, levelFt, sides: "wall" }], DOWNHILL);
    expect(Math.max(...before.map((w) => w.retainedFt))).toBeCloseTo(0.15 * 100 * Math.SQRT1_2, 2);
    expect(Math.max(...walls.map((w) => w.retainedFt))).toBeLessThanOrEqual(6.001);
    // the highest tier stands on both upper sides
    expect(new Set(made.tiers.filter((t) => t.nth === t.of).map((t) => `${t.outward}`)).size).toBe(2);
  });
});
