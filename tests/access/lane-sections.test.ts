import { assert, test } from "vitest";
import { benchCost } from "../../analysis/access/lane-cost.js";
import { sectionAt } from "../../analysis/access/lane-sections.js";

// a bed 14 ft wide, cut slopes 2 : 1, fill slopes 2 : 1
const rules = { halfBedFt: 7, cutBatter: 2, fillBatter: 2, tallestWallFt: 6 };
const station = { stationFt: 0, at: [0, 0] as const, heading: 0, radiusFt: Infinity };
const everywhere = () => true;

test("a bank on level ground has the trapezoid's area d(b + sd)", () => {
  for (const d of [0.5, 1, 3, 6]) {
    const { cutFt2, fillFt2, wallsFt } = sectionAt(station, d, { at: () => 0, mayGrade: everywhere }, rules);
    assert.closeTo(fillFt2, d * (14 + 2 * d), 1e-9);
    assert.equal(cutFt2, 0);
    assert.deepEqual([...wallsFt], [0, 0]);
  }
});

test("a trench on level ground has the trapezoid's area d(b + sd)", () => {
  const { cutFt2, fillFt2 } = sectionAt(station, -3, { at: () => 0, mayGrade: everywhere }, rules);
  assert.closeTo(cutFt2, 3 * (14 + 2 * 3), 1e-9);
  assert.equal(fillFt2, 0);
});

test("a bench half in cut, half in fill on a side slope has two triangles each side", () => {
  // closed form: bed part h²s/2; beyond the edge of height e = sh the slope closes at 1/2 − s: area e²/(2(1/2 − s))
  for (const s of [0.05, 0.1, 0.2]) {
    const { cutFt2, fillFt2 } = sectionAt(station, 0, { at: (_, y) => s * y, mayGrade: everywhere }, rules);
    const e = 7 * s;
    const expected = (7 * e) / 2 + (e * e) / (2 * (0.5 - s));
    assert.closeTo(cutFt2, expected, 1e-6 * expected);
    assert.closeTo(fillFt2, expected, 1e-6 * expected);
  }
});

test("where the side slope never meets the ground, or may not be shaped, a wall of the edge's height stands", () => {
  const steep = sectionAt(station, 0, { at: (_, y) => 0.45 * y, mayGrade: everywhere }, rules);
  assert.closeTo(steep.wallsFt[0], 7 * 0.45, 1e-9);
  assert.closeTo(steep.wallsFt[1], 7 * 0.45, 1e-9);
  const atLine = sectionAt(station, -2, { at: () => 0, mayGrade: (_, y) => y > -8 }, rules);
  assert.equal(atLine.wallsFt[0], 0);
  assert.equal(atLine.wallsFt[1], 2);
});

test("turning the bed round swaps left and right and keeps the areas", () => {
  const at = (x: number, y: number) => 0.1 * y + 0.03 * x;
  const one = sectionAt(station, 0.7, { at, mayGrade: everywhere }, rules);
  const other = sectionAt({ ...station, heading: Math.PI }, 0.7, { at, mayGrade: everywhere }, rules);
  assert.closeTo(one.cutFt2, other.cutFt2, 1e-9);
  assert.closeTo(one.fillFt2, other.fillFt2, 1e-9);
});

test("the search's quick price grows with depth and with side slope, and is nothing on the flat", () => {
  assert.equal(benchCost(0, 0, rules), 0);
  for (const s of [0, 0.1, 0.3, 0.6]) {
    assert.isBelow(benchCost(2, s, rules), benchCost(4, s, rules));
    assert.isBelow(benchCost(-2, s, rules), benchCost(-4, s, rules));
  }
  assert.isBelow(benchCost(0, 0.1, rules), benchCost(0, 0.3, rules));
});
