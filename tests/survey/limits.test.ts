/** Where intake changes its mind: each limit of docs/input-files.md and docs/methods/survey.md from both sides. */
import { assert, describe, test } from "vitest";
import { trunkInches } from "../../analysis/survey/trunks.js";
import { codesOf, intake, problemsFrom, surveyFrom } from "./intake.js";
import { asTable, ORIGIN, planeShots, type Shot, SQUARE } from "./lot-on-a-plane.js";

const reasons = (survey: { summary: { excluded: readonly { reason: string }[] } }) =>
  survey.summary.excluded.map(({ reason }) => reason);
const read = (shots: readonly Shot[]) => surveyFrom({ topo: asTable(shots), boundary: SQUARE });

test("a spike stands more than 8 ft off a plane, not less", async () => {
  const planted = (byFt: number) =>
    planeShots().map((shot, i) => (i === 84 ? { ...shot, z: shot.z + byFt } : shot));
  assert.deepEqual(reasons(await read(planted(8.5))), ["spike"]);
  assert.deepEqual(reasons(await read(planted(-8.5))), ["spike"]);
  assert.deepEqual(reasons(await read(planted(7.5))), []);
});

describe("a zero is no height", () => {
  const flat = (z: number) =>
    planeShots().map((shot, i) => ({ ...shot, z: i === 84 ? 0 : z + (i % 3) / 10 }));
  test("more than 20 ft from the middle of level ground", async () => {
    assert.deepEqual(reasons(await read(flat(22))), ["elevation zero"]);
    assert.notInclude(reasons(await read(flat(19))), "elevation zero");
  });
  test("but is one on a hill that comes down to the sea: within six spreads of the middle", async () => {
    const hill = planeShots().map((shot) => ({ ...shot, z: Math.round(0.4 * (shot.e - 4_950)) }));
    assert.isTrue(hill.some(({ z }) => z === 0));
    assert.deepEqual(reasons(await read(hill)), []);
  });
});

test("shots within half a foot of one line are a profile, not a surface", async () => {
  const strip = (wideFt: number) =>
    Array.from({ length: 40 }, (_, i): Shot => {
      const off = (i % 2 ? wideFt : -wideFt) / 2 / Math.SQRT2;
      return { e: ORIGIN.e + 5 * i - off, n: ORIGIN.n + 5 * i + off, z: 700 + i, d: "GS" };
    });
  // the line between the two farthest shots may run askew: the spread across it is up to twice the width
  const [problem] = await problemsFrom({ topo: asTable(strip(0.2)), boundary: SQUARE });
  assert.equal(problem!.code, "topo-on-one-line");
  assert.isTrue((await intake({ topo: asTable(strip(0.6)), boundary: SQUARE })).ok);
});

describe("which reading meets", () => {
  test("the other order of the axes is taken where it covers much more of the lot, not wholly more", async () => {
    // as point, northing, easting the shots cover 150 × 60 of 200 × 200 ft; the other way round all of it
    const rows = planeShots().map(({ e, n, z }, i) => `${i + 1},${n - 4_850},${e},${z}`);
    const boundary = "corner,northing,easting\n1,4960,5100\n2,4960,5300\n3,5160,5300\n4,5160,5100";
    assert.include(codesOf(await surveyFrom({ topo: rows.join("\n"), boundary })), "mirrored-axes");
  });
  test("a topo that covers an eighth of the lot meets it", async () => {
    const survey = await read(planeShots().filter(({ e }) => e < 5_030));
    assert.include(codesOf(survey), "corners-beyond-shots");
  });
  test("metres are believed where they cover three quarters of the lot and feet none", async () => {
    const metric = planeShots()
      .filter(({ e }) => e < 5_150)
      .map(({ e, n, z }) => ({ e: e * 0.3048, n: n * 0.3048, z: z * 0.3048, d: "GS" }));
    assert.include(codesOf(await read(metric)), "topo-in-metres");
  });
});

test("two shots at one place repeat each other within 0.05 ft of height", async () => {
  const [first] = planeShots() as [Shot];
  const again = (byFt: number) => read([...planeShots(), { ...first, z: first.z + byFt }]);
  assert.deepEqual(reasons(await again(0.04)), ["duplicate"]);
  assert.deepEqual(reasons(await again(0.06)), ["same place, another elevation"]);
});

test("trunks in centimetres, and no trunk is wider than 150 in", () => {
  assert.closeTo(trunkInches("PINE 40CM")!, 40 / 2.54, 1e-9);
  assert.equal(trunkInches("OAK 150"), 150);
  assert.isNull(trunkInches("OAK 151"));
});

test("calls that miss their beginning by more than a tenth of their length are refused", async () => {
  // a square of 100 ft whose last side is too short: it misses by x of 400 − x ft
  const squareLess = (x: number) => ({
    topo: asTable(planeShots()),
    request: {
      boundary: {
        start: [5_000, 10_000] as [number, number],
        calls: `N 90° E 100.00; N 0° E 100.00; S 90° W 100.00; S 0° E ${(100 - x).toFixed(2)}`,
      },
    },
  });
  assert.include(codesOf(await surveyFrom(squareLess(35))), "misclosure-large");
  const [problem] = await problemsFrom(squareLess(38));
  assert.equal(problem!.code, "calls-do-not-close");
});

test("traced contours are never better than shots, however close they stand", async () => {
  const sigmaFt = async (sourceContourIntervalFt: number) =>
    (
      await surveyFrom({
        topo: asTable(planeShots()),
        boundary: SQUARE,
        request: { survey: { source: "contours", sourceContourIntervalFt } },
      })
    ).summary.verticalAccuracyFt;
  assert.equal(await sigmaFt(0.5), 0.3);
  assert.closeTo(await sigmaFt(2), 1 / 1.645, 1e-9);
});

test("a shot left out for its height is no corner of a break line", async () => {
  const rows = planeShots().map(({ e, n, z }, i) => {
    const onLine = i >= 82 && i <= 86;
    return `${i + 1},${n},${e},${i === 84 ? z + 40 : z},${onLine ? "crest" : ""}`;
  });
  const topo = ["point,northing,easting,elevation,line", ...rows].join("\n");
  const survey = await surveyFrom({ topo, boundary: SQUARE });
  assert.deepEqual(reasons(survey), ["spike"]);
  assert.equal(survey.breaklines[0]!.length, 4);
});
