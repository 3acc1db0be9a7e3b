import { assert, test } from "vitest";
import { along, endOf, type Pose, reversed, stationsOf } from "../../analysis/access/lane-path.js";
import { shortestPieces } from "./shortest-pieces.js";

const R = 26;
const length = (pieces: readonly { lengthFt: number }[]) =>
  pieces.reduce((sum, { lengthFt }) => sum + lengthFt, 0);

// Closed forms: half a circle, a quarter circle, a straight, and two quarter circles that shift a lane by 2R.
const known: { what: string; to: Pose; expectedFt: number }[] = [
  { what: "straight ahead", to: { x: 100, y: 0, heading: 0 }, expectedFt: 100 },
  { what: "a quarter turn", to: { x: R, y: R, heading: Math.PI / 2 }, expectedFt: (Math.PI * R) / 2 },
  { what: "a half turn", to: { x: 0, y: 2 * R, heading: Math.PI }, expectedFt: Math.PI * R },
  { what: "a shift of two radii", to: { x: 2 * R, y: 2 * R, heading: 0 }, expectedFt: Math.PI * R },
  {
    what: "a quarter turn after 50 ft",
    to: { x: 50 + R, y: -R, heading: -Math.PI / 2 },
    expectedFt: 50 + (Math.PI * R) / 2,
  },
];
for (const { what, to, expectedFt } of known)
  test(`the shortest lane of ${what} has the length of its straights and arcs`, () => {
    assert.closeTo(length(shortestPieces({ x: 0, y: 0, heading: 0 }, to, R)), expectedFt, 1e-6);
  });

/** Walks a line in small chords with the midpoint rule, knowing nothing of circles' centres. */
function walked(start: Pose, pieces: ReturnType<typeof shortestPieces>): Pose {
  let { x, y, heading } = start;
  for (const { turn, lengthFt, radiusFt } of pieces) {
    const steps = 4_000;
    const ds = lengthFt / steps;
    const bend = turn === 0 ? 0 : (turn * ds) / radiusFt;
    for (let i = 0; i < steps; i++) {
      x += ds * Math.cos(heading + bend / 2);
      y += ds * Math.sin(heading + bend / 2);
      heading += bend;
    }
  }
  return { x, y, heading };
}

/** A plain linear congruence, so that the cases are the same everywhere. */
function drawer(seed: number): () => number {
  let state = seed;
  return () => {
    state = (1_103_515_245 * state + 12_345) % 2_147_483_648;
    return state / 2_147_483_648;
  };
}

function drawnPose(draw: () => number): Pose {
  return { x: 300 * draw(), y: 300 * draw(), heading: 7 * draw() };
}

test("the shortest lane ends where and as it should", () => {
  const draw = drawer(12_345);
  for (let round = 0; round < 200; round++) {
    const from = drawnPose(draw);
    const to = drawnPose(draw);
    const pieces = shortestPieces(from, to, R);
    const end = walked(from, pieces);
    assert.closeTo(end.x, to.x, 1e-3);
    assert.closeTo(end.y, to.y, 1e-3);
    assert.closeTo(Math.cos(end.heading - to.heading), 1, 1e-6);
  }
});

test("no lane of turn, straight, turn found by trying first turns of all angles is shorter", () => {
  const draw = drawer(99);
  const steps = 3_600;
  const full = 2 * Math.PI;
  for (let round = 0; round < 20; round++) {
    const from = drawnPose(draw);
    const to = drawnPose(draw);
    let best = Infinity;
    for (const first of [1, -1] as const)
      for (const last of [1, -1] as const) {
        let before = NaN;
        for (let i = 0; i <= steps; i++) {
          const ft1 = (full * R * i) / steps;
          const p = along(from, { turn: first, lengthFt: ft1, radiusFt: R }, ft1);
          // the last turn makes up the difference of headings; walk it back from the end
          const turned = (((last * (to.heading - p.heading)) % full) + full) % full;
          const back = { turn: last === 1 ? (-1 as const) : (1 as const), lengthFt: turned * R, radiusFt: R };
          const q = along({ ...to, heading: to.heading + Math.PI }, back, turned * R);
          const ahead = (q.x - p.x) * Math.cos(p.heading) + (q.y - p.y) * Math.sin(p.heading);
          const aside = (q.y - p.y) * Math.cos(p.heading) - (q.x - p.x) * Math.sin(p.heading);
          if (before * aside <= 0 && Math.abs(before - aside) < 5 && ahead >= 0)
            best = Math.min(best, ft1 + ahead + turned * R);
          before = aside;
        }
      }
    // a tenth of a degree of first turn is the trial's own coarseness
    assert.isBelow(best, Infinity);
    assert.isAtMost(length(shortestPieces(from, to, R)), best + 1);
  }
});

test("a line travelled back starts at its end and ends at its start", () => {
  const path = {
    start: { x: 3, y: 4, heading: 1 },
    pieces: shortestPieces({ x: 3, y: 4, heading: 1 }, { x: 90, y: -40, heading: 4 }, R),
  };
  const back = reversed(path);
  assert.closeTo(endOf(back).x, 3, 1e-6);
  assert.closeTo(endOf(back).y, 4, 1e-6);
  assert.closeTo(Math.cos(endOf(back).heading - (1 + Math.PI)), 1, 1e-9);
});

test("stations lie evenly along the line, on its straights and arcs", () => {
  const path = {
    start: { x: 0, y: 0, heading: 0 },
    pieces: [
      { turn: 0 as const, lengthFt: 40, radiusFt: Infinity },
      { turn: 1 as const, lengthFt: Math.PI * R, radiusFt: R },
    ],
  };
  const stations = stationsOf(path, 50);
  assert.equal(stations.length, 51);
  for (const { at, stationFt } of stations)
    if (stationFt <= 40) assert.closeTo(at[1], 0, 1e-9);
    else assert.closeTo(Math.hypot(at[0] - 40, at[1] - R), R, 1e-9);
  assert.closeTo(stations.at(-1)!.at[1], 2 * R, 1e-9);
});
