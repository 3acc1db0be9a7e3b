/** What must hold for any pad on any ground. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { gradeSurface, padCutFill, prepareFootprint } from "../../analysis/earthwork/index.js";
import type { Point, Point3, Ring } from "../../analysis/geometry/plane.js";
import { signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { siteOf } from "../support/sites.js";

/** Scattered shots over 200 × 200 ft and a rectangle well inside them. */
const scene = fc.record({
  shots: fc.array(
    fc.tuple(
      fc.integer({ min: 0, max: 200 }),
      fc.integer({ min: 0, max: 200 }),
      fc.integer({ min: 0, max: 400 }),
    ),
    {
      minLength: 60,
      maxLength: 90,
    },
  ),
  turn: fc.integer({ min: 0, max: 179 }),
  half: fc.tuple(fc.integer({ min: 5, max: 25 }), fc.integer({ min: 5, max: 25 })),
  level: fc.integer({ min: 490, max: 540 }),
});

const FRAME: Point3[] = [
  [-1, -1, 500],
  [201, -1.5, 512],
  [202, 201, 530],
  [-2, 202, 520],
];

function groundOf(shots: readonly (readonly number[])[], dx = 0, dy = 0, flip = false) {
  const seen = new Set<string>();
  const points = shots
    // a little off the whole numbers: no four shots on a circle, one triangulation alone is right
    .map(
      ([x, y, z]): Point3 => [
        x! + 0.3 * Math.sin(7 * x! + y!),
        y! + 0.3 * Math.cos(x! - 5 * y!),
        500 + z! / 10 + 0.05 * y!,
      ],
    )
    .filter(
      ([x, y]) =>
        !seen.has(`${Math.round(x)} ${Math.round(y)}`) && seen.add(`${Math.round(x)} ${Math.round(y)}`),
    );
  const all = [...FRAME, ...points].map(([x, y, z]): Point3 => [x + dx, y + dy, flip ? 1000 - z : z]);
  const boundary: Ring = [
    [20 + dx, 20 + dy],
    [180 + dx, 20 + dy],
    [180 + dx, 180 + dy],
    [20 + dx, 180 + dy],
  ];
  return siteOf({ boundary, points: all }).terrain.tin;
}

function rectangle(turn: number, [a, b]: readonly [number, number], dx = 0, dy = 0): Ring {
  const cos = Math.cos((turn * Math.PI) / 180);
  const sin = Math.sin((turn * Math.PI) / 180);
  return (
    [
      [-a, -b],
      [a, -b],
      [a, b],
      [-a, b],
    ] as const
  ).map(([x, y]): Point => [100 + dx + cos * x - sin * y, 100 + dy + sin * x + cos * y]);
}

const runs = { numRuns: 60, seed: 7 };

