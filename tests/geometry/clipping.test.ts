/** Clipping and offsetting against closed forms and against each other. */
import fc from "fast-check";
import { assert, describe, test } from "vitest";
import {
  differenceOf,
  intersectionOf,
  offsetOf,
  openedBy,
  stripAlong,
  unionOf,
  unionOfPieces,
} from "../../analysis/geometry/clip.js";
import { flatArea, flatten, TriangleClipper } from "../../analysis/geometry/convex-clip.js";
import {
  areaFt2,
  type Point,
  polygonsContain,
  type Ring,
  ringContains,
  signedAreaFt2,
} from "../../analysis/geometry/plane.js";

const square = (x: number, y: number, side: number): Ring => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];

const turned = (x: number, y: number, by: number): Point => [
  x * Math.cos(by) - y * Math.sin(by),
  x * Math.sin(by) + y * Math.cos(by),
];

describe("unions, differences and intersections", () => {
  test("two overlapping squares", () => {
    assert.closeTo(areaFt2(unionOf([square(0, 0, 10), square(5, 5, 10)])), 175, 1e-9);
    assert.closeTo(areaFt2(differenceOf([[square(0, 0, 10)]], [[square(5, 5, 10)]])), 75, 1e-9);
    assert.closeTo(areaFt2(intersectionOf([[square(0, 0, 10)]], [[square(5, 5, 10)]])), 25, 1e-9);
  });
  test("a square with a hole, and an island in the hole, come back as two polygons that run the right way", () => {
    const ring = differenceOf([[square(0, 0, 30)]], [[square(5, 5, 20)]]);
    assert.equal(ring.length, 1);
    assert.ok(signedAreaFt2(ring[0]![0]!) > 0, "outer ring counter-clockwise");
    assert.ok(signedAreaFt2(ring[0]![1]!) < 0, "hole clockwise");
    const island = unionOf([...ring[0]!, square(10, 10, 5)]);
    assert.equal(island.length, 2);
    assert.closeTo(areaFt2(island), 900 - 400 + 25, 1e-9);
  });
  test("pieces of a lattice, some missing: as many square feet as pieces, and holes where they are missing", () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 4 }), { minLength: 64, maxLength: 64 }),
        fc.double({ min: 0, max: 3, noNaN: true }),
        (halves, turn) => {
          // each cell of 8 × 8 is left out, whole, or a triangle of it
          const placed = halves.flatMap((half, i) => {
            const corners = square(i % 8, Math.floor(i / 8), 1).filter((_, k) => half === 4 || k !== half);
            return half === 0 ? [] : [corners.map(([x, y]) => turned(x, y, turn))];
          });
          const pieces = unionOfPieces(placed.map(flatten));
          const each = halves.reduce((sum, half) => sum + (half === 0 ? 0 : half === 4 ? 1 : 0.5), 0);
          assert.closeTo(areaFt2(pieces), each, 0.01);
          for (const ring of placed) {
            const [x, y] = [0, 1].map((k) => ring.reduce((sum, p) => sum + p[k]!, 0) / ring.length);
            assert.ok(polygonsContain(pieces, [x!, y!]));
          }
        },
      ),
      { numRuns: 100, seed: 33 },
    );
  });
  test("pieces that overlap are counted once", () => {
    const pieces = [square(0, 0, 10), square(10, 0, 10), square(5, 5, 10), square(-5, 0, 5)].map(flatten);
    assert.closeTo(areaFt2(unionOfPieces(pieces)), 100 + 100 + 50 + 25, 1e-9);
  });
  test("a spike along a ring is no ground and does not stop the clipper", () => {
    // 2026-11-25: what was left of the facets of one graded ground; clipper2-ts 2.0.1 never came back from it
    const spiked: Ring = [
      [88.1071, 28.1818],
      [83.7058, 28.1818],
      [83.1579, 28.1818],
      [95.9003, 28.1818],
      [95.6689, 29.2534],
    ];
    const areaOfTriangle = ((95.9003 - 88.1071) * (29.2534 - 28.1818)) / 2;
    assert.closeTo(areaFt2(unionOf([spiked])), areaOfTriangle, 1e-3);
    assert.closeTo(areaFt2(unionOfPieces([flatten(spiked)])), areaOfTriangle, 1e-3);
    assert.closeTo(areaFt2(differenceOf([[square(80, 20, 20)]], [[spiked]])), 400 - areaOfTriangle, 1e-3);
    assert.isAbove(areaFt2(offsetOf([[spiked]], 1)), areaOfTriangle);
  });
  test("an island in a pocket whose corners it touches is no hole", () => {
    // 2026-11-25: found among the facets of one slope band; the island was taken for a hole
    const pocket: Ring = [
      [20, 40],
      [20, 30],
      [50, 30],
      [50, 50],
      [60, 50],
      [50, 40],
      [60, 30],
      [80, 30],
      [80, 40],
      [70, 40],
      [70, 60],
      [60, 60],
      [60, 80],
      [50, 70],
      [40, 70],
      [40, 60],
      [30, 60],
      [40, 50],
      [30, 40],
      [20, 50],
      [10, 60],
      [20, 70],
      [10, 70],
      [-10, 50],
      [-10, 40],
      [0, 50],
      [10, 50],
    ];
    const island: Ring = [
      [20, 70],
      [20, 50],
      [40, 70],
    ];
    assert.closeTo(areaFt2(unionOf([pocket, island])), signedAreaFt2(pocket) + signedAreaFt2(island), 1e-6);
  });
  test("nothing in, nothing out", () => {
    assert.deepEqual(intersectionOf([], [[square(0, 0, 1)]]), []);
    assert.deepEqual(differenceOf([], [[square(0, 0, 1)]]), []);
    assert.deepEqual(openedBy([], 5), []);
  });
});

