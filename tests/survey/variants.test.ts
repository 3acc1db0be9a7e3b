/**
 * One survey written the many ways surveyors write it (tests/reference/variants, with the outcome each should have).
 * The plain file is tests/reference/davis_topo_quarter_relief/points.csv.
 */
import { readFileSync } from "node:fs";
import { assert, describe, test } from "vitest";
import { signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { toSurvey } from "../../analysis/survey/index.js";
import { codesOf, intake, problemsFrom, reference, surveyFrom } from "./intake.js";

const boundary = reference("davis_topo_ft/boundary.csv");
const expected: Record<string, { pointsUsed?: number; lotAreaFt2?: number }> = JSON.parse(
  readFileSync(new URL("../reference/variants/expected.json", import.meta.url), "utf8"),
);
const variant = (name: string) => reference(`variants/${name}`);
/** Easting, northing, elevation of the plain file, sorted: the truth every complete variant must give back. */
const plain = new TextDecoder()
  .decode(reference("davis_topo_quarter_relief/points.csv"))
  .trim()
  .split(/\r?\n/)
  .slice(1)
  .map((line) => line.split(","))
  .map(([, n, e, z]) => `${Number(e).toFixed(2)} ${Number(n).toFixed(2)} ${Number(z).toFixed(2)}`)
  .sort();

const complete = Object.keys(expected).filter((name) => /^(0[1-7]|13|15)/.test(name));
describe("variants that hold the whole survey", () => {
  assert.equal(complete.length, 9);
  test.each(complete)("%s gives every shot where it was taken", async (name) => {
    const survey = await surveyFrom({ topo: variant(name), boundary });
    const { ground, frame } = survey;
    const shots = Array.from({ length: ground.count }, (_, i) => {
      const [e, n] = toSurvey(frame, [ground.eastFt[i]!, ground.northFt[i]!]);
      return `${e.toFixed(2)} ${n.toFixed(2)} ${ground.elevFt[i]!.toFixed(2)}`;
    }).sort();
    assert.deepEqual(shots, plain);
    assert.equal(survey.summary.pointsUsed, expected[name]!.pointsUsed);
    assert.deepEqual(survey.summary.excluded, []);
    assert.closeTo(signedAreaFt2(survey.boundary), 56_252.5, 0.01);
  });
});

test("02: the order of unnamed columns is told, with the reason", async () => {
  const { summary } = await surveyFrom({ topo: variant("02-no-header.csv"), boundary });
  assert.match(
    summary.columnsBecause,
    /point, northing, easting, elevation, description.*only so the shots cover the lot/,
  );
});

test("07: easting before northing is recognised by the boundary and said; the lot is not mirrored", async () => {
  const survey = await surveyFrom({ topo: variant("07-easting-first-no-header.csv"), boundary });
  assert.include(codesOf(survey), "mirrored-axes");
  assert.deepEqual(survey.summary.columns, {
    point: 0,
    easting: 1,
    northing: 2,
    elevation: 3,
    description: 4,
  });
});

test("08: two zero elevations are left out and listed by row", async () => {
  const survey = await surveyFrom({ topo: variant("08-zero-elevations.csv"), boundary });
  assert.equal(survey.summary.pointsUsed, 50);
  assert.deepEqual(
    survey.summary.excluded.map(({ row, reason }) => [row, reason]),
    [
      [12, "elevation zero"],
      [32, "elevation zero"],
    ],
  );
  assert.include(codesOf(survey), "zero-elevations");
});

test("09: the exact repeat is dropped and listed, the disagreement names both rows", async () => {
  const { summary } = await surveyFrom({ topo: variant("09-duplicates.csv"), boundary });
  assert.equal(summary.pointsUsed, 52);
  assert.deepEqual(
    summary.excluded.map(({ row, reason }) => [row, reason]),
    [
      [54, "duplicate"],
      [55, "same place, another elevation"],
    ],
  );
  const conflict = summary.warnings.find(({ code }) => code === "duplicate-conflict");
  assert.deepEqual(conflict?.rows, [22, 55]);
});

test("11: a topo in metres on a boundary in feet is converted with a word about 3.28", async () => {
  const survey = await surveyFrom({ topo: variant("11-topo-in-metres.csv"), boundary });
  const warning = survey.summary.warnings.find(({ code }) => code === "topo-in-metres");
  assert.match(warning?.message ?? "", /3\.28/);
  assert.equal(survey.summary.pointsUsed, 52);
  assert.closeTo(Math.max(...survey.ground.elevFt), 757.5, 0.01);
});

test("11: the same topo with everything stated in metres is taken as it is", async () => {
  const inMetres = "corner,northing,easting\n".concat(
    [
      [10025, 5040],
      [10020, 5250],
      [10180, 5262],
      [10285, 5235],
      [10275, 5030],
    ]
      .map(([n, e], i) => `${i + 1},${n! * 0.3048},${e! * 0.3048}`)
      .join("\n"),
  );
  const survey = await surveyFrom({
    topo: variant("11-topo-in-metres.csv"),
    boundary: inMetres,
    request: { survey: { unit: "m" } },
  });
  assert.equal(survey.summary.pointsUsed, 52);
  assert.closeTo(signedAreaFt2(survey.boundary), 56_252.5, 0.01);
  assert.notInclude(codesOf(survey), "topo-in-metres");
});

test("11: a topo in metres on a boundary in feet is refused when feet were stated for both", async () => {
  const problems = await problemsFrom({
    topo: variant("11-topo-in-metres.csv"),
    boundary,
    request: { survey: { unit: "ft" } },
  });
  assert.deepEqual(
    problems.map(({ code }) => code),
    ["units-disagree"],
  );
});

test("14: inverts and building corners are not ground; oaks are, and keep people off", async () => {
  const { summary, features, noBuild } = await surveyFrom({ topo: variant("14-descriptions.csv"), boundary });
  assert.equal(summary.pointsUsed, 46);
  assert.deepEqual(
    summary.codes?.map(({ description, takenFor, ground, count }) => [description, takenFor, ground, count]),
    [
      ["GS", "ground", true, 42],
      ["OAK 18", "tree", true, 4],
      ["BLDG COR", "structure", false, 3],
      ["SD INV", "utility", false, 3],
    ],
  );
  assert.equal(features.filter(({ kind, trunkIn }) => kind === "tree" && trunkIn === 18).length, 4);
  // circle of 1 ft per inch of trunk: common practice, no source
  for (const { kind, polygons } of noBuild) {
    assert.equal(kind, "tree");
    assert.closeTo(signedAreaFt2(polygons[0]![0]!), Math.PI * 18 ** 2, 1e-6);
  }
  assert.equal(noBuild.length, 4);
});

test("a survey sent without any boundary is refused with what to send", async () => {
  const reading = await intake({ topo: variant("02-no-header.csv") });
  assert.equal(reading.ok, false);
});
