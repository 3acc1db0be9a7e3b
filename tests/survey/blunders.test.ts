/** Faults that surveys have: each is planted in a sound survey, found by row, and told with its evidence. */
import { assert, describe, test } from "vitest";
import { inUsUnits } from "../../analysis/measure.js";
import { codesOf, problemsFrom, reference, surveyFrom } from "./intake.js";
import { asTable, ORIGIN, planeShots, planeZ, type Shot, SQUARE } from "./lot-on-a-plane.js";

/** Row of the file that holds shot i: the header is row 1. */
const rowOf = (i: number) => i + 2;

function planted(changes: Record<number, Partial<Shot>>, more: readonly Shot[] = []): string {
  return asTable([...planeShots().map((shot, i) => ({ ...shot, ...changes[i] })), ...more]);
}

const left = (survey: { summary: { excluded: readonly { row: number; reason: string }[] } }) =>
  survey.summary.excluded.map(({ row, reason }) => [row, reason]);

test("a sound survey is left alone", async () => {
  const survey = await surveyFrom({ topo: planted({}), boundary: SQUARE });
  assert.deepEqual(survey.summary.excluded, []);
  assert.deepEqual(codesOf(survey), ["unit-assumed", "datum-not-stated", "date-not-stated"]);
});

describe("spikes", () => {
  // 84 is in the middle of the lot, 0 the survey's own corner, 12 and 6 on its rim
  test.each([84, 0, 6, 12, 100])(
    "10 ft too high at shot %d is found by row, with the height it is off",
    async (i) => {
      const { z } = planeShots()[i]!;
      const survey = await surveyFrom({ topo: planted({ [i]: { z: z + 10 } }), boundary: SQUARE });
      assert.deepEqual(left(survey), [[rowOf(i), "spike"]]);
      assert.match(inUsUnits(survey.summary.excluded[0]!.evidence!), /stands 10 ft above/);
      assert.deepEqual(
        survey.leftOut?.map(({ row }) => row),
        [rowOf(i)],
      );
      assert.include(codesOf(survey), "spikes-excluded");
    },
  );

  test("5 ft too low is ground: ditches and boulders are that deep", async () => {
    const { z } = planeShots()[84]!;
    const survey = await surveyFrom({ topo: planted({ 84: { z: z - 5 } }), boundary: SQUARE });
    assert.deepEqual(left(survey), []);
  });

  test("leading digits cut off are recognised as such", async () => {
    const { z } = planeShots()[84]!;
    const survey = await surveyFrom({ topo: planted({ 84: { z: z - 700 } }), boundary: SQUARE });
    assert.deepEqual(left(survey), [[rowOf(84), "spike"]]);
    assert.match(inUsUnits(survey.summary.excluded[0]!.evidence!), /with 700 ft more it would fit/);
  });

  test("a run of cut-off digits is found although the neighbours share the fault", async () => {
    const shots = planeShots();
    const survey = await surveyFrom({
      topo: planted({
        83: { z: shots[83]!.z - 700 },
        84: { z: shots[84]!.z - 700 },
        85: { z: shots[85]!.z - 700 },
      }),
      boundary: SQUARE,
    });
    assert.deepEqual(
      left(survey).map(([row]) => row),
      [rowOf(83), rowOf(84), rowOf(85)],
    );
  });

  test("a wall 12 ft high is no spike: its top is shot in a row", async () => {
    // everything east of a line stands 12 ft higher
    const shots = planeShots().map((shot) => (shot.e > 5_100 ? { ...shot, z: shot.z + 12 } : shot));
    const survey = await surveyFrom({ topo: asTable(shots), boundary: SQUARE });
    assert.deepEqual(left(survey), []);
  });

  test("keepRows keeps a spike", async () => {
    const { z } = planeShots()[84]!;
    const survey = await surveyFrom({
      topo: planted({ 84: { z: z + 40 } }),
      boundary: SQUARE,
      request: { survey: { keepRows: [rowOf(84)] } },
    });
    assert.deepEqual(left(survey), []);
    assert.equal(survey.summary.pointsUsed, 169);
  });

  // open data without blunders: rough ground must not lose a shot
  test.each([
    "davis_topo_ft",
    "davis_topo_quarter_relief",
    "maungawhau_lot",
    "synth_dome",
    "synth_plane_20pct_az0",
  ])("nothing is taken out of %s", async (set) => {
    const survey = await surveyFrom({
      topo: reference(`${set}/points.csv`),
      boundary: reference(`${set}/boundary.csv`),
    });
    assert.deepEqual(left(survey), []);
  });
});

