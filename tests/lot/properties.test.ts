/** Laws that hold on any lot and any ground. */
import fc from "fast-check";
import { assert, test } from "vitest";
import { areaFt2, type Point, type Point3, type Ring } from "../../analysis/geometry/plane.js";
import type { Site } from "../../analysis/lot/index.js";
import { gridShots, siteOf } from "../support/sites.js";

/** A star-shaped lot about the origin, often not convex. */
const lotArb = fc
  .array(fc.double({ min: 60, max: 160, noNaN: true }), { minLength: 5, maxLength: 11 })
  .map(
    (radii): Ring =>
      radii.map(
        (r, i): Point => [
          r * Math.cos((2 * Math.PI * i) / radii.length),
          r * Math.sin((2 * Math.PI * i) / radii.length),
        ],
      ),
  );

const groundArb = fc.record({
  seed: fc.integer({ min: 1, max: 1e6 }),
  tilt: fc.double({ min: 0, max: 0.4, noNaN: true }),
  swing: fc.double({ min: 0, max: 15, noNaN: true }),
  shots: fc.integer({ min: 60, max: 160 }),
});

function scatter({
  seed,
  tilt,
  swing,
  shots,
}: {
  seed: number;
  tilt: number;
  swing: number;
  shots: number;
}): Point3[] {
  let state = seed;
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return Array.from({ length: shots }, (): Point3 => {
    const x = 400 * next() - 200;
    const y = 400 * next() - 200;
    return [x, y, 500 + tilt * y + swing * Math.sin(x / 45) * Math.cos(y / 60)];
  });
}

const close = (a: number, b: number, relative: number, absolute: number) =>
  assert.ok(Math.abs(a - b) <= relative * Math.max(Math.abs(a), Math.abs(b)) + absolute, `${a} against ${b}`);

/** Every number of two sites, the azimuth aside (it may turn through north). */
function sameNumbers(a: Site, b: Site, relative: number): void {
  const s = a.terrain.summary;
  const t = b.terrain.summary;
  for (const key of [
    "planAreaFt2",
    "surfaceAreaFt2",
    "meanSlopePct",
    "reliefFt",
    "longestFacetEdgeFt",
  ] as const)
    close(s[key], t[key], relative, 1e-6);
  close(s.averageSlope.contourLengthFt, t.averageSlope.contourLengthFt, relative, 1e-3);
  for (const [i, { areaFt2 }] of s.slopeBands.entries())
    close(areaFt2, t.slopeBands[i]!.areaFt2, relative, 1e-3);
  close(a.lot.summary.areaFt2, b.lot.summary.areaFt2, relative, 0);
  close(a.lot.buildable.areaFt2, b.lot.buildable.areaFt2, 1e-4, 0.5);
}

test("parts add up to the whole: bands to the surveyed ground, waterfall steps to the lot", () => {
  fc.assert(
    fc.property(lotArb, groundArb, (boundary, ground) => {
      const { terrain, lot } = siteOf({ boundary, points: scatter(ground) });
      close(
        terrain.summary.slopeBands.reduce((sum, { areaFt2 }) => sum + areaFt2, 0),
        terrain.summary.planAreaFt2,
        1e-9,
        1e-6,
      );
      close((terrain.coveragePct / 100) * lot.summary.areaFt2, terrain.summary.planAreaFt2, 1e-9, 1e-6);
      const taken = lot.buildable.steps.reduce((sum, { removedFt2 }) => sum + removedFt2, 0);
      close(taken + lot.buildable.areaFt2, lot.summary.areaFt2, 1e-6, 1e-6);
      assert.ok(terrain.summary.surfaceAreaFt2 >= terrain.summary.planAreaFt2);
    }),
    { numRuns: 60, seed: 11 },
  );
});

test("the order of shots does not matter", () => {
  fc.assert(
    fc.property(lotArb, groundArb, (boundary, ground) => {
      const points = scatter(ground);
      sameNumbers(siteOf({ boundary, points }), siteOf({ boundary, points: [...points].reverse() }), 1e-9);
    }),
    { numRuns: 40, seed: 12 },
  );
});

test("coordinates of state-plane size give the same numbers", () => {
  fc.assert(
    fc.property(lotArb, groundArb, (boundary, ground) => {
      const points = scatter(ground);
      const east = 6_123_456.78;
      const north = 2_098_765.43;
      const far = siteOf({
        boundary: boundary.map(([x, y]): Point => [x + east, y + north]),
        points: points.map(([x, y, z]): Point3 => [x + east, y + north, z]),
      });
      sameNumbers(siteOf({ boundary, points }), far, 1e-6);
    }),
    { numRuns: 40, seed: 13 },
  );
});

