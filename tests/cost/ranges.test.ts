import fc from "fast-check";
import { assert, test } from "vitest";
import { percentiles, quantiles, summarise } from "../../analysis/chance/percentiles.js";
import { normals, uniforms } from "../../analysis/chance/random-streams.js";
import { drawRange } from "../../analysis/chance/ranges.js";
import { SHARED_MOVEMENT, sharedScores } from "../../analysis/cost/price-ranges.js";

const MANY = 200_000;
const CLIP = 2.33;

// Independent of the code: the density of the standard normal and Simpson's rule.
const density = (z: number) => Math.exp((-z * z) / 2) / Math.sqrt(2 * Math.PI);
function integral(f: (z: number) => number, from = -9, to = 9, steps = 3600): number {
  const h = (to - from) / steps;
  let sum = f(from) + f(to);
  for (let i = 1; i < steps; i++) sum += (i % 2 ? 4 : 2) * f(from + i * h);
  return (sum * h) / 3;
}
/** The price at score z, from its definition: straight in the logarithm on each side of the middle, 1.28155 sigmas to P10 and P90. */
const priceAt = (low: number, likely: number, high: number) => (score: number) => {
  const z = Math.min(CLIP, Math.max(-CLIP, score));
  return z > 0
    ? likely * (high / likely) ** (z / 1.2815515655)
    : likely * (low / likely) ** (-z / 1.2815515655);
};
const mean = (x: Float64Array) => x.reduce((a, b) => a + b, 0) / x.length;
const variance = (x: Float64Array) => {
  const m = mean(x);
  return x.reduce((a, b) => a + (b - m) ** 2, 0) / x.length;
};

const prices = [
  { what: "a skewed price", low: 5, likely: 14, high: 40 },
  { what: "a price with a long low side", low: 40, likely: 90, high: 100 },
  { what: "an even price", low: 80, likely: 100, high: 125 },
];
for (const { what, low, likely, high } of prices) {
  test(`${what} keeps its low, likely and high as P10, P50 and P90`, () => {
    const draws = drawRange({ low, likely, high }, normals(1, "x", MANY));
    const { p10, p50, p90 } = percentiles(draws);
    const error = summarise(draws).samplingError;
    assert.closeTo(p10, low, 4 * error.p10);
    assert.closeTo(p50, likely, 4 * error.p50);
    assert.closeTo(p90, high, 4 * error.p90);
  });
  test(`${what} has the mean and variance of its density, by numerical quadrature`, () => {
    const price = priceAt(low, likely, high);
    // panels end where the price has a corner
    const over = (f: (z: number) => number) =>
      integral(f, -9, -CLIP) + integral(f, -CLIP, 0) + integral(f, 0, CLIP) + integral(f, CLIP, 9);
    const trueMean = over((z) => price(z) * density(z));
    const trueVariance = over((z) => (price(z) - trueMean) ** 2 * density(z));
    const fourth = over((z) => (price(z) - trueMean) ** 4 * density(z));
    const draws = drawRange({ low, likely, high }, normals(2, "y", MANY));
    assert.closeTo(mean(draws), trueMean, 4 * Math.sqrt(trueVariance / MANY));
    assert.closeTo(variance(draws), trueVariance, 4 * Math.sqrt((fourth - trueVariance ** 2) / MANY));
  });
}

test("three equal numbers make a constant, three zeros nothing", () => {
  const z = normals(1, "z", 10);
  assert.deepEqual([...drawRange({ low: 7, likely: 7, high: 7 }, z)], Array(10).fill(7));
  assert.deepEqual([...drawRange({ low: 0, likely: 0, high: 0 }, z)], Array(10).fill(0));
});
for (const [low, likely, high] of [
  [3, 2, 4],
  [1, 5, 4],
  [0, 1, 2],
  [0, 1, 0],
  [-1, 1, 2],
  [1, NaN, 2],
] as const)
  test(`a range of ${low}, ${likely}, ${high} is refused`, () => {
    assert.throws(() => drawRange({ low, likely, high }, normals(1, "z", 4)), RangeError);
  });

test("shared movement leaves each price standard normal, so that the book's percentiles stay", () => {
  for (const group of ["E", "H", "F", "P"] as const) {
    const z = sharedScores(group, normals(3, "m", MANY), normals(3, "g", MANY), normals(3, "e", MANY));
    assert.closeTo(mean(z), 0, 4 / Math.sqrt(MANY));
    assert.closeTo(variance(z), 1, 4 * Math.sqrt(2 / MANY));
  }
});