describe("elevations that were not measured", () => {
  test("zero near sea level is a height", async () => {
    const shots = planeShots().map((shot) => ({ ...shot, z: Math.round(shot.z - 722) }));
    const survey = await surveyFrom({ topo: asTable(shots), boundary: SQUARE });
    assert.isTrue(shots.some(({ z }) => z === 0));
    assert.notInclude(codesOf(survey), "zero-elevations");
  });
  test("higher than any mountain", async () => {
    const survey = await surveyFrom({ topo: planted({ 84: { z: 999_999 } }), boundary: SQUARE });
    assert.deepEqual(left(survey), [[rowOf(84), "elevation not on earth"]]);
  });
});

describe("coordinates", () => {
  test("a shot with digits lost lies far from the lot and is listed", async () => {
    const survey = await surveyFrom({ topo: planted({ 84: { n: 100 } }), boundary: SQUARE });
    assert.deepEqual(left(survey), [[rowOf(84), "far from the lot"]]);
  });
  test("columns named the wrong way round are refused, not mirrored", async () => {
    const exchanged = asTable(planeShots()).replace("northing,easting", "easting,northing");
    const [problem] = await problemsFrom({ topo: exchanged, boundary: SQUARE });
    assert.equal(problem!.code, "axes-exchanged");
    assert.match(problem!.remedy, /survey\.columns/);
  });
  test("survey.columns settles it", async () => {
    const exchanged = asTable(planeShots()).replace("northing,easting", "easting,northing");
    const survey = await surveyFrom({
      topo: exchanged,
      boundary: SQUARE,
      request: { survey: { columns: { northing: 1, easting: 2, elevation: 3 } } },
    });
    assert.equal(survey.summary.pointsUsed, 169);
  });
  test("when either order fits, the trade's is taken and it is said", async () => {
    // a lot on the diagonal: northings and eastings alike
    const rows = planeShots().map(({ e, n, z }, i) => `${i + 1},${n - 5_000},${e},${z}`);
    const boundary = SQUARE.replaceAll("10000", "5000").replaceAll("10200", "5200");
    const survey = await surveyFrom({ topo: rows.join("\n"), boundary });
    assert.include(codesOf(survey), "columns-guessed");
  });
  test("the same of corners without a header, whose mirror image meets the topo as well", async () => {
    const topo = asTable(planeShots().map((shot) => ({ ...shot, n: shot.n - 5_000 })));
    const corners = ["5000,5000", "5000,5200", "5200,5100", "5150,5000"];
    const numbered = corners.map((corner, i) => `${i + 1},${corner}.0`).join("\n");
    for (const [boundary, order] of [
      [corners.join("\n"), /the order easting, northing was taken/],
      [numbered, /the order point, northing, easting was taken/],
    ] as const) {
      const survey = await surveyFrom({ topo, boundary });
      const warning = survey.summary.warnings.find(({ code }) => code === "columns-guessed");
      assert.match(warning!.message, /^The boundary has no header/);
      assert.match(warning!.message, order);
    }
    const bare = topo.split("\n").slice(1).join("\n");
    const survey = await surveyFrom({ topo: bare, boundary: numbered });
    const warning = survey.summary.warnings.find(({ code }) => code === "columns-guessed");
    assert.match(warning!.message, /^Neither the topo nor the boundary has a header/);
  });
  test("corners without a header, of which one order only meets the topo, are no guess", async () => {
    const boundary = SQUARE.split("\n").slice(1).join("\n");
    const survey = await surveyFrom({ topo: asTable(planeShots()), boundary });
    assert.notInclude(codesOf(survey), "columns-guessed");
    const exchanged = boundary.replaceAll(/(\d+),(\d+),(\d+)/g, "$1,$3,$2");
    const mirrored = await surveyFrom({ topo: asTable(planeShots()), boundary: exchanged });
    const warning = mirrored.summary.warnings.find(({ code }) => code === "mirrored-axes");
    assert.match(warning!.message, /^The boundary meets .* from the trade's usual order/);
  });
  test("a topo somewhere else is refused with both ranges", async () => {
    const away = planeShots().map((shot) => ({ ...shot, e: shot.e + 3_000 }));
    const [problem] = await problemsFrom({ topo: asTable(away), boundary: SQUARE });
    assert.equal(problem!.code, "topo-misses-lot");
    assert.match(problem!.message, /7950\.0 to 8254\.0/);
  });
  test("a topo that covers part of the lot says which part it does not reach", async () => {
    const half = planeShots().filter(({ e }) => e < 5_110);
    const survey = await surveyFrom({ topo: asTable(half), boundary: SQUARE });
    const warning = survey.summary.warnings.find(({ code }) => code === "corners-beyond-shots");
    // corners at 5200; the easternmost shots kept are at most at 5110
    assert.match(inUsUnits(warning!.message), /^2 of 4 lot corners .* by up to 9\d ft/);
  });
});

describe("repeats", () => {
  test("a repeat a hair away is dropped, whichever comes first in space", async () => {
    const { e, n, z } = planeShots()[84]!;
    const survey = await surveyFrom({
      topo: planted({}, [{ e: e - 0.01, n: n + 0.01, z, d: "GS" }]),
      boundary: SQUARE,
    });
    assert.deepEqual(left(survey), [[rowOf(169), "duplicate"]]);
  });

  test("in a heap of shots every one kept is alone in its place, and every one dropped is near one that was kept", async () => {
    // shots on whole thousandths within a third of a foot, in an order that says nothing of their place
    const heap = Array.from({ length: 600 }, (_, i): Shot => {
      const e = 5_100 + ((i * 7_919) % 331) / 1_000;
      const n = 10_100 + ((i * 104_729) % 317) / 1_000;
      return { e, n, z: planeZ(e, n), d: "GS" };
    });
    const survey = await surveyFrom({ topo: asTable([...planeShots(), ...heap]), boundary: SQUARE });
    const { count, row } = survey.ground;
    const shots = [...planeShots(), ...heap];
    const kept = Array.from({ length: count }, (_, k) => shots[row[k]! - 2]!);
    const apartFt = (a: Shot, b: Shot) => Math.hypot(a.e - b.e, a.n - b.n);
    const nearest = (shot: Shot) =>
      Math.min(...kept.map((other) => (other === shot ? Infinity : apartFt(shot, other))));
    for (const shot of kept) assert.isAbove(nearest(shot), 0.02 - 1e-6);
    const isKept = new Set(kept);
    const dropped = shots.filter((shot) => !isKept.has(shot));
    assert.isAbove(dropped.length, 100);
    for (const shot of dropped) assert.isBelow(nearest(shot), 0.02 + 1e-6);
  });
  test("repeats within one feature of GeoJSON are counted one by one", async () => {
    // two contours, each drawn round twice: 4 of 8 corners of each repeat
    const round = (by: number) => [
      [4_950 + by, 9_950 + by],
      [5_250 - by, 9_950 + by],
      [5_250 - by, 10_250 - by],
      [4_950 + by, 10_250 - by],
    ];
    const contour = (elevation: number, by: number) => ({
      type: "Feature",
      properties: { elevation },
      geometry: { type: "LineString", coordinates: [...round(by), ...round(by)] },
    });
    const topo = { type: "FeatureCollection", features: [contour(700, 0), contour(705, 60)] };
    const survey = await surveyFrom({ topo: JSON.stringify(topo), boundary: SQUARE });
    assert.equal(survey.summary.pointsUsed, 8);
    const warning = survey.summary.warnings.find(({ code }) => code === "duplicates-dropped");
    assert.match(warning!.message, /^8 shots repeat others/);
  });
  test("a hundred thousand shots at one place are one shot", async () => {
    const { e, n, z } = planeShots()[84]!;
    const survey = await surveyFrom({
      topo: planted(
        {},
        Array.from({ length: 100_000 }, () => ({ e, n, z, d: "GS" })),
      ),
      boundary: SQUARE,
    });
    assert.equal(survey.summary.pointsUsed, 169);
  });
  test("two shots at one place are found in a survey so dense that its cells are smaller than a place", async () => {
    const z = 700;
    const at = (e: number, n: number): Shot => ({ e: 5_000 + e, n: 10_000 + n, z, d: "GS" });
    // nearly all shots on a strip, so that elsewhere nobody else is near the two, which lie 0.018 ft apart
    const strip = Array.from({ length: 60_000 }, (_, i) =>
      at((i % 101) / 1_000, ((i * 7_919) % 1_201) / 1_000),
    );
    const sparse = Array.from({ length: 121 }, (_, i) => at(0.2 + (i % 11) / 10, Math.floor(i / 11) / 10));
    const survey = await surveyFrom({
      topo: asTable([...strip, ...sparse, at(0.95, 0.95), at(0.968, 0.95)]),
      boundary: "corner,northing,easting\n1,10000,5000\n2,10000,5001\n3,10001,5001\n4,10001,5000",
    });
    assert.include([...survey.ground.row], rowOf(60_121));
    assert.notInclude([...survey.ground.row], rowOf(60_122));
  });
  test("keepRows says which of two heights is right", async () => {
    const { e, n, z } = planeShots()[84]!;
    const survey = await surveyFrom({
      topo: planted({}, [{ e, n, z: z + 2, d: "GS" }]),
      boundary: SQUARE,
      request: { survey: { keepRows: [rowOf(169)] } },
    });
    assert.deepEqual(left(survey), [[rowOf(84), "same place, another elevation"]]);
    assert.closeTo(
      Math.max(...survey.ground.elevFt.filter((_, i) => survey.ground.row[i] === rowOf(169))),
      planeZ(e, n) + 2,
      0.001,
    );
  });
});

describe("corners", () => {
  test("a number left out of the count is told", async () => {
    const survey = await surveyFrom({
      topo: planted({}),
      boundary: SQUARE.replace("\n3,", "\n4,").replace("\n4,10200,5000", "\n5,10200,5000"),
    });
    const warning = survey.summary.warnings.find(({ code }) => code === "corners-not-in-order");
    assert.match(warning!.message, /Corner 4 follows corner 2 \(row 4\)/);
  });
  test("a lot of 500 ft² is asked about", async () => {
    const survey = await surveyFrom({
      topo: planted({}),
      request: {
        boundary: {
          ring: [
            [5_000, 10_000],
            [5_025, 10_000],
            [5_025, 10_020],
            [5_000, 10_020],
          ],
        },
      },
    });
    assert.include(codesOf(survey), "lot-small");
  });
  test("a lot of more than a thousand acres is refused", async () => {
    const shots = planeShots().map((shot) => ({
      ...shot,
      e: (shot.e - 5_000) * 60,
      n: (shot.n - 10_000) * 60,
    }));
    const [problem] = await problemsFrom({
      topo: asTable(shots),
      request: {
        boundary: {
          ring: [
            [0, 0],
            [12_000, 0],
            [12_000, 12_000],
            [0, 12_000],
          ],
        },
      },
    });
    assert.equal(problem!.code, "lot-too-large");
  });
  test("five thousand corners are refused at once", async () => {
    const ring = Array.from({ length: 5_000 }, (_, i): [number, number] => [
      5_100 + 90 * Math.cos((2 * Math.PI * i) / 5_000),
      10_100 + 90 * Math.sin((2 * Math.PI * i) / 5_000),
    ]);
    const [problem] = await problemsFrom({ topo: planted({}), request: { boundary: { ring } } });
    assert.equal(problem!.code, "boundary-too-many-corners");
  });
});

describe("lines and areas drawn somewhere else", () => {
  const line = (...corners: [number, number, number][]) =>
    JSON.stringify({ type: "LineString", coordinates: corners });
  const { e, n } = ORIGIN;
  test.each([
    ["a corner with digits lost", line([e, n, 700], [e + 100, 100, 700]), "breaklines-far"],
    ["heights never filled in", line([e, n + 50, 0], [e + 200, n + 50, 0]), "breaklines-off-ground"],
    ["one height never filled in", line([e, n, 700], [e + 200, n, 0]), "breaklines-off-ground"],
    ["heights in metres", line([e, n, 213], [e + 200, n, 220]), "breaklines-off-ground"],
  ])("a break line with %s is left out, and it is said", async (_, breaklines, code) => {
    const survey = await surveyFrom({ topo: asTable(planeShots()), boundary: SQUARE, breaklines });
    assert.include(codesOf(survey), code);
    assert.deepEqual(survey.breaklines, []);
  });
  test("a wall top and a break line beside the lot stay", async () => {
    const breaklines = line([e - 40, n, planeZ(e - 40, n) + 20], [e - 40, n + 100, planeZ(e - 40, n + 100)]);
    const survey = await surveyFrom({ topo: asTable(planeShots()), boundary: SQUARE, breaklines });
    assert.equal(survey.breaklines.length, 1);
  });
  test("an easement that reaches nowhere near the lot is named", async () => {
    const area = (name: string, x: number) => ({
      type: "Feature",
      properties: { name, kind: "easement" },
      geometry: {
        type: "Polygon",
        coordinates: [
          [
            [x, n],
            [x + 20, n],
            [x + 20, n + 200],
            [x, n],
          ],
        ],
      },
    });
    const constraints = { type: "FeatureCollection", features: [area("sewer", e), area("lane", e + 900)] };
    const survey = await surveyFrom({
      topo: asTable(planeShots()),
      boundary: SQUARE,
      constraints: JSON.stringify(constraints),
    });
    const warning = survey.summary.warnings.find(({ code }) => code === "constraints-off-lot");
    assert.match(warning!.message, /: 1 of 2 \(lane\)/);
    assert.equal(survey.noBuild.length, 2);
  });
});
