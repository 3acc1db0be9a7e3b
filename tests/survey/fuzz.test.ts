/** Five thousand damaged files: intake answers every one of them, and damage to the topo never changes the lot. */
import fc from "fast-check";
import { assert, test } from "vitest";
import { signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { type RequestInput, understandRequest } from "../../analysis/request/index.js";
import { buildTerrain } from "../../analysis/terrain/index.js";
import { intake, reference, type Sent } from "./intake.js";
import { lasFile, lazFile } from "./lidar-files.js";
import { asTable, planeShots, SQUARE } from "./lot-on-a-plane.js";

const bytesOf = (text: string) => new TextEncoder().encode(text);

/** One wound to a file. */
type Wound = (bytes: Uint8Array) => Uint8Array;

const at = fc.double({ min: 0, max: 1, noNaN: true });
const splice = (bytes: Uint8Array, from: number, to: number, inside: Uint8Array) => {
  const [a, b] = [
    Math.floor(Math.min(from, to) * bytes.length),
    Math.floor(Math.max(from, to) * bytes.length),
  ];
  const out = new Uint8Array(a + inside.length + bytes.length - b);
  out.set(bytes.subarray(0, a));
  out.set(inside, a);
  out.set(bytes.subarray(b), a + inside.length);
  return out;
};
const lines =
  (change: (rows: string[]) => string[]): Wound =>
  (bytes) =>
    bytesOf(change(new TextDecoder().decode(bytes).split("\n")).join("\n"));

const wound: fc.Arbitrary<Wound> = fc.oneof(
  fc.tuple(at, at).map(
    ([a, b]): Wound =>
      (bytes) =>
        splice(bytes, a, b, new Uint8Array()),
  ), // cut
  fc.tuple(at, at).map(
    ([a, b]): Wound =>
      (bytes) => {
        const [from, to] = [
          Math.floor(Math.min(a, b) * bytes.length),
          Math.floor(Math.max(a, b) * bytes.length),
        ];
        return splice(bytes, b, b, bytes.slice(from, Math.min(to, from + 20_000))); // doubled
      },
  ),
  fc.tuple(at, fc.uint8Array({ minLength: 1, maxLength: 40 })).map(
    ([a, noise]): Wound =>
      (bytes) =>
        splice(bytes, a, a, noise),
  ),
  fc.tuple(at, at).map(
    ([a, b]): Wound =>
      // two lines exchanged
      lines((rows) => {
        const [i, j] = [Math.floor(a * (rows.length - 1)), Math.floor(b * (rows.length - 1))];
        return rows.with(i, rows[j]!).with(j, rows[i]!);
      }),
  ),
  fc
    .tuple(
      at,
      at,
      fc.constantFrom(
        "9".repeat(30),
        "1e308",
        "-1e-300",
        "NaN",
        "0x7f",
        "",
        '"',
        "''",
        "999999999",
        "-0",
        "∞",
        "x".repeat(30_000),
        "1,".repeat(5_000),
      ),
    )
    .map(
      ([a, b, odd]): Wound =>
        // one field replaced
        lines((rows) => {
          const i = Math.floor(a * (rows.length - 1));
          const cells = rows[i]!.split(/([,;\s]+)/);
          return rows.with(i, cells.with(Math.floor(b * (cells.length - 1)), odd).join(""));
        }),
    ),
  fc
    .constantFrom<[string, string]>(
      [",", ";"],
      [".", ","],
      ["\n", "\r"],
      ["\n", ""],
      [",", "\t"],
      ["1", "7"],
      ["0", "O"],
      ["e", "E"],
      ["<", "&lt;"],
      ["[", "{"],
    )
    .map(([from, to]): Wound => lines((rows) => rows.join("\n").replaceAll(from, to).split("\n"))),
  fc.constant<Wound>((bytes) => new Uint8Array(bytes.buffer.slice(0)).reverse()),
);
const wounds = fc.array(wound, { minLength: 1, maxLength: 3 });
const wounded = (file: Uint8Array, blows: readonly Wound[]) =>
  blows.reduce((bytes, blow) => blow(bytes), file);

const topo = bytesOf(asTable(planeShots()));
const square = bytesOf(SQUARE);
const deed = bytesOf(
  "Beginning at N 10000 E 5000; thence N 90°00'00\" E 200.00 feet; thence N 0°00'00\" E 200 feet; thence along a curve to the left, radius 115.47 feet, central angle 120°00'00\", chord bears S 90° W 200.00 feet; thence S 0° E 200.00 feet to the point of beginning.",
);
const geojson = bytesOf(
  JSON.stringify({
    type: "Feature",
    properties: {},
    geometry: {
      type: "Polygon",
      coordinates: [
        [
          [5000, 10000],
          [5200, 10000],
          [5200, 10200],
          [5000, 10200],
          [5000, 10000],
        ],
      ],
    },
  }),
);
const parcel = bytesOf(
  "<LandXML><Units><Imperial linearUnit='foot'/></Units><Parcels><Parcel name='1'><CoordGeom><Line><Start>10000 5000</Start><End>10000 5200</End></Line><Curve rot='ccw'><Start>10000 5200</Start><Center>10100 5200</Center><End>10200 5200</End></Curve><Line><Start>10200 5200</Start><End>10000 5000</End></Line></CoordGeom></Parcel></Parcels></LandXML>",
);
const surface = bytesOf(
  `<LandXML><Surfaces><Surface name="EG"><Definition><Pnts>${planeShots()
    .map(({ n, e, z }, i) => `<P id="${i}">${n} ${e} ${z}</P>`)
    .join("\n")}</Pnts><Faces>${Array.from({ length: 144 }, (_, i) => 13 * Math.floor(i / 12) + (i % 12))
    .map(
      (a, i) =>
        `<F>${a} ${a + 1} ${a + 14}</F><F${i % 50 === 7 ? ' i="1"' : ""}>${a} ${a + 14} ${a + 13}</F>`,
    )
    .join("\n")}</Faces></Definition></Surface></Surfaces></LandXML>`,
);
const points = planeShots().map(({ e, n, z }) => ({ x: e, y: n, z, classOf: 2 }));
const las = lasFile({ points, offset: [5_000, 10_000, 0] });
const laz = lazFile({ points: points.slice(0, 40), offset: [5_000, 10_000, 0] });

async function answered(sent: {
  topo?: Sent;
  boundary?: Sent;
  constraints?: Sent;
  request?: RequestInput;
}): Promise<number | null> {
  const reading = await intake(sent);
  if (!reading.ok) {
    assert.isNotEmpty(reading.problems);
    return null;
  }
  const area = signedAreaFt2(reading.survey.boundary);
  assert.isTrue(Number.isFinite(area) && area > 0, `area ${area}`);
  for (const column of [
    reading.survey.ground.eastFt,
    reading.survey.ground.northFt,
    reading.survey.ground.elevFt,
  ])
    assert.isTrue(column.every(Number.isFinite), "a coordinate that is no number");
  if (reading.survey.faces) {
    const shaped = buildTerrain(reading.survey, understandRequest({}).request);
    if (shaped.ok) assert.isTrue(Number.isFinite(shaped.terrain.summary.meanSlopePct));
    else assert.isNotEmpty(shaped.problems);
  }
  return area;
}

const runs = (numRuns: number) => ({ numRuns, seed: 20_260_301 });

test("2,000 damaged tables: refused, or the lot is the same", async () => {
  await fc.assert(
    fc.asyncProperty(wounds, async (blows) => {
      const area = await answered({ topo: wounded(topo, blows), boundary: square });
      if (area !== null) assert.closeTo(area, 40_000, 1e-6);
    }),
    runs(2_000),
  );
}, 240_000);

test("400 damaged tables in other dresses", async () => {
  const dresses = [
    "03-semicolon-decimal-comma.csv",
    "06-quoted-thousands.csv",
    "15-blanks.txt",
    "05-comments.csv",
  ].map((name) => reference(`variants/${name}`));
  const boundary = reference("davis_topo_ft/boundary.csv");
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(...dresses), wounds, async (file, blows) => {
      const area = await answered({ topo: wounded(file, blows), boundary });
      if (area !== null) assert.closeTo(area, 56_252.5, 1e-6);
    }),
    runs(400),
  );
}, 240_000);

test("1,600 damaged boundaries of four kinds", async () => {
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(square, deed, geojson, parcel), wounds, async (file, blows) => {
      await answered({ topo, boundary: wounded(file, blows) });
    }),
    runs(1_600),
  );
}, 240_000);

test("600 damaged LandXML surfaces and lidar files", async () => {
  await fc.assert(
    fc.asyncProperty(fc.constantFrom(surface, las, laz), wounds, async (file, blows) => {
      const area = await answered({ topo: wounded(file, blows), boundary: square });
      if (area !== null) assert.closeTo(area, 40_000, 1e-6);
    }),
    runs(600),
  );
}, 240_000);

test("400 damaged constraints, and anything at all as JSON", async () => {
  await fc.assert(
    fc.asyncProperty(wounds, fc.json(), async (blows, any) => {
      await answered({ topo, boundary: square, constraints: wounded(geojson, blows) });
      await answered({ topo: any, boundary: any });
    }),
    runs(400),
  );
}, 240_000);