describe("offsets", () => {
  test("growing a square adds its sides and a circle", () => {
    assert.closeTo(
      areaFt2(offsetOf([[square(0, 0, 100)]], 10)),
      100 ** 2 + 4 * 100 * 10 + Math.PI * 100,
      0.1,
    );
  });
  test("shrinking a square leaves a square; shrinking it away leaves nothing", () => {
    assert.closeTo(areaFt2(offsetOf([[square(0, 0, 100)]], -30)), 40 ** 2, 1e-9);
    assert.deepEqual(offsetOf([[square(0, 0, 100)]], -51), []);
  });
  test("a strip along a line is a rectangle with two half circles", () => {
    assert.closeTo(
      areaFt2(
        stripAlong(
          [
            [0, 0],
            [30, 40],
          ],
          10,
        ),
      ),
      50 * 20 + Math.PI * 100,
      0.1,
    );
    assert.deepEqual(
      stripAlong(
        [
          [0, 0],
          [30, 40],
        ],
        0,
      ),
      [],
    );
  });
  test("opening rounds the corners of a square and leaves a disc alone", () => {
    // arcs of 20π ft in all, drawn by chords up to 0.02 ft inside them: two thirds of 0.02 ft along the arcs
    assert.closeTo(areaFt2(openedBy([[square(0, 0, 60)]], 20)), 3600 - (4 - Math.PI) * 100, 0.84);
    const disc: Ring = Array.from(
      { length: 360 },
      (_, i): Point => [30 * Math.cos((i * Math.PI) / 180), 30 * Math.sin((i * Math.PI) / 180)],
    );
    assert.closeTo(areaFt2(openedBy([[disc]], 40)), areaFt2([[disc]]), 1);
  });
});

const starArb = fc
  .array(fc.double({ min: 5, max: 50, noNaN: true }), { minLength: 3, maxLength: 14 })
  .map(
    (radii): Ring =>
      radii.map(
        (r, i): Point => [
          r * Math.cos((2 * Math.PI * i) / radii.length),
          r * Math.sin((2 * Math.PI * i) / radii.length),
        ],
      ),
  );
const cornerArb = fc.tuple(
  fc.double({ min: -60, max: 60, noNaN: true }),
  fc.double({ min: -60, max: 60, noNaN: true }),
);

test("clipping any ring by a triangle gives the area Clipper2 gives", () => {
  const clipper = new TriangleClipper();
  fc.assert(
    fc.property(starArb, cornerArb, cornerArb, cornerArb, (ring, a, b, c) => {
      const [p, q, r] = signedAreaFt2([a, b, c]) >= 0 ? [a, b, c] : [a, c, b];
      const n = clipper.clip(flatten(ring), ring.length, ...p, ...q, ...r);
      const area = n < 3 ? 0 : flatArea(clipper.xy, n);
      // Clipper2 rounds to 0.0001 ft: perimeter × that
      assert.closeTo(area, areaFt2(intersectionOf([[ring]], [[[p, q, r]]])), 0.05);
    }),
    { numRuns: 500, seed: 31 },
  );
});

test("offsets keep their distance: no point of a shrunk ring is nearer to the line than asked", () => {
  fc.assert(
    fc.property(starArb, fc.double({ min: 0.5, max: 8, noNaN: true }), (ring, inset) => {
      for (const polygon of offsetOf([[ring]], -inset))
        for (const point of polygon.flat()) {
          assert.ok(ringContains(ring, point));
          const nearest = Math.min(
            ...ring.map((a, i) => distanceToSegment(point, a, ring[(i + 1) % ring.length]!)),
          );
          assert.ok(nearest >= inset - 0.003, `${nearest} < ${inset}`);
        }
    }),
    { numRuns: 200, seed: 32 },
  );
});

function distanceToSegment([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const t = Math.max(
    0,
    Math.min(1, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)),
  );
  return Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay));
}
