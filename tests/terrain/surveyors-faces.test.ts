/** LandXML surfaces: the ground is the surveyor's own faces, not ours; closed forms and sums over the faces as written. */
import fc from "fast-check";
import { assert, describe, test } from "vitest";
import { padCutFill } from "../../analysis/earthwork/index.js";
import { ringContains, signedAreaFt2 } from "../../analysis/geometry/plane.js";
import { findBuildable } from "../../analysis/lot/index.js";
import { type RequestInput, understandRequest } from "../../analysis/request/index.js";
import { buildTerrain, elevationAt } from "../../analysis/terrain/index.js";
import { type Sent, surveyFrom } from "../survey/intake.js";

type Vertex = readonly [east: number, north: number, height: number];
type Face = readonly [number, number, number];

interface Surface {
  readonly points: readonly Vertex[];
  readonly faces?: readonly Face[];
  readonly invisible?: readonly Face[];
  readonly cgPoints?: string;
}

/** One entry a line, so that rows tell points apart. */
function landxml({ points, faces = [], invisible = [], cgPoints = "" }: Surface): string {
  const pnts = points.map(([e, n, z], i) => `<P id="${i}">${n} ${e} ${z}</P>`);
  const shown = faces.map((corners) => `<F>${corners.join(" ")}</F>`);
  const hidden = invisible.map((corners) => `<F i="1">${corners.join(" ")}</F>`);
  const all = [...shown, ...hidden];
  return [
    '<LandXML version="1.2"><Units><Imperial linearUnit="foot"/></Units>',
    `<CgPoints>${cgPoints}</CgPoints>`,
    '<Surfaces><Surface name="EG"><Definition surfType="TIN"><Pnts>',
    ...pnts,
    `</Pnts>${all.length > 0 ? `<Faces>\n${all.join("\n")}\n</Faces>` : ""}</Definition></Surface></Surfaces></LandXML>`,
  ].join("\n");
}

function rectangle(west: number, south: number, east: number, north: number): string {
  return `corner,northing,easting\n1,${south},${west}\n2,${south},${east}\n3,${north},${east}\n4,${north},${west}`;
}

async function shape(topo: string, boundary: string, request: RequestInput = {}, breaklines?: Sent) {
  const read = await surveyFrom({ topo, boundary, request, ...(breaklines ? { breaklines } : {}) });
  const understood = understandRequest(request).request;
  const outcome = buildTerrain(read, understood);
  if (!outcome.ok) throw new Error(outcome.problems[0]!.message);
  const { survey, terrain } = outcome;
  const { originEasting, originNorthing } = survey.frame;
  return {
    survey,
    terrain,
    lot: findBuildable(survey, terrain, understood),
    codes: survey.summary.warnings.map(({ code }) => code),
    local: ([e, n]: readonly number[]) => [e! - originEasting, n! - originNorthing] as const,
    heightAt: (e: number, n: number) => elevationAt(terrain.tin, e - originEasting, n - originNorthing),
  };
}

/** Shots every 20 ft from 4960 to 5140 and 9960 to 10140, inner ones moved by up to 4 ft: every cell stays convex. */
const SIZE = 10;
function grid(height: (e: number, n: number) => number, seed = 1): Vertex[] {
  let state = seed;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return Array.from({ length: SIZE * SIZE }, (_, i): Vertex => {
    const [col, row] = [i % SIZE, Math.floor(i / SIZE)];
    const inner = col > 0 && row > 0 && col < SIZE - 1 && row < SIZE - 1;
    const e = 4960 + 20 * col + (inner ? 8 * next() - 4 : 0);
    const n = 9960 + 20 * row + (inner ? 8 * next() - 4 : 0);
    return [e, n, height(e, n)];
  });
}

/** The two faces of each cell, parted by one or the other diagonal. */
function facesOfCells(rising: (cell: number) => boolean): Face[] {
  const faces: Face[] = [];
  for (let row = 0; row + 1 < SIZE; row++)
    for (let col = 0; col + 1 < SIZE; col++) {
      const a = row * SIZE + col;
      const [b, c, d] = [a + 1, a + SIZE + 1, a + SIZE];
      if (rising(faces.length / 2)) faces.push([a, b, c], [a, c, d]);
      else faces.push([a, b, d], [b, c, d]);
    }
  return faces;
}

const LOT = rectangle(5000, 10_000, 5100, 10_100);
const plane = (e: number, n: number) => 700 + 0.1 * (e - 5000) + 0.2 * (n - 10_000);
const areaOf = (points: readonly Vertex[], face: Face) =>
  Math.abs(signedAreaFt2(face.map((i) => [points[i]![0], points[i]![1]] as const)));
