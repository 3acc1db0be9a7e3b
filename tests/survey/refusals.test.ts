/** Surveys that cannot be read: each is refused with a code, a place, and something to do. */
import { assert, describe, test } from "vitest";
import type { RequestInput } from "../../analysis/request/index.js";
import { codesOf, problemsFrom, type Sent, surveyFrom } from "./intake.js";
import { asTable, planeShots, SQUARE } from "./lot-on-a-plane.js";

const topo = asTable(planeShots());
const bytes = (...values: number[]) => new Uint8Array(values);
const corners = (...rows: [number, number][]) =>
  ["corner,northing,easting", ...rows.map(([n, e], i) => `${i + 1},${n},${e}`)].join("\n");

interface Refused {
  readonly what: string;
  readonly code: string;
  readonly topo?: Sent;
  readonly boundary?: Sent;
  readonly constraints?: Sent;
  readonly breaklines?: Sent;
  readonly request?: RequestInput;
  readonly row?: number;
}

const cases: Refused[] = [
  { what: "no topo", code: "topo-missing", boundary: SQUARE },
  { what: "no boundary", code: "boundary-missing", topo },
  { what: "an empty topo", code: "topo-empty", topo: "", boundary: SQUARE },
  { what: "an empty boundary", code: "boundary-empty", topo, boundary: bytes() },
  {
    what: "a letter for a topo",
    code: "topo-no-points",
    topo: "Dear Sir,\nplease find enclosed.",
    boundary: SQUARE,
  },
  { what: "a letter for a boundary", code: "boundary-no-corners", topo, boundary: "Dear Sir" },
  { what: "a PDF", code: "topo-not-data", topo: "%PDF-1.7 …", boundary: SQUARE },
  { what: "a spreadsheet", code: "topo-not-data", topo: bytes(0x50, 0x4b, 3, 4, 20, 0), boundary: SQUARE },
  { what: "a CAD drawing", code: "boundary-not-data", topo, boundary: "AC1027" },
  {
    what: "two shots",
    code: "topo-too-few-points",
    topo: topo.split("\n").slice(0, 3).join("\n"),
    boundary: SQUARE,
  },
  {
    what: "shots on one line",
    code: "topo-on-one-line",
    topo: ["n,e,z", ...Array.from({ length: 20 }, (_, i) => `${10_000 + 10 * i},${5_000 + 10 * i},700`)].join(
      "\n",
    ),
    boundary: SQUARE,
  },
  {
    what: "a header without elevations",
    code: "columns-missing",
    topo: topo.replace("elevation", "colour"),
    boundary: SQUARE,
  },
  {
    what: "columns that are not numbers side by side",
    code: "columns-not-recognised",
    topo: planeShots()
      .map(({ e, n, z }) => `${e.toFixed(1)},a,${n.toFixed(1)},b,${z.toFixed(1)}`)
      .join("\n"),
    boundary: SQUARE,
  },
  {
    what: "columns told wrongly",
    code: "topo-unreadable",
    topo,
    boundary: SQUARE,
    request: { survey: { columns: { northing: 1, easting: 2, elevation: 4 } } },
    row: 2,
  },
  {
    what: "two corners",
    code: "boundary-too-few-corners",
    topo,
    boundary: corners([10_000, 5_000], [10_100, 5_000]),
  },
  {
    what: "one corner sent five times",
    code: "boundary-too-few-corners",
    topo,
    boundary: corners([10_000, 5_000], [10_000, 5_000], [10_000, 5_000], [10_000, 5_000], [10_000, 5_000]),
  },
  {
    what: "corners on a line",
    code: "boundary-no-area",
    topo,
    boundary: corners([10_000, 5_000], [10_100, 5_100], [10_200, 5_200]),
  },
  {
    what: "corners out of order",
    code: "boundary-crosses-itself",
    topo,
    boundary: corners([10_000, 5_000], [10_200, 5_200], [10_000, 5_200], [10_200, 5_000]),
    row: 2,
  },
  {
    what: "two lots that meet in a corner",
    code: "boundary-touches-itself",
    topo,
    boundary: corners(
      [10_000, 5_000],
      [10_000, 5_100],
      [10_100, 5_100],
      [10_200, 5_100],
      [10_200, 5_200],
      [10_100, 5_100],
      [10_100, 5_000],
    ),
    row: 7,
  },
  {
    what: "a corner that is no number",
    code: "boundary-row-not-read",
    topo,
    boundary: SQUARE.replace("10200,5200", "1O200,5200"),
    row: 4,
  },
  {
    what: "two polygons",
    code: "boundary-geojson",
    topo,
    request: {
      boundary: {
        type: "MultiPolygon",
        coordinates: [
          [
            [
              [5000, 10000],
              [5100, 10000],
              [5100, 10100],
            ],
          ],
          [
            [
              [5200, 10000],
              [5300, 10000],
              [5300, 10100],
            ],
          ],
        ],
      },
    },
  },
  {
    what: "a car's entry with northing and easting exchanged",
    code: "access-point-far",
    topo,
    boundary: SQUARE,
    request: { access: { point: [10_000, 5_100] } },
  },
  {
    what: "a lot line in two pieces",
    code: "boundary-geojson",
    topo,
    request: {
      boundary: {
        type: "MultiLineString",
        coordinates: [
          [
            [5000, 10000],
            [5200, 10000],
            [5200, 10100],
          ],
          [
            [5200, 10100],
            [5200, 10200],
            [5000, 10200],
            [5000, 10000],
          ],
        ],
      },
    },
  },
  {
    what: "GeoJSON with a word for a number",
    code: "boundary-geojson",
    topo,
    boundary: '{"type":"Polygon","coordinates":[[[5000,"ten"],[1,2],[3,4]]]}',
  },
  { what: "JSON cut short", code: "boundary-not-json", topo, boundary: '{"type":"Polygon","coordinates":[[' },
  { what: "broken XML", code: "xml-broken", topo: "<LandXML><Surfaces></LandXML>", boundary: SQUARE, row: 1 },
  {
    what: "LandXML without ground",
    code: "topo-no-points",
    topo: "<LandXML><Units/></LandXML>",
    boundary: SQUARE,
  },
  {
    what: "LandXML without a parcel",
    code: "boundary-parcels",
    topo,
    boundary: "<LandXML><Units/></LandXML>",
  },
  {
    what: "a TIFF that is none",
    code: "tiff-unreadable",
    topo: bytes(0x49, 0x49, 42, 0, 1, 2, 3),
    boundary: SQUARE,
  },
  { what: "a LAS that is none", code: "las-unreadable", topo: "LASF of no length", boundary: SQUARE },
  {
    what: "a system that is not offered",
    code: "crs-not-known",
    topo,
    boundary: SQUARE,
    request: { survey: { crs: "EPSG:2056" } },
  },
  {
    what: "local numbers in a state plane zone",
    code: "coordinates-not-in-crs",
    topo,
    boundary: SQUARE,
    request: { survey: { crs: "EPSG:2227" } },
  },
  { what: "topo and boundary twice", code: "topo-twice", topo, boundary: SQUARE, request: { topo } },
  {
    what: "constraints that are text",
    code: "constraints-not-json",
    topo,
    boundary: SQUARE,
    constraints: "the creek",
  },
  {
    what: "constraints that are no GeoJSON",
    code: "constraints-not-geojson",
    topo,
    boundary: SQUARE,
    constraints: '{"easement": 10}',
  },
  {
    what: "a creek without a width",
    code: "constraint-needs-buffer",
    topo,
    boundary: SQUARE,
    constraints: '{"type":"LineString","coordinates":[[5000,10000],[5100,10100]]}',
  },
  {
    what: "a creek of negative width",
    code: "constraint-buffer",
    topo,
    boundary: SQUARE,
    constraints:
      '{"type":"Feature","properties":{"bufferFt":-3},"geometry":{"type":"LineString","coordinates":[[5000,10000],[5100,10100]]}}',
  },
  {
    what: "break lines that are no GeoJSON",
    code: "breaklines-not-geojson",
    topo,
    boundary: SQUARE,
    breaklines: "[1, 2]",
  },
];

