/** Every example of docs/input-files.md is read, and gives the plane and the square it says it gives. */
import { readFileSync } from "node:fs";
import { assert, describe, test } from "vitest";
import { signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { type RequestInput, understandRequest } from "../../analysis/request/index.js";
import { buildTerrain } from "../../analysis/terrain/index.js";
import { surveyFrom } from "./intake.js";

const document = readFileSync(new URL("../../docs/input-files.md", import.meta.url), "utf8");

interface Example {
  readonly title: string;
  readonly blocks: Readonly<Record<string, string>>;
}

const examples: Example[] = document
  .split(/^#{2,3} /m)
  .map((section) => ({
    title: section.slice(0, section.indexOf("\n")),
    blocks: Object.fromEntries(
      Array.from(section.matchAll(/^```\w+ (\w+)\n([\s\S]*?)^```$/gm), ([, part, body]) => [part!, body!]),
    ),
  }))
  .filter(({ blocks }) => Object.keys(blocks).length > 0);

const titled = (title: string) => examples.find((e) => e.title === title)!.blocks;
const topo = titled("Table with names").topo!;
const boundary = titled("Corner list").boundary!;
/** Circle segment on a chord of 100 ft under 60°: R²/2 (Δ − sin Δ), R = 100. */
const segmentFt2 = 5_000 * (Math.PI / 3 - Math.sin(Math.PI / 3));

test("there is an example of each format that can be written down", () => {
  assert.isAtLeast(examples.filter(({ blocks }) => blocks.topo).length, 12);
  assert.isAtLeast(examples.filter(({ blocks }) => blocks.boundary ?? blocks.request).length, 6);
});

describe("each example is the plane 0.1 east, 0.2 north, and the square of 100 ft", () => {
  test.each(examples)("$title", async ({ title, blocks }) => {
    const request: RequestInput = blocks.request ? JSON.parse(blocks.request) : {};
    const survey = await surveyFrom({
      topo: blocks.topo ?? topo,
      ...(request.boundary ? {} : { boundary: blocks.boundary ?? boundary }),
      ...(blocks.constraints ? { constraints: blocks.constraints } : {}),
      ...(blocks.breaklines ? { breaklines: blocks.breaklines } : {}),
      request,
    });
    const { ground, frame } = survey;
    const area = 10_000 + (title.includes("curve") ? segmentFt2 : 0);
    // chords leave an arc by at most 0.005 ft
    assert.closeTo(signedAreaFt2(survey.boundary), area, title.includes("curve") ? 0.6 : 0.05);
    const degrees = frame.proj4 !== null;
    // shots stand on the plane: height above the lot's south-west corner, which is at 700 ft
    const [east0, north0] = survey.boundary.reduce((a, b) => (a[0] + a[1] <= b[0] + b[1] ? a : b));
    for (let i = 0; i < ground.count; i++) {
      const plane = 700 + 0.1 * (ground.eastFt[i]! - east0) + 0.2 * (ground.northFt[i]! - north0);
      assert.closeTo(ground.elevFt[i]!, plane, degrees ? 0.01 : 1e-6);
    }
    assert.equal(ground.count, title === "GeoJSON contours" ? 24 : 9);
    assert.deepEqual(survey.summary.excluded, []);
  });
});

test("the break lines of the examples have the plane's heights", async () => {
  const column = await surveyFrom({ topo: titled("Break lines in a column").topo!, boundary });
  assert.deepEqual(
    column.breaklines.map((line) => line.map(([, , z]) => z)),
    [[703, 715, 727]],
  );
  const file = await surveyFrom({ topo, boundary, breaklines: titled("Break lines").breaklines! });
  assert.deepEqual(
    file.breaklines.map((line) => line.map(([, , z]) => z)),
    [[710, 715, 720]],
  );
});

test("the invisible face of the LandXML example is the unsurveyed ground it says", async () => {
  const survey = await surveyFrom({ topo: titled("LandXML 1.2").topo!, boundary });
  const shaped = buildTerrain(survey, understandRequest({}).request);
  assert.isTrue(shaped.ok);
  // of the face (5050, 10050), (5110, 10110), (5050, 10110) a right triangle of 50 by 50 ft lies in the lot
  if (shaped.ok) assert.closeTo(shaped.terrain.summary.planAreaFt2, 10_000 - (50 * 50) / 2, 1e-6);
});

test("the constraints of the example have their areas", async () => {
  const { noBuild, constraintsGiven } = await surveyFrom({
    topo,
    boundary,
    constraints: titled("Constraints").constraints!,
  });
  assert.isTrue(constraintsGiven);
  assert.deepEqual(
    noBuild.map(({ name, kind }) => [name, kind]),
    [
      ["Sewer easement", "easement"],
      ["Creek", "watercourse"],
    ],
  );
  assert.closeTo(signedAreaFt2(noBuild[0]!.polygons[0]![0]!), 1_000, 1e-6);
  // a strip 100 by 30 ft with round ends of 15 ft
  assert.closeTo(signedAreaFt2(noBuild[1]!.polygons[0]![0]!), 3_000 + Math.PI * 15 ** 2, 1);
});
