/** The invented lots that threads study before they are needed. */
import { expect, test } from "vitest";
import type { StudyOutcome } from "../../analysis/study/result.js";
import { studyLot } from "../../analysis/study.js";
import { readDefaultBook } from "../../server/start.js";
import type { StudyTools } from "../../server/tasks/make-study.js";
import { studyInvented } from "../../server/tasks/warm-up.js";
import { renderPages } from "../../templates/render-report.js";

const book = readDefaultBook();
const outcomes: StudyOutcome[] = [];
let rendered = 0;
const tools: StudyTools = {
  studyLot: async (input) => {
    const outcome = await studyLot(input);
    outcomes.push(outcome);
    return outcome;
  },
  renderPages: (...page) => {
    rendered++;
    return renderPages(...page);
  },
  thumbnail: () => "",
};

test("go the whole way, so that every way to build, the driveway, the drains and the pages are compiled", {
  timeout: 60_000,
}, async () => {
  for (const turn of [0, 1]) expect(await studyInvented(turn, book, tools, () => false)).toBe(true);
  expect(rendered).toBe(2);
  const schemes = outcomes.flatMap((outcome) => (outcome.ok ? outcome.study.schemes : []));
  const fitting = new Set(schemes.filter(({ feasible }) => feasible).map(({ kind }) => kind));
  expect(new Set(schemes.map(({ kind }) => kind)).size).toBe(5);
  expect(fitting.size).toBeGreaterThanOrEqual(3);
  expect(schemes.some(({ basement }) => basement !== null)).toBe(true);
  expect(schemes.some(({ access }) => access.reachable)).toBe(true);
});

test("stop at the step at which the thread is wanted", async () => {
  const before = rendered;
  let steps = 0;
  expect(await studyInvented(0, book, tools, () => ++steps === 3)).toBe(false);
  expect(steps).toBe(3);
  expect(rendered).toBe(before);
});