describe("refused, with what to do", () => {
  test.each(cases)("$what", async ({ what: _what, code, row, ...sent }) => {
    const problems = await problemsFrom(sent);
    const problem = problems.find((p) => p.code === code);
    assert.ok(problem, `expected ${code}, got ${problems.map((p) => `${p.code}: ${p.message}`).join("; ")}`);
    assert.isAbove(problem.message.length, 15);
    assert.isAbove(problem.remedy.length, 10);
    assert.notEqual(problem.where, "");
    if (row !== undefined) assert.equal(problem.row, row);
  });
});

/** Numbers that a careless reader takes: each must be listed, none may become a height. */
describe("fields that only look like numbers", () => {
  test.each(["0x10", "1e5", "12.3.4", "--7", "7-", "1,2,3", "NaN", "Infinity", "", "12:30", "1_000", "½"])(
    'elevation "%s" is listed by row and column',
    async (odd) => {
      const rows = topo.split("\n");
      const cells = rows[50]!.split(",");
      rows[50] = [...cells.slice(0, 3), odd.includes(",") ? `"${odd}"` : odd, "GS"].join(",");
      const { summary } = await surveyFrom({ topo: rows.join("\n"), boundary: SQUARE });
      assert.equal(summary.pointsUsed, 168);
      assert.equal(summary.excluded.length, 1);
      assert.equal(summary.excluded[0]!.row, 51);
      assert.match(summary.excluded[0]!.reason, /elevation/);
    },
  );
  test.each([
    ["+731.5", 731.5],
    ["731.5'", 731.5],
    ["731.5 ft", 731.5],
    ['"1,731.5"', 1731.5],
    ["7.315E+02", 731.5],
    ["731.", 731],
    ["00731.50", 731.5],
  ])("%s is %d", async (text, feet) => {
    const rows = topo.split("\n");
    const [p, n, e] = rows[50]!.split(",");
    rows[50] = [p, n, e, text, "GS"].join(",");
    const { ground } = await surveyFrom({
      topo: rows.join("\n"),
      boundary: SQUARE,
      request: { survey: { keepRows: [51] } },
    });
    assert.equal(ground.elevFt[ground.row.indexOf(51)], feet);
  });
});

