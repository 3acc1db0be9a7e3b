import { assert, test } from "vitest";
import { percentiles } from "../../analysis/chance/percentiles.js";
import { normals } from "../../analysis/chance/random-streams.js";
import { drawWeeks, halves, simulateNetwork } from "../../analysis/schedule/simulate-network.js";

const fixed = (...weeks: number[]) => weeks.map((w) => new Float64Array(3).fill(w));

test("a network of six steps gives the starts and the longest path worked out by hand", () => {
  // a 3 → b 4 → d 2 → f 1 ; a → c 6 → e 1 → f ; d also waits for c:  a 0–3, b 3–7, c 3–9, d 9–11, e 9–10, f 11–12
  const steps = [
    { id: "a", after: [] },
    { id: "b", after: ["a"] },
    { id: "c", after: ["a"] },
    { id: "d", after: ["b", "c"] },
    { id: "e", after: ["c"] },
    { id: "f", after: ["d", "e"] },
  ];
  const { starts, finishes, criticalShares } = simulateNetwork(steps, fixed(3, 4, 6, 2, 1, 1));
  assert.deepEqual(
    starts.map((s) => s[0]),
    [0, 3, 3, 9, 9, 11],
  );
  assert.deepEqual(
    finishes.map((s) => s[2]),
    [3, 7, 9, 11, 10, 12],
  );
  assert.deepEqual(criticalShares(), [1, 0, 1, 1, 0, 1]);
});

test("two equal chains side by side take longer than one: the later of two normals is 1/√π sigmas above their mean", () => {
  // E[max(X, Y)] = μ + σ/√π for two independent normals (order statistics of the normal distribution)
  const n = 100_000;
  const steps = [
    { id: "left", after: [] },
    { id: "right", after: [] },
    { id: "end", after: ["left", "right"] },
  ];
  const weeks = [normals(1, "l", n), normals(1, "r", n), new Float64Array(n)].map((z, i) =>
    i === 2 ? z : z.map((x) => 20 + 2 * x),
  );
  const { finishes, criticalShares } = simulateNetwork(steps, weeks);
  const mean = finishes[2]!.reduce((a, b) => a + b, 0) / n;
  assert.closeTo(mean, 20 + 2 / Math.sqrt(Math.PI), 4 * (2 / Math.sqrt(n)));
  // the longest path is looked for in 1,000 draws
  assert.closeTo(criticalShares()[0]!, 0.5, 4 * (0.5 / Math.sqrt(1000)));
  assert.closeTo(criticalShares()[0]! + criticalShares()[1]!, 1, 1e-12);
});

test("a step that waits for a later or unknown one is refused", () => {
  assert.throws(
    () =>
      simulateNetwork(
        [
          { id: "a", after: ["b"] },
          { id: "b", after: [] },
        ],
        fixed(1, 1),
      ),
    /a waits for b/,
  );
});

test("low, likely and high of a step are where they are said to be", () => {
  const z = halves(normals(1, "z", 200_000));
  const tenth = percentiles(drawWeeks([4, 8, 20], 1.2815515655, z));
  assert.closeTo(tenth.p10, 4, 0.05);
  assert.closeTo(tenth.p50, 8, 0.05);
  assert.closeTo(tenth.p90, 20, 0.15);
  // taken as one in twenty, a tenth lies 1.2816/1.6449 of the way out
  const twentieth = percentiles(drawWeeks([4, 8, 20], 1.6449, z));
  assert.closeTo(twentieth.p90, 8 + (12 * 1.2816) / 1.6449, 0.15);
  assert.isTrue(drawWeeks([0, 12, 36], 1.6449, z).every((w) => w >= 0));
  const twice = new Float64Array(200_000).fill(2);
  assert.closeTo(percentiles(drawWeeks([4, 8, 20], 1.2815515655, z, twice)).p90, 40, 0.3);
  assert.throws(() => drawWeeks([5, 4, 6], 1.6449, z), RangeError);
});
