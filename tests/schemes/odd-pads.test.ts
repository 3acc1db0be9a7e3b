/**
 * Pads of any shape and place, whole studies: volumes against a raster of the ground's own formula, summed here over
 * cells of half a foot; rings that enclose nothing are refused with the pad's name.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parseCostBook } from "../../analysis/book/index.js";
import type { Point, Ring } from "../../analysis/geometry/plane.js";
import { requestSchema } from "../../analysis/request/index.js";
import { studyLot } from "../../analysis/study.js";

const book = parseCostBook(
  JSON.parse(readFileSync(new URL("../../demo-data/cost-book.json", import.meta.url), "utf8")),
);
if (!book.ok) throw new Error("the demo cost book is not readable");

/** A plane of 25 % that falls south, shot every 8 ft on and around a lot of 208 × 208 ft. */
const LOT_FT = 208;
const GRADE = 0.25;
const groundFt = (_x: number, y: number) => 500 + GRADE * (y - 104);
const SHOT_FROM = -24;
const SHOT_TO = 232;
const text = (lines: readonly string[]) => Buffer.from(lines.join("\n"));
const shots: string[] = ["point,northing,easting,elevation"];
for (let y = SHOT_FROM; y <= SHOT_TO; y += 8)
  for (let x = SHOT_FROM; x <= SHOT_TO; x += 8) shots.push(`${shots.length},${y},${x},${groundFt(x, y)}`);
const files = filesOf(shots, ["point,northing,easting", "1,0,0", "2,0,208", "3,208,208", "4,208,0"]);

function filesOf(topo: readonly string[], boundary: readonly string[]) {
  return {
    topo: { name: "topo.csv", bytes: text(topo) },
    boundary: { name: "boundary.csv", bytes: text(boundary) },
  };
}

async function study(ring: Ring, elevationFt: number, sides: "vertical" | "battered") {
  const input = requestSchema.parse({
    survey: { unit: "ft" },
    brief: { pads: [{ name: "A", ring, elevationFt, sides }] },
    rules: { cutBatter: 1.5, fillBatter: 2 },
  });
  return studyLot({ input, files, book: book.ok ? book.book : (undefined as never) });
}

/** Cells of the pad (and of its slopes on the lot), each with the depth of its own middle. */
function bruteForceYd3(ring: Ring, levelFt: number, battered: boolean): [cut: number, fill: number] {
  const cell = 0.5;
  const reach = battered ? 45 : 0;
  const xs = ring.map(([x]) => x);
  const ys = ring.map(([, y]) => y);
  const from = (values: number[]) => Math.max(SHOT_FROM, Math.min(...values) - reach);
  const to = (values: number[]) => Math.min(SHOT_TO, Math.max(...values) + reach);
  let cut = 0;
  let fill = 0;
  for (let y = from(ys) + cell / 2; y < to(ys); y += cell)
    for (let x = from(xs) + cell / 2; x < to(xs); x += cell) {
      const inside = contains(ring, x, y);
      if (!inside && (!battered || x < 0 || y < 0 || x > LOT_FT || y > LOT_FT)) continue;
      const apart = inside ? 0 : distance(ring, x, y);
      cut += Math.max(0, groundFt(x, y) - levelFt - apart / 1.5);
      fill += Math.max(0, levelFt - groundFt(x, y) - apart / 2);
    }
  return [(cut * cell * cell) / 27, (fill * cell * cell) / 27];
}

function contains(ring: Ring, x: number, y: number): boolean {
  let inside = false;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  });
  return inside;
}

function distance(ring: Ring, x: number, y: number): number {
  return Math.min(
    ...ring.map(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]!;
      const t = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2 || 1);
      const s = Math.max(0, Math.min(1, t));
      return Math.hypot(x - ax - s * (bx - ax), y - ay - s * (by - ay));
    }),
  );
}

const turned = (x: number, y: number, width: number, depth: number, angle: number): Point[] =>
  (
    [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ] as const
  ).map(([u, v]) => [
    x + (u * width * Math.cos(angle) - v * depth * Math.sin(angle)) / 2,
    y + (u * width * Math.sin(angle) + v * depth * Math.cos(angle)) / 2,
  ]);
const circle = (x: number, y: number, radius: number, corners: number): Point[] =>
  Array.from({ length: corners }, (_, i) => [
    x + radius * Math.cos((2 * Math.PI * i) / corners),
    y + radius * Math.sin((2 * Math.PI * i) / corners),
  ]);

