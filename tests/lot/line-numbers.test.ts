/** Lot lines the boundary does not have are typing errors: never an unknown street, never another line's setback. */
import { expect, test } from "vitest";
import { checkLineNumbers } from "../../analysis/lot/index.js";
import type { Setbacks } from "../../analysis/request/index.js";

/** Four sides; the third is an arc in two chords that share its number. */
const survey = { inputEdge: [0, 1, 2, 2, 3] };
const problemsOf = (frontage: readonly number[] | null, setbacksFt: Setbacks = { all: 10 }) =>
  checkLineNumbers(survey, {
    access: { frontage, point: null, streetElevationFt: null },
    rules: { setbacksFt },
  });

test("every line of the boundary may be the street", () => {
  expect(problemsOf([0, 1, 2, 3])).toEqual([]);
  expect(problemsOf(null)).toEqual([]);
});

test("each number beyond the last line is refused with its place in the request and the numbers there are", () => {
  const problems = problemsOf([4, 0, 97]);
  expect(problems.map(({ where }) => where)).toEqual([
    "request.access.frontage[0]",
    "request.access.frontage[2]",
  ]);
  expect(problems[1]!.message).toContain("no lot line 97");
  expect(problems[1]!.remedy).toContain("from 0 to 3");
});

test("a setback for each line is taken; one too many or too few is refused", () => {
  expect(problemsOf(null, { edges: [10, 20, 30, 40] })).toEqual([]);
  for (const edges of [
    [10, 20, 30],
    [10, 20, 30, 40, 50],
  ]) {
    const [problem] = problemsOf(null, { edges });
    expect(problem!.where).toBe("request.rules.setbacksFt.edges");
    expect(problem!.message).toContain(`${edges.length} setbacks were given for 4 lot lines`);
  }
});
