/** Bearings and distances: published traverses, closed-form curves, deeds as they are typed. */
import { assert, describe, test } from "vitest";
import { signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { arcLength, chordLength, deltaOfArc, deltaOfChord } from "../../analysis/survey/arc.js";
import { looksLikeCalls, readCalls } from "../../analysis/survey/calls.js";
import { toSurvey } from "../../analysis/survey/index.js";
import { adjustByCompass, walk } from "../../analysis/survey/traverse.js";
import { codesOf, problemsFrom, reference, surveyFrom } from "./intake.js";

const dms = (d: number, m: number, s: number) => d + m / 60 + s / 3600;

describe("compass rule (J. Mahun, Open Access Surveying Library, Traverse Adjustment Problem 2)", () => {
  const rows = [
    {
      azimuthDeg: dms(226, 54, 23),
      length: 639.15,
      lat: -436.662,
      dep: -466.732,
      adjLat: -436.631,
      adjDep: -466.761,
    },
    { azimuthDeg: 0, length: 523.69, lat: 523.69, dep: 0, adjLat: 523.715, adjDep: -0.023 },
    {
      azimuthDeg: dms(235, 2, 29),
      length: 409.54,
      lat: -234.66,
      dep: -335.645,
      adjLat: -234.64,
      adjDep: -335.663,
    },
    {
      azimuthDeg: dms(79, 35, 2),
      length: 815.93,
      lat: 147.517,
      dep: 802.484,
      adjLat: 147.556,
      adjDep: 802.447,
    },
  ];
  const traverse = walk(rows);
  // half of the last printed digit, and a little for the printed sums of rounded numbers
  const printed = 0.0006;
  test.each(rows.map((row, i) => ({ i, ...row })))(
    "course $i has the printed latitude and departure",
    ({ i, lat, dep }) => {
      assert.closeTo(traverse.steps[i]!.latitude, lat, printed);
      assert.closeTo(traverse.steps[i]!.departure, dep, printed);
    },
  );
  test("misclosure and precision", () => {
    assert.closeTo(traverse.perimeter, 2388.31, 0.005);
    // printed sums are of four rounded numbers, half a digit each
    assert.closeTo(traverse.misclosure.latitude, -0.115, 0.002);
    assert.closeTo(traverse.misclosure.departure, 0.107, 0.002);
    assert.closeTo(traverse.misclosure.length, 0.157, 0.002);
    assert.closeTo(traverse.perimeter / traverse.misclosure.length, 15_146, 1);
  });
  test.each(rows.map((row, i) => ({ i, ...row })))(
    "course $i is adjusted to the printed digits",
    ({ i, adjLat, adjDep }) => {
      const adjusted = adjustByCompass(rows, traverse)[i]!;
      assert.closeTo(adjusted.latitude, adjLat, printed);
      assert.closeTo(adjusted.departure, adjDep, printed);
    },
  );
  test("a deed is adjusted only when asked, each course by its share of the perimeter", async () => {
    // 2 ft too far west on a perimeter of 402 ft: the north-running first course moves 100/402 of 2 ft east
    const calls = "N 0° E 100\nN 90° E 100\nS 0° E 100\nN 90° W 102";
    const topo = gridOver(-20, -20, 120, 120);
    const corner = async (adjustBoundary?: "compass") => {
      const survey = await surveyFrom({
        topo,
        request: { boundary: { start: [0, 0], calls }, survey: adjustBoundary ? { adjustBoundary } : {} },
      });
      return { closure: survey.closure!, corners: survey.boundary.map((at) => toSurvey(survey.frame, at)) };
    };
    const raw = await corner();
    assert.equal(raw.closure.adjusted, false);
    assert.closeTo(raw.closure.misclosureFt, 2, 1e-9);
    assert.isTrue(raw.corners.some(([e, n]) => Math.abs(e) < 1e-9 && Math.abs(n - 100) < 1e-9));
    const adjusted = await corner("compass");
    assert.equal(adjusted.closure.adjusted, true);
    assert.equal(adjusted.closure.misclosureFt, raw.closure.misclosureFt);
    const moved = (2 * 100) / 402;
    assert.isTrue(adjusted.corners.some(([e, n]) => Math.abs(e - moved) < 1e-9 && Math.abs(n - 100) < 1e-9));
  });
});

/** Closed form: L = RΔ, C = 2R sin(Δ/2), segment = R²/2 (Δ − sin Δ). */
describe("elements of a curve", () => {
  test.each([
    { radius: 200, deltaDeg: 30, arc: 104.7198, chord: 103.5276 },
    { radius: 500, deltaDeg: 36, arc: 314.1593, chord: 309.017 },
    { radius: 1800, deltaDeg: dms(43, 25, 46), arc: 1364.376, chord: 1331.948 },
  ])("R = $radius, Δ = $deltaDeg°", ({ radius, deltaDeg, arc, chord }) => {
    const curve = { radius, deltaDeg, turn: "right" } as const;
    assert.closeTo(arcLength(curve), arc, 0.0006);
    assert.closeTo(chordLength(curve), chord, 0.0006);
    assert.closeTo(deltaOfArc(radius, arcLength(curve)), deltaDeg, 1e-9);
    assert.closeTo(deltaOfChord(radius, chordLength(curve)), deltaDeg, 1e-9);
  });
});

/** A square 200 ft wide whose north side bulges: area is the polygon of chords ± the circular segment. */
describe("a lot with a curved side has the area of its chords plus or minus the segment", () => {
  const delta = (30 * Math.PI) / 180;
  const radius = 200 / (2 * Math.sin(delta / 2));
  const segment = (radius * radius * (delta - Math.sin(delta))) / 2;
  const sides = "East 200; North 200;";
  const cases = [
    {
      curve: `curve to the left, radius ${radius}, central angle 30°, chord bears N 90° W 200`,
      area: 40_000 + segment,
    },
    {
      curve: `curve to the right, radius ${radius}, delta 30-00-00, chord bears N 90° W`,
      area: 40_000 - segment,
    },
    { curve: `curve left R=${radius} L=${radius * delta} CB=S 90-00-00 W`, area: 40_000 + segment },
    {
      curve: `along a curve to the left, chord bears West 200.00 feet, radius of ${radius} feet`,
      area: 40_000 + segment,
    },
  ];
  test.each(cases)("$curve", async ({ curve, area }) => {
    const { boundary, inputEdge, closure } = await surveyFrom({
      topo: gridOver(-50, -50, 250, 250),
      request: { boundary: { start: [0, 0], calls: `${sides} ${curve}; South 200` } },
    });
    // chords leave the arc by at most 0.005 ft, so by less than 2/3 of that over the arc
    assert.closeTo(signedAreaFt2(boundary), area, 0.005 * 210);
    assert.isBelow(closure!.misclosureFt, 0.01);
    assert.deepEqual([...new Set(inputEdge)].sort(), [0, 1, 2, 3]);
  });

  test("a tangent curve takes its direction from the course before it", async () => {
    // a slot: two sides 300 ft long joined by half circles of radius 50
    const calls =
      "Beginning at N 0 E 0; thence N 0°00'00\" E 300 feet to the beginning of a tangent curve concave to the east having a radius of 50.00 feet; thence along said curve through a central angle of 180°00'00\", an arc distance of 157.08 feet; thence S 0°00'00\" E 300.00 feet; thence along a tangent curve to the right, radius 50 feet, central angle 180°00'00\" to the point of beginning.";
    const { boundary } = await surveyFrom({ topo: gridOver(-60, -60, 160, 360), boundary: calls });
    assert.closeTo(signedAreaFt2(boundary), 100 * 300 + Math.PI * 50 ** 2, 0.005 * 315);
  });
});

test("16: the deed of the reference lot closes within 0.05 ft and has its area", async () => {
  const survey = await surveyFrom({
    topo: reference("variants/02-no-header.csv"),
    request: {
      boundary: { start: [5040, 10025], calls: new TextDecoder().decode(reference("variants/16-calls.txt")) },
    },
  });
  assert.isBelow(survey.closure!.misclosureFt, 0.05);
  assert.closeTo(signedAreaFt2(survey.boundary), 56_252.5, 5);
});

// 12.504166… = 12 + 30/60 + 15/3600
describe("one bearing in many hands", () => {
  test.each([
    "N 12°30'15\" E 210.55",
    "N12-30-15E 210.55",
    "N 12d30m15s E, 210.55 ft",
    "N 12 30 15 E 210.55'",
    "North 12 degrees 30 minutes 15 seconds East, a distance of 210.55 feet",
    "N 12º30’15” E   210.55",
    "N 12° 30' 15\" E along the line of Lot 4, a distance of 210.55 feet to a pipe",
    "NORTH 12°30'15\" EAST 210.55 FEET",
    "azimuth 12-30-15 210.55",
  ])("%s", (text) => {
    const { calls, unread } = readCalls(text);
    assert.deepEqual(unread, []);
    assert.equal(calls.length, 1);
    const [call] = calls;
    assert.ok(call?.kind === "line");
    assert.closeTo(call.azimuthDeg, dms(12, 30, 15), 1e-9);
    assert.equal(call.length.value, 210.55);
  });

  test.each([
    ["S 45.5° W 10", 225.5],
    ["S 10° E 10", 170],
    ["N 10° W 10", 350],
    ["due south 10 feet", 180],
    ["West, 10.00 feet", 270],
  ])("%s points to %d°", (text, azimuthDeg) => {
    const [call] = readCalls(text as string).calls;
    assert.ok(call?.kind === "line");
    assert.closeTo(call.azimuthDeg, azimuthDeg as number, 1e-9);
  });

  // exact by definition: chain 66 ft, rod 16.5 ft, link 0.66 ft
  test.each([
    ["N 1° E 5 chains", 330],
    ["N 1° E 4 rods", 66],
    ["N 1° E 100 links", 66],
    ["N 1° E 1,210.5 feet", 1210.5],
  ])("%s is %d ft", (text, feet) => {
    const [call] = readCalls(text as string).calls;
    assert.ok(call?.kind === "line");
    assert.closeTo(call.length.value, feet as number, 1e-9);
  });
});

describe("calls that cannot be read are pointed at", () => {
  const lot = (third: string) => `N 0° E 100\nN 90° E 100\n${third}\nN 90° W 100`;
  test.each([
    ["S 95°00' E 100", /no possible bearing/],
    ["S 0°75' E 100", /no possible bearing/],
    ["S 0° E", /no distance/],
    ["S 0° E to the oak", /no distance/],
  ])("%s", async (third, why) => {
    const problems = await problemsFrom({
      topo: gridOver(-20, -20, 120, 120),
      request: { boundary: { start: [0, 0], calls: lot(third as string) } },
    });
    const [problem] = problems;
    assert.equal(problem!.code, "call-not-read");
    assert.equal(problem!.row, 3);
    assert.match(problem!.message, why as RegExp);
  });

  test("a deed without a start is asked for one", async () => {
    const problems = await problemsFrom({ topo: gridOver(-20, -20, 120, 120), boundary: lot("S 0° E 100") });
    assert.equal(problems[0]!.code, "calls-need-start");
  });

  test("east written for west is found by the misclosure", async () => {
    const problems = await problemsFrom({
      topo: gridOver(-20, -20, 120, 120),
      request: { boundary: { start: [0, 0], calls: "N 0° E 100\nN 90° E 100\nS 0° E 100\nN 90° E 100" } },
    });
    assert.equal(problems[0]!.code, "calls-do-not-close");
    assert.match(problems[0]!.message, /east and west exchanged/);
  });

  test("a poor closure is told and nothing is moved", async () => {
    const survey = await surveyFrom({
      topo: gridOver(-20, -20, 120, 120),
      request: { boundary: { start: [0, 0], calls: "N 0° E 100\nN 90° E 100\nS 0° E 100\nN 90° W 98" } },
    });
    assert.closeTo(survey.closure!.misclosureFt, 2, 1e-9);
    assert.include(codesOf(survey), "misclosure-large");
    assert.closeTo(signedAreaFt2(survey.boundary), 10_000, 1e-6);
  });

  test("a curve that says neither right nor left is asked about", async () => {
    const problems = await problemsFrom({
      topo: gridOver(-20, -20, 120, 120),
      request: {
        boundary: { start: [0, 0], calls: "N 0° E 100; curve radius 50 delta 90°; S 0° E 100; N 90° W 100" },
      },
    });
    assert.equal(problems[0]!.code, "curve-incomplete");
  });
});

test("a deed in feet from a start in metres is walked in metres", async () => {
  const topo = ["easting,northing,elevation"];
  for (let i = -1; i <= 4; i++)
    for (let j = -1; j <= 4; j++) topo.push(`${600_000 + 10 * i},${4_000_000 + 10 * j},${200 + i}`);
  const calls = "N 90° E 100.00 feet; N 0° E 100.00 feet; N 90° W 100.00 feet; S 0° E 100.00 feet";
  const survey = await surveyFrom({
    topo: topo.join("\n"),
    request: { boundary: { start: [600_000, 4_000_000], calls }, survey: { crs: "EPSG:26910" } },
  });
  assert.equal(survey.frame.unit, "m");
  assert.closeTo(signedAreaFt2(survey.boundary), 10_000, 1e-6);
  const [problem] = await problemsFrom({
    topo: "name,latitude,longitude,elevation_ft\n1,38.5,-121,700\n2,38.501,-121,710\n3,38.5,-121.001,720",
    request: { boundary: { start: [-121, 38.5], calls }, survey: { crs: "EPSG:4326" } },
  });
  assert.equal(problem!.code, "calls-in-degrees");
});

test("a table of corners is not taken for a deed", () => {
  assert.equal(looksLikeCalls(new TextDecoder().decode(reference("davis_topo_ft/boundary.csv"))), false);
});

/** Flat ground around a box, a shot every 40 ft: x, y, z. */
function gridOver(minX: number, minY: number, maxX: number, maxY: number): string {
  const rows = ["easting,northing,elevation"];
  for (let x = minX; x <= maxX; x += 40) for (let y = minY; y <= maxY; y += 40) rows.push(`${x},${y},100`);
  return rows.join("\n");
}