describe("rows that are not like the others", () => {
  const swapped = (i: number, row: string) => topo.split("\n").with(i, row).join("\n");
  test("a bad row right below the header is listed, not taken for a title", async () => {
    const { summary } = await surveyFrom({
      topo: swapped(1, "1,ten thousand,5000,seven hundred,GS"),
      boundary: SQUARE,
    });
    assert.deepEqual(
      summary.excluded.map(({ row }) => row),
      [2],
    );
  });
  test("a row cut short", async () => {
    const { summary } = await surveyFrom({ topo: swapped(50, "50,10000"), boundary: SQUARE });
    assert.deepEqual(
      summary.excluded.map(({ row }) => row),
      [51],
    );
    assert.include(
      summary.warnings.map(({ code }) => code),
      "rows-not-read",
    );
  });
  test("a quote never closed loses its own row only", async () => {
    const { summary } = await surveyFrom({ topo: swapped(50, '50,"10000,5000,700,GS'), boundary: SQUARE });
    assert.deepEqual(
      summary.excluded.map(({ row }) => row),
      [51],
    );
  });
  test("an inch mark is no quote", async () => {
    const { features, summary } = await surveyFrom({
      topo: swapped(50, '50,10100.5,5100.5,728.14,OAK 18"'),
      boundary: SQUARE,
    });
    assert.deepEqual(summary.excluded, []);
    assert.equal(features.find(({ kind }) => kind === "tree")!.trunkIn, 18);
  });
  test("a header repeated in the middle", async () => {
    const { summary } = await surveyFrom({
      topo: swapped(50, "point,northing,easting,elevation,description"),
      boundary: SQUARE,
    });
    assert.deepEqual(
      summary.excluded.map(({ row }) => row),
      [51],
    );
  });
  test("a blunder is one row, however the lines end", async () => {
    const { summary } = await surveyFrom({
      topo: swapped(50, "50,10000").replaceAll("\n", "\r\n"),
      boundary: SQUARE,
    });
    assert.deepEqual(
      summary.excluded.map(({ row }) => row),
      [51],
    );
  });
});