const U_SHAPE: Ring = [
  [80, 80],
  [130, 80],
  [130, 120],
  [112, 120],
  [112, 98],
  [98, 98],
  [98, 120],
  [80, 120],
];

describe("volumes of a pad as given", () => {
  test.each<[string, Ring, number, readonly string[]]>([
    ["turned by 23°", turned(104, 104, 60, 40, 0.4), 500, []],
    ["clockwise", turned(104, 104, 60, 40, 0.4).reverse(), 500, []],
    [
      "its first corner sent again at the end",
      [...turned(104, 104, 60, 40, 0.4), turned(104, 104, 60, 40, 0.4)[0]!],
      500,
      [],
    ],
    ["60 corners", circle(104, 104, 25, 60), 500, []],
    ["inward corners", U_SHAPE, 498, []],
    ["across the lot line", turned(205, 104, 60, 40, 0), 500, ["outside-lot"]],
    ["partly beyond the survey", turned(-20, 104, 60, 40, 0), 500, ["unsurveyed", "outside-lot"]],
    ["larger than the survey", turned(104, 104, 600, 600, 0), 500, ["unsurveyed", "outside-lot"]],
  ])("%s", async (_, ring, levelFt, codes) => {
    for (const sides of ["vertical", "battered"] as const) {
      const outcome = await study(ring, levelFt, sides);
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      const [scheme] = outcome.study.schemes;
      const [cut, fill] = bruteForceYd3(ring, levelFt, sides === "battered");
      // the raster itself is good to about a cell along the rim
      const within = (got: number, wanted: number) =>
        expect(Math.abs(got - wanted)).toBeLessThan(0.005 * wanted + 0.3);
      within(scheme!.earthwork.bankCutYd3, cut);
      within(scheme!.earthwork.compactedFillYd3, fill);
      for (const code of codes) expect(scheme!.problemDetails.map((p) => p.code)).toContain(code);
    }
  });

  test("on a survey in meters the ring is in meters and the level in feet", async () => {
    const METER_FT = 0.3048;
    const inMeters = shots.map((row, i) =>
      i === 0
        ? row
        : row
            .split(",")
            .map((v, k) => (k === 0 ? v : Number(v) * METER_FT))
            .join(","),
    );
    const side = 208 * METER_FT;
    const corners = [`1,0,0`, `2,0,${side}`, `3,${side},${side}`, `4,${side},0`];
    const ring = turned(104, 104, 60, 40, 0.4);
    const outcome = await studyLot({
      input: requestSchema.parse({
        survey: { unit: "m" },
        brief: {
          pads: [{ name: "A", ring: ring.map(([x, y]) => [x * METER_FT, y * METER_FT]), elevationFt: 500 }],
        },
      }),
      files: filesOf(inMeters, ["point,northing,easting", ...corners]),
      book: book.ok ? book.book : (undefined as never),
    });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const [cut, fill] = bruteForceYd3(ring, 500, false);
    const { bankCutYd3, compactedFillYd3 } = outcome.study.schemes[0]!.earthwork;
    expect(Math.abs(bankCutYd3 - cut)).toBeLessThan(0.005 * cut + 0.3);
    expect(Math.abs(compactedFillYd3 - fill)).toBeLessThan(0.005 * fill + 0.3);
  });

  test("on a survey in degrees the ring may be in degrees", async () => {
    // WGS 84 at 38.5° N: a second of latitude is 101.16 ft, of longitude 79.54 ft (M and N·cos φ of the ellipsoid)
    const degrees = (x: number, y: number): Point => [-121 + x / (79.54 * 3600), 38.5 + y / (101.16 * 3600)];
    const written = (x: number, y: number) =>
      degrees(x, y)
        .toReversed()
        .map((v) => v.toFixed(10))
        .join(",");
    const inDegrees = shots.map((row, i) => {
      const [point, y, x, z] = row.split(",");
      return i === 0
        ? "point,latitude,longitude,elevation_ft"
        : `${point},${written(Number(x), Number(y))},${z}`;
    });
    const corners = [
      [0, 0],
      [208, 0],
      [208, 208],
      [0, 208],
    ].map(([x, y], i) => `${i + 1},${written(x!, y!)}`);
    const ring = turned(104, 104, 60, 40, 0.4);
    const outcome = await studyLot({
      input: requestSchema.parse({
        survey: { crs: "EPSG:4326" },
        brief: { pads: [{ name: "A", ring: ring.map(([x, y]) => degrees(x, y)), elevationFt: 500 }] },
      }),
      files: filesOf(inDegrees, ["point,latitude,longitude", ...corners]),
      book: book.ok ? book.book : (undefined as never),
    });
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
    const [cut, fill] = bruteForceYd3(ring, 500, false);
    const { bankCutYd3, compactedFillYd3 } = outcome.study.schemes[0]!.earthwork;
    expect(Math.abs(bankCutYd3 - cut)).toBeLessThan(0.01 * cut + 0.3);
    expect(Math.abs(compactedFillYd3 - fill)).toBeLessThan(0.01 * fill + 0.3);
  });

  test("a pad of one foot, and one far from the survey, still give numbers", async () => {
    for (const [ring, levelFt] of [
      [turned(104, 104, 1, 1, 0.3), 499],
      [turned(900, 900, 60, 40, 0), 500],
    ] as const)
      for (const sides of ["vertical", "battered"] as const) {
        const outcome = await study(ring, levelFt, sides);
        if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
        const { earthwork, cost } = outcome.study.schemes[0]!;
        for (const value of [
          earthwork.bankCutYd3,
          earthwork.compactedFillYd3,
          earthwork.truckloads,
          cost.p50Usd,
        ])
          expect(Number.isFinite(value)).toBe(true);
      }
  });

  test("levels far above and below the ground: area times height less the ground's own mean", async () => {
    const ring = turned(104, 104, 60, 40, 0);
    for (const levelFt of [5000, -1000]) {
      const outcome = await study(ring, levelFt, "vertical");
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
      const { bankCutYd3, compactedFillYd3 } = outcome.study.schemes[0]!.earthwork;
      // the ground under a centred pad is 500 ft on average: 60 × 40 × |level − 500| ÷ 27
      expect(Math.max(bankCutYd3, compactedFillYd3)).toBeCloseTo((2400 * Math.abs(levelFt - 500)) / 27, 1);
      expect(Math.min(bankCutYd3, compactedFillYd3)).toBe(0);
    }
    const sloped = await study(ring, 5000, "battered");
    expect(sloped.ok && sloped.study.schemes[0]!.problemDetails.map((p) => p.code)).toEqual(
      expect.arrayContaining(["slope-terrace", "batter-leaves-lot"]),
    );
  });
});