describe("any pad on any ground", () => {
  test("raising it by d takes area · d from cut less fill", () => {
    fc.assert(
      fc.property(scene, fc.integer({ min: 1, max: 80 }), ({ shots, turn, half, level }, tenths) => {
        const footprint = prepareFootprint(groundOf(shots), rectangle(turn, half));
        const d = tenths / 10;
        const low = footprint.evaluate(level);
        const high = footprint.evaluate(level + d);
        expect(low.cutFt3 - low.fillFt3 - (high.cutFt3 - high.fillFt3)).toBeCloseTo(
          footprint.coveredFt2 * d,
          6,
        );
        expect(high.cutFt3).toBeLessThanOrEqual(low.cutFt3 + 1e-9);
      }),
      runs,
    );
  });

  test("two halves are the whole", () => {
    fc.assert(
      fc.property(scene, ({ shots, turn, half: [a, b], level }) => {
        const tin = groundOf(shots);
        const [p, q, r, s] = rectangle(turn, [a, b]) as [Point, Point, Point, Point];
        const mid = (u: Point, v: Point): Point => [(u[0] + v[0]) / 2, (u[1] + v[1]) / 2];
        const whole = padCutFill(tin, [p, q, r, s], level);
        const west = padCutFill(tin, [p, mid(p, q), mid(r, s), s], level);
        const east = padCutFill(tin, [mid(p, q), q, r, mid(r, s)], level);
        expect(west.cutFt3 + east.cutFt3).toBeCloseTo(whole.cutFt3, 6);
        expect(west.fillFt3 + east.fillFt3).toBeCloseTo(whole.fillFt3, 6);
        expect(west.cutFt2 + east.cutFt2).toBeCloseTo(whole.cutFt2, 6);
      }),
      runs,
    );
  });

  test("turning the ground upside down swaps cut and fill, banks included", () => {
    fc.assert(
      fc.property(scene, ({ shots, turn, half, level }) => {
        const ring = rectangle(turn, half);
        const up = gradeSurface(groundOf(shots), {
          pads: [{ ring, levelFt: level }],
          cutBatter: 1,
          fillBatter: 1.5,
        });
        const down = gradeSurface(groundOf(shots, 0, 0, true), {
          pads: [{ ring, levelFt: 1000 - level }],
          cutBatter: 1.5,
          fillBatter: 1,
        });
        expect(down.fillFt3).toBeCloseTo(up.cutFt3, 5);
        expect(down.cutFt3).toBeCloseTo(up.fillFt3, 5);
        expect(down.cutReachFt).toBeCloseTo(up.fillReachFt, 6);
      }),
      runs,
    );
  });

  test("state-plane coordinates change nothing beyond a millionth", () => {
    fc.assert(
      fc.property(scene, ({ shots, turn, half, level }) => {
        const [dx, dy] = [6_123_456, 2_345_678];
        const near = gradeSurface(groundOf(shots), {
          pads: [{ ring: rectangle(turn, half), levelFt: level }],
          cutBatter: 1,
          fillBatter: 1,
        });
        const far = gradeSurface(groundOf(shots, dx, dy), {
          pads: [{ ring: rectangle(turn, half, dx, dy), levelFt: level }],
          cutBatter: 1,
          fillBatter: 1,
        });
        expect(Math.abs(far.cutFt3 - near.cutFt3)).toBeLessThan(1e-6 * near.cutFt3 + 1e-3);
        expect(Math.abs(far.fillFt3 - near.fillFt3)).toBeLessThan(1e-6 * near.fillFt3 + 1e-3);
      }),
      runs,
    );
  });

  test("where the ring starts and which way it runs do not matter", () => {
    fc.assert(
      fc.property(scene, fc.integer({ min: 1, max: 3 }), ({ shots, turn, half, level }, start) => {
        const tin = groundOf(shots);
        const ring = rectangle(turn, half);
        const other = [...ring.slice(start), ...ring.slice(0, start)].reverse();
        expect(signedAreaFt2(other)).toBeLessThan(0);
        const one = gradeSurface(tin, { pads: [{ ring, levelFt: level }], cutBatter: 2, fillBatter: 1 });
        const two = gradeSurface(tin, {
          pads: [{ ring: other, levelFt: level }],
          cutBatter: 2,
          fillBatter: 1,
        });
        expect(two.cutFt3).toBeCloseTo(one.cutFt3, 5);
        expect(two.fillFt3).toBeCloseTo(one.fillFt3, 5);
      }),
      runs,
    );
  });

  test("flatter banks move more ground, and a lot line never adds any", () => {
    fc.assert(
      fc.property(scene, ({ shots, turn, half, level }) => {
        const tin = groundOf(shots);
        const pads = [{ ring: rectangle(turn, half), levelFt: level }];
        const steep = gradeSurface(tin, { pads, cutBatter: 0.5, fillBatter: 0.5 });
        const flat = gradeSurface(tin, { pads, cutBatter: 1.5, fillBatter: 1.5 });
        const limited = gradeSurface(tin, {
          pads,
          cutBatter: 1.5,
          fillBatter: 1.5,
          limit: rectangle(10, [45, 40]),
        });
        expect(flat.cutFt3).toBeGreaterThanOrEqual(steep.cutFt3 - 1e-6);
        expect(flat.fillFt3).toBeGreaterThanOrEqual(steep.fillFt3 - 1e-6);
        expect(limited.cutFt3).toBeLessThanOrEqual(flat.cutFt3 + 1e-6);
        expect(limited.fillFt3).toBeLessThanOrEqual(flat.fillFt3 + 1e-6);
      }),
      runs,
    );
  });
});

describe("a pad that cannot be", () => {
  const tin = groundOf([]);
  const ring = rectangle(0, [10, 10]);
  test("a ring without area is refused", () => {
    expect(() =>
      padCutFill(
        tin,
        [
          [0, 0],
          [1, 1],
          [2, 2],
        ],
        500,
      ),
    ).toThrow(/ring with an area/);
  });
  test("a negative bank is refused by name", () => {
    expect(() => gradeSurface(tin, { pads: [{ ring, levelFt: 500 }], cutBatter: -1, fillBatter: 2 })).toThrow(
      /cutBatter/,
    );
  });
  test("sides that do not match the edges are refused", () => {
    expect(() =>
      gradeSurface(tin, { pads: [{ ring, levelFt: 500, sides: ["wall"] }], cutBatter: 1, fillBatter: 2 }),
    ).toThrow(/4 edges/);
  });
});