describe("what is said of itself", () => {
  test("units in the header are heeded", async () => {
    const metric = asTable(planeShots()).replace("elevation", "Elev. (m)");
    const survey = await surveyFrom({ topo: metric, boundary: SQUARE });
    assert.equal(survey.summary.verticalUnit, "m");
    assert.closeTo(
      Math.min(...survey.ground.elevFt),
      Math.min(...planeShots().map(({ z }) => z)) / 0.3048,
      0.01,
    );
  });
  test("a unit stated in the request goes before the file's, for heights too, and the contradiction is told", async () => {
    const lowest = Math.min(...planeShots().map(({ z }) => z));
    for (const [file, unit, lowestFt] of [
      [`# units feet\n${topo}`, "m", lowest / 0.3048],
      [`# units meters\n${topo}`, "ft", lowest],
      [topo.replace("northing,easting", "northing_ft,easting_ft"), "m", lowest / 0.3048],
      // said of the elevations alone, the file knows better
      [topo.replace("elevation", "elevation_m"), "ft", lowest / 0.3048],
    ] as const) {
      const survey = await surveyFrom({ topo: file, boundary: SQUARE, request: { survey: { unit } } });
      assert.closeTo(Math.min(...survey.ground.elevFt), lowestFt, 0.01);
      assert.include(codesOf(survey), "unit-against-file");
    }
    const agreed = { topo: `# units feet\n${topo}`, boundary: SQUARE };
    for (const unit of ["ft", "us-ft"] as const)
      assert.notInclude(
        codesOf(await surveyFrom({ ...agreed, request: { survey: { unit } } })),
        "unit-against-file",
      );
  });
  test("datum and date unknown are asked for", async () => {
    const survey = await surveyFrom({ topo, boundary: SQUARE });
    assert.includeMembers(codesOf(survey), ["datum-not-stated", "date-not-stated"]);
  });
  test("vertical accuracy comes with its origin", async () => {
    const of = async (request: RequestInput) => {
      const { summary } = await surveyFrom({ topo, boundary: SQUARE, request });
      return [summary.verticalAccuracyFt, summary.verticalAccuracyOrigin] as const;
    };
    assert.deepEqual(await of({ survey: { verticalAccuracyFt: 0.1 } }), [0.1, "given in the request"]);
    assert.equal((await of({}))[0], 0.3);
    assert.equal((await of({ survey: { source: "canopy" } }))[0], 0.5);
    // National Map Accuracy Standards 1947: nine of ten heights within half the interval; 5 ft / 2 / 1.645
    assert.closeTo(
      (await of({ survey: { source: "contours", sourceContourIntervalFt: 5 } }))[0],
      1.52,
      0.005,
    );
    assert.match((await of({ survey: { source: "canopy" } }))[1], /under trees/);
    assert.match((await of({ survey: { source: "contours" } }))[1], /contours whose interval nobody stated/);
  });
});

describe("files made to break a reader", () => {
  test("a hundred thousand corners", async () => {
    const ring = Array.from({ length: 100_000 }, (_, i) => [5_000 + (i % 300), 10_000 + ((i * 7) % 300)]);
    const [problem] = await problemsFrom({
      topo,
      boundary: JSON.stringify({ type: "Polygon", coordinates: [ring] }),
    });
    assert.equal(problem!.code, "boundary-too-many-corners");
  });
  test("collections within collections", async () => {
    const nested = `${'{"type":"GeometryCollection","geometries":['.repeat(2_000)}${"]}".repeat(2_000)}`;
    const [problem] = await problemsFrom({ topo, boundary: nested });
    assert.equal(problem!.code, "boundary-geojson");
  });
  test("quotes broken in every second row", async () => {
    const rows = topo.split("\n").map((row, i) => (i > 0 && i % 2 === 0 ? `"${row}` : row));
    const { summary } = await surveyFrom({ topo: rows.join("\n"), boundary: SQUARE });
    assert.equal(summary.pointsUsed, 85);
    assert.equal(summary.excluded.length, 84);
  });
  test("a deed of blanks", async () => {
    const problems = await problemsFrom({
      topo,
      boundary: `N 1${" ".repeat(50_000)}N 2${" ".repeat(50_000)}E 3`,
    });
    assert.isNotEmpty(problems);
  });
  test("a deed of a thousand calls that does not close", async () => {
    const calls = Array.from({ length: 1_000 }, (_, i) => `N ${i % 90}° E 10`).join("\n");
    const [problem] = await problemsFrom({ topo, request: { boundary: { start: [5_000, 10_000], calls } } });
    assert.equal(problem!.code, "calls-do-not-close");
  });
  test("a header of one endless word", async () => {
    const rows = topo.split("\n").with(0, `point,northing,easting,elevation,${"a ".repeat(20_000)}!`);
    const { summary } = await surveyFrom({ topo: rows.join("\n"), boundary: SQUARE });
    assert.equal(summary.pointsUsed, 169);
  });
});