test("turning the lot with its ground changes no area, length or slope, and turns the aspect", () => {
  fc.assert(
    fc.property(
      lotArb,
      groundArb,
      fc.double({ min: 0, max: 360, noNaN: true }),
      (boundary, ground, degrees) => {
        const c = Math.cos((degrees * Math.PI) / 180);
        const s = Math.sin((degrees * Math.PI) / 180);
        const points = scatter(ground);
        const here = siteOf({ boundary, points });
        const turned = siteOf({
          boundary: boundary.map(([x, y]): Point => [c * x + s * y, c * y - s * x]),
          points: points.map(([x, y, z]): Point3 => [c * x + s * y, c * y - s * x, z]),
        });
        sameNumbers(here, turned, 1e-6);
        if (ground.tilt > 0.1) {
          const turn = (turned.terrain.summary.aspectDeg - here.terrain.summary.aspectDeg - degrees) / 360;
          close(turn, Math.round(turn), 0, 1e-6);
        }
      },
    ),
    { numRuns: 40, seed: 14 },
  );
});

test("a larger setback or a lower slope limit never leaves more to build on", () => {
  fc.assert(
    fc.property(
      lotArb,
      groundArb,
      fc.double({ min: 0, max: 40, noNaN: true }),
      fc.double({ min: 0, max: 20, noNaN: true }),
      fc.double({ min: 5, max: 60, noNaN: true }),
      fc.double({ min: 0, max: 20, noNaN: true }),
      (boundary, ground, setback, moreSetback, limit, lessLimit) => {
        const points = scatter(ground);
        const area = (all: number, slopeLimitPct: number) =>
          siteOf({ boundary, points, request: { rules: { setbacksFt: { all }, slopeLimitPct } } }).lot
            .buildable.areaFt2;
        const base = area(setback, limit);
        // arcs are drawn with chords that stay within 0.002 ft
        assert.ok(area(setback + moreSetback, limit) <= base + 0.5);
        assert.ok(area(setback, Math.max(1, limit - lessLimit)) <= base + 0.5);
      },
    ),
    { numRuns: 40, seed: 15 },
  );
});

test("lot lines that run through shots and along facet sides lose and double nothing", () => {
  const radiusArb = fc.integer({ min: 2, max: 10 });
  const stepArb = fc.constantFrom(10, 20, 30);
  fc.assert(
    fc.property(
      fc.array(radiusArb, { minLength: 3, maxLength: 8 }),
      stepArb,
      fc.integer(),
      (radii, step, seed) => {
        const boundary = radii.map((r, i): Point => {
          const angle = (2 * Math.PI * i) / radii.length;
          return [10 * Math.round(r * Math.cos(angle)), 10 * Math.round(r * Math.sin(angle))];
        });
        fc.pre(isSimple(boundary));
        // whole feet, so that many facets have the same slope and touch at corners
        const height = (x: number, y: number) => Math.round(100 + 0.2 * x + 8 * Math.sin(y / 30 + seed));
        const points = gridShots(height, -120, -120, 120, 120, step);
        const { terrain, lot } = siteOf({ boundary, points });
        close(terrain.summary.planAreaFt2, lot.summary.areaFt2, 1e-9, 1e-6);
        for (const [i, { polygons }] of terrain.bandPolygons.entries())
          close(areaFt2(polygons), terrain.summary.slopeBands[i]!.areaFt2, 1e-4, 0.1);
        const taken = lot.buildable.steps.reduce((sum, { removedFt2 }) => sum + removedFt2, 0);
        close(taken + lot.buildable.areaFt2, lot.summary.areaFt2, 1e-9, 1e-6);
      },
    ),
    { numRuns: 300, seed: 16 },
  );
});

/** No two sides meet but neighbours at their corner, and no side turns straight back. */
function isSimple(ring: Ring): boolean {
  const n = ring.length;
  const turn = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point) =>
    Math.sign((bx - ax) * (cy - ay) - (by - ay) * (cx - ax));
  const apart = (a: Point, b: Point, c: Point, d: Point) =>
    turn(a, b, c) * turn(a, b, d) > 0 || turn(c, d, a) * turn(c, d, b) > 0;
  for (let i = 0; i < n; i++) {
    for (let j = i + 1; j < n; j++) {
      const adjacent = j === i + 1 || (i === 0 && j === n - 1);
      if (adjacent) {
        const corner = j === i + 1 ? j : 0;
        if (turn(ring[(corner + n - 1) % n]!, ring[corner]!, ring[(corner + 1) % n]!) === 0) return false;
      } else if (!apart(ring[i]!, ring[(i + 1) % n]!, ring[j]!, ring[(j + 1) % n]!)) return false;
    }
  }
  return true;
}