test.each<[string, Ring, string]>([
  [
    "a bow tie",
    [
      [80, 80],
      [120, 120],
      [120, 80],
      [80, 120],
    ],
    "pad-crosses-itself",
  ],
  [
    "a spike",
    [
      [80, 80],
      [120, 80],
      [160, 80],
      [120, 80],
      [120, 120],
      [80, 120],
    ],
    "pad-crosses-itself",
  ],
  [
    "corners on one line",
    [
      [80, 80],
      [120, 80],
      [160, 80],
    ],
    "pad-crosses-itself",
  ],
  [
    "one corner three times",
    [
      [80, 80],
      [80, 80],
      [80, 80],
    ],
    "pad-too-few-corners",
  ],
  [
    "a sliver",
    [
      [80, 80],
      [120, 80],
      [100, 80.0001],
    ],
    "pad-no-area",
  ],
])("%s is refused by name, not computed", async (_, ring, code) => {
  const outcome = await study(ring, 500, "vertical");
  expect(outcome.ok).toBe(false);
  if (outcome.ok) return;
  expect(outcome.problems).toEqual([
    expect.objectContaining({
      code,
      where: "request.brief.pads[0].ring",
      message: expect.stringContaining("Pad A"),
    }),
  ]);
});

test("two pads of one name are refused: answers are told apart by it", async () => {
  const pad = { name: "A", ring: turned(104, 104, 60, 40, 0), elevationFt: 500 };
  const outcome = await studyLot({
    input: requestSchema.parse({
      survey: { unit: "ft" },
      brief: { pads: [pad, { ...pad, name: "B" }, pad] },
    }),
    files,
    book: book.ok ? book.book : (undefined as never),
  });
  expect(!outcome.ok && outcome.problems).toEqual([
    expect.objectContaining({ code: "pad-name-twice", where: "request.brief.pads[2].name" }),
  ]);
});