const middleOf = (points: readonly Vertex[], face: Face) =>
  [0, 1, 2].map((axis) => face.reduce((sum, i) => sum + points[i]![axis]! / 3, 0));

describe("a ridge along the long diagonal of a rhombus, where Delaunay takes the short one", () => {
  const points: Vertex[] = [
    [5120, 10_000, 500],
    [5000, 10_060, 480],
    [4880, 10_000, 500],
    [5000, 9940, 480],
  ];
  const lot = rectangle(4960, 9980, 5040, 10_020);
  // the ridge, whichever way round the faces run: z = 500 − |n|/3; its mean over |n| ≤ 20 is 500 − 10/3
  // joined across it: z = 480 + |e|/6; its mean over |e| ≤ 40 is 480 + 10/3
  test.each([
    [
      "the faces of the file",
      [
        [0, 1, 2],
        [0, 2, 3],
      ] as Face[],
      100 / 3,
      20 - 10 / 3,
      500,
    ],
    [
      "faces that run clockwise",
      [
        [0, 2, 1],
        [0, 3, 2],
      ] as Face[],
      100 / 3,
      20 - 10 / 3,
      500,
    ],
    ["no faces: Delaunay", [], 100 / 6, 10 / 3, 480],
  ])("%s", async (_, faces, slopePct, meanFt, middleFt) => {
    const { terrain, survey, heightAt } = await shape(landxml({ points, faces }), lot);
    assert.equal(survey.summary.pointsUsed, 4);
    assert.closeTo(terrain.coveragePct, 100, 1e-9);
    assert.closeTo(terrain.summary.meanSlopePct, slopePct, 1e-9);
    assert.closeTo(heightAt(5000, 10_000), middleFt, 1e-9);
    const { cutFt3, fillFt3 } = padCutFill(terrain.tin, survey.boundary, 480);
    assert.closeTo(cutFt3, meanFt * 80 * 40, 1e-6);
    assert.closeTo(fillFt3, 0, 1e-9);
  });
});

describe("invisible faces", () => {
  const points = grid(plane);
  const faces = facesOfCells((cell) => cell % 3 === 0);
  test("are unsurveyed ground of exactly their size, and nothing is built there", async () => {
    const holes = [80, 81, 97, 65].map((i) => faces[i]!);
    const visible = faces.filter((face) => !holes.includes(face));
    const { terrain, lot, codes, local, heightAt, survey } = await shape(
      landxml({ points, faces: visible, invisible: holes }),
      LOT,
      { rules: { slopeLimitPct: 30, setbacksFt: { all: 0 }, minBuildableWidthFt: 0 } },
    );
    const holesFt2 = holes.reduce((sum, face) => sum + areaOf(points, face), 0);
    assert.closeTo(terrain.summary.planAreaFt2, 10_000 - holesFt2, 1e-6);
    assert.closeTo(terrain.coveragePct, 100 - holesFt2 / 100, 1e-8);
    assert.closeTo(lot.buildable.areaFt2, 10_000 - holesFt2, 0.1);
    for (const hole of holes) {
      const [e, n] = middleOf(points, hole);
      assert.isNaN(heightAt(e!, n!));
      const at = local([e!, n!]);
      const inside = lot.buildablePolygons.filter(
        (rings) => rings.filter((ring) => ringContains(ring, at)).length === 1,
      );
      assert.deepEqual(inside, []);
    }
    assert.includeMembers(codes, ["surface-faces-used", "surface-holes"]);
    assert.match(
      survey.summary.warnings.map(({ message }) => message).join(" "),
      /visible faces of the surface: 158\).*Invisible faces of the surface: 4\./,
    );
  });
  test("a bay in the outline of the surface is not filled", async () => {
    // the cells of the two southern rows between columns 3 and 6 are in no face at all
    const bay = new Set([3, 4, 5, 12, 13, 14, 21, 22, 23].flatMap((cell) => [2 * cell, 2 * cell + 1]));
    const left = faces.filter((_, i) => !bay.has(i));
    const { terrain, heightAt } = await shape(landxml({ points, faces: left }), LOT);
    // the northern row of the bay reaches into the lot
    assert.isNaN(heightAt(5045, 10_005));
    assert.isBelow(terrain.coveragePct, 98);
    assert.closeTo(heightAt(5045, 10_060), plane(5045, 10_060), 1e-9);
  });
});

