/** Quantities of the price list as a reader sees them. */
import { assert, describe, test } from "vitest";
import { makeFormat } from "../../templates/view/format.js";
import { quantityInWords, traceInWords } from "../../templates/view/quantity-words.js";

const us = makeFormat("us");
const metric = makeFormat("metric");
const plain = (text: string) => text.replaceAll("\u00a0", " ");

describe("an amount with its unit", () => {
  const rows: [amount: number, unit: string, us: string][] = [
    [1, "ls", "once"],
    [3, "each", "3"],
    [1, "season", "1 season"],
    [170.4, "bank yd3", "170 yd³ in the ground"],
    [153, "compacted yd3", "153 yd³ rolled"],
    [12_340, "loose yd3", "12,300 yd³ in the truck"],
    [108, "face ft2", "108 ft² of face"],
    [3000, "ft2 of roof and paving", "3,000 ft² of roof and paving"],
    [0.3, "acre", "0.3 acres"],
    [5, "% of HOUSE", "5 % of the house"],
    [0.25, "chance", "25 % chance"],
    [1, "chance", "certain"],
    [0, "loose yd3", "none here"],
  ];
  for (const [amount, unit, words] of rows)
    test(`${amount} ${unit} is "${words}"`, () =>
      assert.equal(plain(quantityInWords(amount, unit, us)), words));

  // 1 ft = 0.3048 m and 1 yd³ = 0.764554857984 m³, exact by the international yard and pound agreement of 1959.
  test("in metric", () => {
    assert.equal(plain(quantityInWords(1000, "bank yd3", metric)), "765 m³ in the ground");
    const [metres, unit] = plain(quantityInWords(100, "ft", metric)).split(" ");
    assert.approximately(Number(metres), 30.48, 0.01 * 30.48);
    assert.equal(unit, "m");
    // One acre is 4,046.87 m².
    const [area] = plain(quantityInWords(1, "acre", metric)).split(" ");
    assert.approximately(Number(area!.replace(",", "")), 4046.87, 5);
  });
});

describe("where an amount comes from", () => {
  test("names no field and no code", () => {
    assert.equal(
      traceInWords("earthwork.bankCutYd3 79, less the basement 0, driveway 43"),
      "Cut for the pad 79, less the basement 0, driveway 43",
    );
    assert.equal(
      traceInWords("depth to rock unknown; if so: ROCK-RIP 10 % of what is dug, DEWATER once"),
      "Depth to rock unknown; if so: ripping: 10 % of what is dug, keeping the dig dry",
    );
  });
  test("sets thousands apart", () =>
    assert.include(traceInWords("earthwork.disturbedFt2 and the drive, 5118 ft²"), "5,118 ft²"));
});
