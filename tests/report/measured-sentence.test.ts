/** Measures inside sentences, told in US and in metric units. One foot is 0.3048 m exactly (NIST SP 811). */
import { assert, describe, test } from "vitest";
import { inUsUnits, measure, published } from "../../analysis/measure.js";
import { makeFormat } from "../../templates/view/format.js";

const plain = (text: string) => text.replaceAll("\u00a0", " ");

/** The sentence as documents print it, and as metric readers are told it. */
function both(sentence: string): [us: string, metric: string] {
  const us = inUsUnits(sentence);
  return [us, plain(makeFormat("metric", [sentence]).say(us))];
}

describe("a measure in a sentence", () => {
  for (const [what, sentence, us, metric] of [
    [
      "rounded to its doubt",
      `A cut of ${measure(12.34, "ft", 0.5)}.`,
      "A cut of 12.5 ft.",
      "A cut of 3.8 m.",
    ],
    ["as somebody chose it", `At most ${measure(7.5, "ft")}.`, "At most 7.5 ft.", "At most 2.29 m."],
    ["one of it", `${measure(1.2, "feet", 1)} tall`, "1 foot tall", "0.4 meters tall"],
    [
      "the same in every unit",
      `${measure(9.2, "feet in a ratio", 1)} in 100`,
      "9 feet in 100",
      "9 meters in 100",
    ],
    ["a range", `${measure([25, 50], "ft")} past`, "25 to 50 ft past", "7.62 to 15.24 m past"],
    ["sides", measure([62.6, 31.2], "ft", 1, " × "), "63 × 31 ft", "19.1 × 9.5 m"],
    // 9,300 ft² × 0.09290304 = 864.0 m²; 540 yd³ × 0.764554857984 = 412.9 m³.
    ["an area", measure(9_312, "square feet", 100), "9,300 square feet", "865 square meters"],
    ["a volume", measure(540, "yd³", 10), "540 yd³", "413 m³"],
    ["inches", measure(18, "in"), "18 in", "457 mm"],
    ["large ground", measure(40, "acre", 0.4), "40 acres", "16.2 hectares"],
    // A published limit keeps its own unit.
    ["published", `Over ${published(20, "ft")} high.`, "Over 20 ft high.", "Over 20 ft (6.1 m) high."],
    [
      "two published",
      published([500, 1000], "cubic yards", " or "),
      "500 or 1,000 cubic yards",
      "500 or 1,000 cubic yards (382 or 765 cubic meters)",
    ],
  ] as const)
    test(what, () => assert.deepEqual(both(sentence), [us, metric]));
});

test("a sentence without a measure, or from a study that kept none, stays as it is", () => {
  assert.equal(inUsUnits("Ask the city."), "Ask the city.");
  assert.equal(makeFormat("metric").say("A cut of 12 ft."), "A cut of 12 ft.");
});

test("brackets that hold no measure of ours are text", () =>
  assert.equal(inUsUnits("⟦a⟧ and ⟦1|furlong|0| to |0⟧"), "⟦a⟧ and ⟦1|furlong|0| to |0⟧"));
