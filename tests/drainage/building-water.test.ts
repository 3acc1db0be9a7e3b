import { assert, describe, test } from "vitest";
import type { Access } from "../../analysis/access/index.js";
import { crossingsOf } from "../../analysis/drainage/crossings.js";
import { hourlyShare, peakStorageFt3 } from "../../analysis/drainage/detention.js";
import { routeLotWater } from "../../analysis/drainage/index.js";
import { culvertForFlowIn } from "../../analysis/drainage/pipes.js";
import { formulaSite } from "../support/sites.js";

describe("storage that keeps a peak", () => {
  for (const [after, before, rainMin, timeMin] of [
    [3, 2, 20, 5],
    [3, 0.5, 60, 12],
    [2.1, 2, 5, 5],
  ] as const)
    test(`${after} cfs down to ${before} over ${rainMin} min is the water above the release, summed second by second`, () => {
      // the trapezoid of the modified rational method, integrated here
      const inflow = (min: number) =>
        after * Math.max(0, Math.min(1, min / timeMin, (rainMin + timeMin - min) / timeMin));
      let ft3 = 0;
      for (let s = 0; s < 60 * (rainMin + timeMin); s++) ft3 += Math.max(0, inflow((s + 0.5) / 60) - before);
      assert.closeTo(peakStorageFt3(after, before, rainMin, timeMin), ft3, 0.002 * ft3 + 0.1);
    });

  test("nothing is held where the peak does not rise", () => {
    assert.equal(peakStorageFt3(2, 2, 30, 5), 0);
    assert.equal(peakStorageFt3(1, 2, 30, 5), 0);
  });
});

test("a 5-minute rain is 3.48 times as hard as an hour's: 0.29 of its depth in a twelfth of its time", () => {
  // US Weather Bureau Technical Paper 40, from memory
  assert.closeTo(1 / hourlyShare(5), 0.29 * 12, 1e-9);
  assert.closeTo(hourlyShare(60), 1, 1e-9);
  assert.closeTo(1 / hourlyShare(30), 0.79 * 2, 1e-9);
  for (const beyond of [4.9, 61, Number.NaN]) assert.throws(() => hourlyShare(beyond), RangeError);
});

test("pipes under a drive: 12 in at 1 % carries 1.93 cfs, 24 in 12.25 (Manning by hand, n 0.024)", () => {
  // (1.486 ÷ 0.024)·(1/4)^⅔·0.1 = 2.457 ft/s × 0.7854 ft² = 1.930; × 2^(8/3) = 12.25
  assert.equal(culvertForFlowIn(1.9, 0.01), 12);
  assert.equal(culvertForFlowIn(1.95, 0.01), 15);
  assert.equal(culvertForFlowIn(12.2, 0.01), 24);
  assert.equal(culvertForFlowIn(12.3, 0.01), 30);
  assert.isNull(culvertForFlowIn(500, 0.01));
});

describe("a drive across a valley that falls south", () => {
  // two planes meet along x = 100: all water of both gathers there
  const site = formulaSite((x, y) => 500 + 0.1 * y + 0.2 * Math.abs(x - 100), { widthFt: 200, depthFt: 200 });
  const water = routeLotWater(site);
  const across = (y: number): Access => {
    const line = Array.from({ length: 21 }, (_, i) => [20 + 8 * i, y, 510] as const);
    const profile = line.map((_, i) => ({ stationFt: 8 * i, groundFt: 510, gradeFt: 510 }));
    return { reachable: true, driveway: { line, profile, widthFt: 12 } } as unknown as Access;
  };

  test("needs one pipe, at the valley line, for the ground above it", () => {
    const [crossing, ...more] = crossingsOf(site, water, across(60), 0.4);
    assert.isEmpty(more);
    assert.closeTo(crossing!.at[0], 100, 3);
    assert.closeTo(crossing!.at[1], 60, 3);
    // on a plane falling 0.1 south and 0.2 to the valley water moves two feet across for each foot south
    assert.isAbove(crossing!.catchmentFt2, 15_000);
    assert.isNotNull(crossing!.pipeIn);
  });

  test("needs none beside it", () => {
    const beside = across(60);
    if (!beside.reachable) assert.fail("made above");
    const short = { ...beside.driveway, line: beside.driveway.line.slice(0, 5) };
    assert.isEmpty(crossingsOf(site, water, { reachable: true, driveway: short }, 0.4));
  });
});
