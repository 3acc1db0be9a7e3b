/** The sides of the lot carry the numbers the sender gave them, whichever way round the corners came. */
import { assert, describe, test } from "vitest";
import { madeStudy, plane, reportOf } from "./whole-studies.js";

describe("corners sent clockwise", async () => {
  // West, north, east, then the south side along the street.
  const clockwise: [number, number][] = [
    [5000, 9000],
    [5000, 9220],
    [5200, 9220],
    [5200, 9000],
  ];
  const whole = await madeStudy({
    elevFt: plane(12),
    request: {
      boundary: { ring: clockwise },
      access: { frontage: [3] },
      rules: { setbacksFt: { edges: [11, 22, 13, 34] }, slopeLimitPct: 40 },
    },
  });

  test("the answer names each edge as the request did", () => {
    const setbackOf = Object.fromEntries(
      whole.study.lot.edges.map(({ number, setbackFt }) => [number, setbackFt]),
    );
    assert.deepEqual(setbackOf, { 0: 11, 1: 22, 2: 13, 3: 34 });
    assert.deepEqual(
      whole.study.lot.edges.filter(({ frontage }) => frontage).map(({ number }) => number),
      [3],
    );
  });
  test("the report counts the sides from 1 in that order", () => {
    const rows = reportOf(whole).match(/<tr>(?:(?!<\/tr>).)*?Side \d.*?<\/tr>/gs);
    const read = rows?.map((row) =>
      row
        .replace(/<[^>]*>|&nbsp;|\s/g, " ")
        .replace(/ +/g, " ")
        .trim(),
    );
    assert.deepEqual(read, [
      "Side 1 side 11 ft",
      "Side 2 rear 22 ft",
      "Side 3 side 13 ft",
      "Side 4 front, on the street 34 ft",
    ]);
  });
});
