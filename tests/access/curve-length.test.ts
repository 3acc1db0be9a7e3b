import { expect, test } from "vitest";
import { shortestCurveFt } from "../../analysis/access/curve-length.js";
import { endOf, lengthFt, shortestPieces } from "../../analysis/access/lane-path.js";

// Two independent writings of the same six words (Dubins 1957): the pieces must end at the goal and be as long as said.
test("the length alone is the sum of the pieces that lead there", () => {
  let state = 7;
  const random = () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
  for (let i = 0; i < 3000; i++) {
    const from = { x: 0, y: 0, heading: 2 * Math.PI * random() };
    const to = { x: 200 * (random() - 0.5), y: 200 * (random() - 0.5), heading: 2 * Math.PI * random() };
    const radiusFt = 15 + 30 * random();
    const path = { start: from, pieces: shortestPieces(from, to, radiusFt) };
    const end = endOf(path);
    expect(Math.hypot(end.x - to.x, end.y - to.y)).toBeLessThan(1e-6);
    expect(shortestCurveFt(from, to, radiusFt)).toBeCloseTo(lengthFt(path), 6);
  }
});

test("straight on, a half turn and a quarter turn are as long as geometry says", () => {
  const ahead = { x: 0, y: 0, heading: 0 };
  expect(shortestCurveFt(ahead, { x: 100, y: 0, heading: 0 }, 20)).toBeCloseTo(100, 9);
  expect(shortestCurveFt(ahead, { x: 0, y: 40, heading: Math.PI }, 20)).toBeCloseTo(20 * Math.PI, 9);
  expect(shortestCurveFt(ahead, { x: 20, y: 20, heading: Math.PI / 2 }, 20)).toBeCloseTo(10 * Math.PI, 9);
});