const pairs = [
  // correlation by hand: a + g inside a group, √(a₁·a₂) across groups
  { what: "the same group", groups: ["C", "C"], rho: 0.4 + 0.3 },
  { what: "different groups", groups: ["E", "H"], rho: Math.sqrt(0.4 * 0.5) },
  { what: "fees and concrete", groups: ["F", "C"], rho: 0 },
] as const;
for (const { what, groups, rho } of pairs)
  test(`the sum of two prices of ${what} has the variance worked out by hand`, () => {
    const [a, b] = groups;
    const group = (g: string) => normals(5, `group:${g}`, MANY);
    const x = drawRange(
      { low: 70, likely: 100, high: 160 },
      sharedScores(a, normals(5, "market", MANY), group(a), normals(5, "first", MANY)),
    );
    const y = drawRange(
      { low: 40, likely: 90, high: 130 },
      sharedScores(b, normals(5, "market", MANY), group(b), normals(5, "second", MANY)),
    );
    const first = priceAt(70, 100, 160);
    const second = priceAt(40, 90, 130);
    const m1 = integral((z) => first(z) * density(z));
    const m2 = integral((z) => second(z) * density(z));
    const v1 = integral((z) => (first(z) - m1) ** 2 * density(z));
    const v2 = integral((z) => (second(z) - m2) ** 2 * density(z));
    // E[xy] over the bivariate normal: z₂ = ρ·z₁ + √(1 − ρ²)·e
    const product = integral(
      (z) =>
        first(z) *
        density(z) *
        integral((e) => second(rho * z + Math.sqrt(1 - rho ** 2) * e) * density(e), -7, 7, 280),
      -7,
      7,
      280,
    );
    const expected = v1 + v2 + 2 * (product - m1 * m2);
    const sum = x.map((value, i) => value + y[i]!);
    assert.closeTo(variance(sum), expected, 0.015 * expected);
    assert.closeTo(SHARED_MOVEMENT.C.market + SHARED_MOVEMENT.C.group, 0.7, 1e-12);
  });

test("percentiles are those of the sorted draws", () => {
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -1e6, max: 1e6, noNaN: true }), { minLength: 1, maxLength: 300 }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (values, p) => {
        const sorted = [...values].sort((a, b) => a - b);
        const at = p * (sorted.length - 1);
        const below = Math.floor(at);
        const above = Math.min(below + 1, sorted.length - 1);
        const expected = sorted[below]! + (at - below) * (sorted[above]! - sorted[below]!);
        assert.closeTo(quantiles(Float64Array.from(values), [p])[0]!, expected, 1e-6);
      },
    ),
    { numRuns: 300, seed: 7 },
  );
});

test("the sampling error of a percentile of even numbers is √(p(1 − p)/n)", () => {
  const draws = uniforms(1, "even", 10_000);
  const { p10, p50 } = summarise(draws).samplingError;
  assert.closeTo(p10, Math.sqrt((0.1 * 0.9) / 10_000), 0.0006);
  assert.closeTo(p50, Math.sqrt(0.25 / 10_000), 0.001);
});

test("the stated sampling error is what other seeds show", () => {
  const medians = Array.from(
    { length: 200 },
    (_, seed) => percentiles(drawRange({ low: 5, likely: 14, high: 40 }, normals(seed, "price", 10_000))).p90,
  );
  const m = medians.reduce((a, b) => a + b, 0) / 200;
  const seen = Math.sqrt(medians.reduce((a, b) => a + (b - m) ** 2, 0) / 199);
  const stated = summarise(drawRange({ low: 5, likely: 14, high: 40 }, normals(1, "price", 10_000)))
    .samplingError.p90;
  // the spread of 200 medians is itself known to 1/√(2·199) = 5 %, the stated error to about 10 %
  assert.closeTo(stated / seen, 1, 0.35);
});

test("a stream belongs to its seed and name alone; streams do not resemble each other", () => {
  assert.deepEqual(normals(9, "HAUL", 50), normals(9, "HAUL", 50));
  assert.deepEqual(normals(9, "HAUL", 50), normals(9, "HAUL", 51).slice(0, 50));
  const n = 10_000;
  const streams = ["HAUL", "HAUM", "DUMP", "WALL-4", "WALL-6"].flatMap((name) => [
    normals(1, name, n),
    normals(2, name, n),
  ]);
  for (const [i, a] of streams.entries())
    for (const b of streams.slice(i + 1)) {
      const r = mean(a.map((x, k) => x * b[k]!));
      assert.isBelow(Math.abs(r), 4.5 / Math.sqrt(n));
    }
});
