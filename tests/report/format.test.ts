/** Numbers as readers see them. */
import { assert, describe, test } from "vitest";
import { roundTo, stepFor } from "../../analysis/written-number.js";
import { makeFormat, money, moneyRange, moneyTick, months } from "../../templates/view/format.js";

const us = makeFormat("us");
const metric = makeFormat("metric");
const plain = (text: string) => text.replaceAll("\u00a0", " ");

describe("rounding follows the doubt", () => {
  // Common practice of stating results no finer than their uncertainty (JCGM 100:2008, 7.2.6).
  for (const [value, doubt, expected] of [
    [1234.56, 300, 1200],
    [1234.56, 62, 1250],
    [5.234, 0.1, 5.2],
    [0.04, 0.1, 0],
    [-871, 20, -880],
  ] as const)
    test(`${value} ± ${doubt} reads ${expected}`, () =>
      assert.closeTo(roundTo(value, stepFor(doubt)), expected, 1e-9));

  for (const bad of [0, -1, NaN])
    test(`a doubt of ${bad} is refused`, () => assert.throws(() => stepFor(bad), RangeError));
  test("nothing reads minus zero", () => assert.equal(Object.is(roundTo(-0.01, 1), 0), true));
});

describe("money has two figures and no cents", () => {
  for (const [usd, expected] of [
    [518_245, "$520,000"],
    [1_536_000, "$1.5 million"],
    [999_999, "$1.0 million"],
    [8_612, "$8,600"],
    [162.4, "$160"],
    [0.2, "$0"],
    [-42_700, "−$43,000"],
  ] as const)
    test(`${usd} reads ${expected}`, () => assert.equal(plain(money(usd)), expected));
  test("million is said once in a range", () =>
    assert.equal(plain(moneyRange(1_490_000, 2_256_000)), "$1.5 to 2.3 million"));
  test("a range across a million keeps both words", () =>
    assert.equal(plain(moneyRange(930_000, 1_180_000)), "$930,000 to $1.2 million"));
  test("axis money is short", () =>
    assert.deepEqual([0, 250_000, 1_500_000, -40_000].map(moneyTick), ["$0", "$250k", "$1.5M", "−$40k"]));
});

describe("units for both readers", () => {
  // International foot 0.3048 m exactly; cubic yard 0.764554857984 m³ exactly (NIST SP 811, B.8).
  test("lengths", () =>
    assert.deepEqual([us.length(12.34), metric.length(12.34)].map(plain), ["12.3 ft", "3.76 m"]));
  // 632.9 ± 6.3 m²: the step is 5.
  test("areas", () =>
    assert.deepEqual([us.area(6812), metric.area(6812)].map(plain), ["6,800 ft²", "635 m²"]));
  test("volumes", () =>
    assert.deepEqual([us.volume(540, 60), metric.volume(540, 60)].map(plain), ["550 yd³", "420 m³"]));
  test("typed lengths keep their figures", () =>
    assert.deepEqual([us.typed(25), us.typed(7.5), metric.typed(25)].map(plain), [
      "25 ft",
      "7.5 ft",
      "7.62 m",
    ]));
  test("steepness as people walk it", () => {
    assert.equal(us.oneIn(25), "1 foot up for every 4 feet along");
    assert.equal(us.oneIn(8.33), "1 foot up for every 12 feet along");
    assert.equal(us.oneIn(1), "nearly level");
  });
  // One cubic foot is 28.316846592 litres exactly (NIST SP 811, B.8).
  test("flows", () =>
    assert.deepEqual(
      [us.flow(2.84), us.flow(0.02), us.flow(0), metric.flow(2.84), metric.flow(0.01)].map(plain),
      ["2.8 cfs", "under 0.1 cfs", "0.0 cfs", "80 l/s", "under 1 l/s"],
    ));
  test("months", () => assert.deepEqual([12.3, 3.3, 1.4].map(months), ["12", "3.5", "1.5"]));
  test("numbers typed by somebody", () =>
    assert.deepEqual([4, 0.5, 2400, 1.25, -1250, 0].map(us.given), [
      "4",
      "0.5",
      "2,400",
      "1.25",
      "−1,250",
      "0",
    ]));
});
