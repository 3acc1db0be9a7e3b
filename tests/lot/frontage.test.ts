/** A street on a lot line that the boundary does not have is a typing error, never an unknown street. */
import { expect, test } from "vitest";
import { checkFrontage } from "../../analysis/lot/index.js";

/** Four sides; the third is an arc in two chords that share its number. */
const survey = { inputEdge: [0, 1, 2, 2, 3] };
const problemsOf = (frontage: readonly number[] | null) =>
  checkFrontage(survey, { access: { frontage, point: null, streetElevationFt: null } });

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