test("any diagonals, heights and holes: each face is kept as it was drawn", async () => {
  const heights = fc.array(fc.integer({ min: 0, max: 600 }), { minLength: SIZE ** 2, maxLength: SIZE ** 2 });
  const cells = fc.array(fc.boolean(), { minLength: 81, maxLength: 81 });
  const hidden = fc.uniqueArray(fc.integer({ min: 0, max: 161 }), { maxLength: 30 });
  await fc.assert(
    fc.asyncProperty(heights, cells, hidden, fc.nat(), async (tenths, diagonals, holes, seed) => {
      const points = grid(() => 0, seed).map(([e, n], i): Vertex => [e, n, 500 + tenths[i]! / 100]);
      const faces = facesOfCells((cell) => diagonals[cell]!);
      const isHole = new Set(holes);
      const { terrain, heightAt, codes, survey } = await shape(
        landxml({
          points,
          faces: faces.filter((_, i) => !isHole.has(i)),
          invisible: faces.filter((_, i) => isHole.has(i)),
        }),
        rectangle(4960, 9960, 5140, 10_140), // the whole surface
      );
      // a corner all of whose faces are holes is no ground; nothing else is left out
      const used = new Set(faces.filter((_, i) => !isHole.has(i)).flat());
      assert.equal(survey.summary.pointsUsed, used.size);
      assert.notInclude(codes, "surface-sides-lost");
      let visibleFt2 = 0;
      let steepness = 0;
      faces.forEach((face, i) => {
        const [e, n, z] = middleOf(points, face);
        if (isHole.has(i)) {
          assert.isNaN(heightAt(e!, n!), `hole ${i}`);
          return;
        }
        assert.closeTo(heightAt(e!, n!), z!, 1e-9, `face ${i}`);
        const [p, q, r] = face.map((v) => points[v]!) as [Vertex, Vertex, Vertex];
        const normal = cross(minus(q, p), minus(r, p));
        visibleFt2 += areaOf(points, face);
        steepness += 50 * Math.hypot(normal[0]!, normal[1]!); // area × percent = |horizontal normal| / 2 × 100
      });
      assert.closeTo(terrain.summary.planAreaFt2, visibleFt2, 1e-6);
      assert.closeTo(terrain.summary.meanSlopePct, steepness / visibleFt2, 1e-9);
    }),
    { numRuns: 25, seed: 7 },
  );
});

test("stray faces across the others never break the facets", async () => {
  const corner = fc.integer({ min: 0, max: SIZE ** 2 - 1 });
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(corner, corner, corner), { maxLength: 60 }),
      fc.nat(),
      async (strays, seed) => {
        const points = grid((e, n) => plane(e, n) + Math.sin(e) + Math.cos(n), seed);
        const faces = facesOfCells((cell) => (cell * 7 + seed) % 3 === 0);
        const { terrain, codes } = await shape(landxml({ points, faces: [...strays, ...faces] }), LOT);
        // the facets still part the square of all shots, 180 ft wide, without gap or overlap
        const { tin } = terrain;
        let wholeFt2 = 0;
        for (let f = 0; f < tin.facetCount; f++) {
          const corner = (k: number) => tin.triangles[3 * f + k]!;
          wholeFt2 += signedAreaFt2(
            [0, 1, 2].map((k) => [tin.eastFt[corner(k)]!, tin.northFt[corner(k)]!] as const),
          );
        }
        assert.closeTo(wholeFt2, 180 ** 2, 1e-6);
        assert.isAtMost(terrain.coveragePct, 100);
        assert.isTrue(Number.isFinite(terrain.summary.meanSlopePct));
        if (strays.length === 0) assert.notInclude(codes, "surface-sides-lost");
      },
    ),
    { numRuns: 60, seed: 5 },
  );
});

const minus = (p: Vertex, q: Vertex) => [p[0] - q[0], p[1] - q[1], p[2] - q[2]] as const;
const cross = (a: readonly number[], b: readonly number[]) => [
  a[1]! * b[2]! - a[2]! * b[1]!,
  a[2]! * b[0]! - a[0]! * b[2]!,
  a[0]! * b[1]! - a[1]! * b[0]!,
];

