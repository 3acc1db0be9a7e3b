import { expect, test } from "vitest";
import { along, endOf, lengthFt, type Piece, type Pose } from "../../analysis/access/lane-path.js";
import { ShortestCurve } from "../../analysis/access/shortest-curve.js";
import { shortestPieces } from "./shortest-pieces.js";

function drawer(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 16807) % 2147483647;
    return state / 2147483647;
  };
}

const TURN = 2 * Math.PI;
const within = (angle: number) => ((angle % TURN) + TURN) % TURN;

/** The six words by their textbook formulas in angles (A. M. Shkel, V. Lumelsky, "Classification of the Dubins set", 2001), all of them tried. */
function textbookFt(from: Pose, to: Pose, radiusFt: number): number {
  const d = Math.hypot(to.x - from.x, to.y - from.y) / radiusFt;
  const bearing = Math.atan2(to.y - from.y, to.x - from.x);
  const a = within(from.heading - bearing);
  const b = within(to.heading - bearing);
  const [sa, sb, ca, cb, cab] = [Math.sin(a), Math.sin(b), Math.cos(a), Math.cos(b), Math.cos(a - b)];
  const sums: number[] = [];
  const lsl = Math.sqrt(2 + d * d - 2 * cab + 2 * d * (sa - sb));
  const tLsl = Math.atan2(cb - ca, d + sa - sb);
  sums.push(within(tLsl - a) + lsl + within(b - tLsl));
  const rsr = Math.sqrt(2 + d * d - 2 * cab + 2 * d * (sb - sa));
  const tRsr = Math.atan2(ca - cb, d - sa + sb);
  sums.push(within(a - tRsr) + rsr + within(tRsr - b));
  const lsr = Math.sqrt(-2 + d * d + 2 * cab + 2 * d * (sa + sb));
  const tLsr = Math.atan2(-ca - cb, d + sa + sb) - Math.atan2(-2, lsr);
  sums.push(within(tLsr - a) + lsr + within(tLsr - b));
  const rsl = Math.sqrt(-2 + d * d + 2 * cab - 2 * d * (sa + sb));
  const tRsl = Math.atan2(ca + cb, d - sa - sb) - Math.atan2(2, rsl);
  sums.push(within(a - tRsl) + rsl + within(b - tRsl));
  const rlr = TURN - Math.acos((6 - d * d + 2 * cab + 2 * d * (sa - sb)) / 8);
  const tRlr = within(a - tRsr + rlr / 2);
  sums.push(tRlr + rlr + within(a - b - tRlr + rlr));
  const lrl = TURN - Math.acos((6 - d * d + 2 * cab + 2 * d * (sb - sa)) / 8);
  const tLrl = within(-a + tLsl + lrl / 2);
  sums.push(tLrl + lrl + within(b - a - tLrl + lrl));
  return radiusFt * Math.min(...sums.filter((sum) => !Number.isNaN(sum)));
}

test("the curve is as long as the shortest of all six words, and its pieces lead to the goal", () => {
  const random = drawer(7);
  for (let i = 0; i < 3000; i++) {
    const from = { x: 0, y: 0, heading: TURN * random() };
    const to = { x: 200 * (random() - 0.5), y: 200 * (random() - 0.5), heading: TURN * random() };
    const radiusFt = 15 + 30 * random();
    const path = { start: from, pieces: shortestPieces(from, to, radiusFt) };
    const end = endOf(path);
    expect(Math.hypot(end.x - to.x, end.y - to.y)).toBeLessThan(1e-6);
    expect(lengthFt(path)).toBeCloseTo(textbookFt(from, to, radiusFt), 6);
  }
});

test("straight on, a half turn and a quarter turn are as long as geometry says", () => {
  const curve = new ShortestCurve();
  const ahead = { x: 0, y: 0, ahead: 1, up: 0 };
  expect(curve.between(ahead, { x: 100, y: 0, ahead: 1, up: 0 }, 20)).toBeCloseTo(100, 9);
  expect(curve.between(ahead, { x: 0, y: 40, ahead: -1, up: 0 }, 20)).toBeCloseTo(20 * Math.PI, 9);
  expect(curve.between(ahead, { x: 20, y: 20, ahead: 0, up: 1 }, 20)).toBeCloseTo(10 * Math.PI, 9);
});

test("a line that is a few arcs and straights already is never made longer, full circle round, by rounding", () => {
  const random = drawer(11);
  for (let i = 0; i < 3000; i++) {
    const start = { x: 200 * random(), y: 200 * random(), heading: TURN * random() };
    const pieces = Array.from({ length: 1 + Math.floor(3 * random()) }, (): Piece => {
      const turn = (Math.floor(3 * random()) - 1) as Piece["turn"];
      return { turn, lengthFt: 6.8 * (1 + Math.floor(4 * random())), radiusFt: 26 };
    });
    const end = pieces.reduce((pose, piece) => along(pose, piece, piece.lengthFt), start);
    expect(lengthFt({ pieces: shortestPieces(start, end, 26) })).toBeLessThan(lengthFt({ pieces }) + 1e-4);
  }
});