describe("faces and shots that do not agree", () => {
  const points = grid(plane);
  const faces = facesOfCells((cell) => cell % 2 === 0);
  const middle = 44; // a shot in the middle of the lot

  test("around a corner dropped as a spike the ground is joined anew", async () => {
    const wild = points.map(([e, n, z], i): Vertex => [e, n, i === middle ? z + 40 : z]);
    const { survey, terrain, heightAt, codes } = await shape(landxml({ points: wild, faces }), LOT);
    assert.equal(survey.summary.pointsUsed, 99);
    assert.include(survey.summary.excluded.map(({ reason }) => reason).join(), "spike");
    assert.closeTo(terrain.coveragePct, 100, 1e-9);
    const [e, n] = points[middle]!;
    assert.closeTo(heightAt(e, n), plane(e, n), 1e-9);
    assert.notInclude(codes, "surface-sides-lost");
  });
  test("a corner written twice is one corner", async () => {
    const [e, n, z] = points[middle]!;
    const twin = points.length;
    const split = faces.map(
      (face, i) => face.map((v) => (v === middle && i % 2 ? twin : v)) as unknown as Face,
    );
    const { survey, terrain, codes } = await shape(
      landxml({ points: [...points, [e + 0.006, n - 0.006, z]], faces: split }),
      LOT,
    );
    assert.equal(survey.summary.pointsUsed, 100);
    assert.closeTo(terrain.coveragePct, 100, 1e-6);
    assert.notInclude(codes, "surface-sides-lost");
  });
  test("a corner that lost its digits takes its own faces with it, no others", async () => {
    const far = points.map(([e, n, z], i): Vertex => (i === middle ? [50, 100, z] : [e, n, z]));
    const { terrain, survey, heightAt } = await shape(landxml({ points: far, faces }), LOT);
    assert.equal(survey.summary.pointsUsed, 99);
    const gone = faces.filter((face) => face.includes(middle));
    const goneFt2 = gone.reduce((sum, face) => sum + areaOf(points, face), 0);
    assert.closeTo(terrain.summary.planAreaFt2, 10_000 - goneFt2, 1e-6);
    for (const face of faces.filter((f) => !gone.includes(f))) {
      const [e, n, z] = middleOf(points, face);
      assert.closeTo(heightAt(e!, n!), z!, 1e-9);
    }
  });
  test("faces that overlap are told", async () => {
    const { terrain, codes } = await shape(landxml({ points, faces: [...faces, [33, 45, 54]] }), LOT);
    assert.include(codes, "surface-sides-lost");
    assert.closeTo(terrain.coveragePct, 100, 1e-9);
  });
  test("a face that names no point is a hole, and told", async () => {
    const broken = faces.map((face, i): Face => (i === 80 ? [face[0], face[1], 999] : face));
    const { terrain, codes } = await shape(landxml({ points, faces: broken }), LOT);
    assert.include(codes, "surface-faces-broken");
    assert.closeTo(terrain.summary.planAreaFt2, 10_000 - areaOf(points, faces[80]!), 1e-6);
  });
  test("survey points that are no corners carry no ground, but a tree stays a tree", async () => {
    const [e, n, z] = middleOf(points, faces[80]!);
    const cgPoints = `\n<CgPoint name="a" desc="GS">${n} ${e} ${z! + 3}</CgPoint>\n<CgPoint name="b" desc="OAK 20">10030 5030 ${plane(5030, 10_030) + 3}</CgPoint>\n`;
    const topo = landxml({ points, faces, cgPoints });
    const { survey, heightAt, codes } = await shape(topo, LOT);
    assert.closeTo(heightAt(e!, n!), z!, 1e-9);
    assert.include(codes, "points-off-surface");
    assert.deepEqual(
      survey.summary.excluded.map(({ row, reason }) => [row, reason]),
      [
        [3, "no corner of the surface"],
        [4, "no corner of the surface"],
      ],
    );
    assert.deepEqual(
      survey.features.map(({ kind, trunkIn }) => [kind, trunkIn]),
      [["tree", 20]],
    );
    const kept = await shape(topo, LOT, { survey: { keepRows: [3] } });
    assert.closeTo(kept.heightAt(e!, n!), z! + 3, 1e-9);
    assert.closeTo(kept.terrain.coveragePct, 100, 1e-9);
  });
  test("a break line sent besides goes before the sides it crosses", async () => {
    const line = [5010, 5090].map((e) => [e, 10_053, plane(e, 10_053) - 2]);
    const { heightAt, codes, terrain } = await shape(
      landxml({ points, faces }),
      LOT,
      {},
      JSON.stringify({ type: "LineString", coordinates: line }),
    );
    for (const e of [5015, 5047, 5083]) assert.closeTo(heightAt(e, 10_053), plane(e, 10_053) - 2, 1e-9);
    assert.include(codes, "surface-sides-lost");
    assert.closeTo(terrain.coveragePct, 100, 1e-9);
  });
});
