/** Outlines at several heights against d3-contour, one height at a time, on rasters with gaps, ties and touching corners. */
import { contours } from "d3-contour";
import fc from "fast-check";
import { assert, test } from "vitest";
import type { Grid } from "../../analysis/geometry/grid.js";
import { nestedOutlines } from "../../analysis/geometry/nested-outlines.js";
import { areaFt2, type MultiPolygon, type Point, signedAreaFt2 } from "../../analysis/geometry/plane.js";

/**
 * By d3-contour with a cell of nothing around the raster; every ring turned round: ours run outer ones counter-clockwise,
 * north up. Cells between two gaps have no width; the library takes their outlines for holes of whatever they lie in line
 * with: left out.
 */
function byLibrary(
  { originEastFt, originNorthFt, cellFt, cols, rows }: Grid,
  values: ArrayLike<number>,
  at: number,
): MultiPolygon {
  const framed = new Array<number>((cols + 2) * (rows + 2)).fill(-Infinity);
  for (let row = 0; row < rows; row++)
    for (let col = 0; col < cols; col++) {
      const value = values[row * cols + col]!;
      if (!Number.isNaN(value)) framed[(row + 1) * (cols + 2) + col + 1] = value;
    }
  return contours()
    .size([cols + 2, rows + 2])
    .contour(framed, at)
    .coordinates.map((polygon) =>
      polygon.map((ring) =>
        ring
          .slice(0, -1)
          .reverse()
          .map(([x, y]): Point => [originEastFt + (x! - 1) * cellFt, originNorthFt + (y! - 1) * cellFt]),
      ),
    )
    .map((polygon) => polygon.filter((ring) => Math.abs(signedAreaFt2(ring)) > 1e-9));
}

function agree(ours: MultiPolygon, theirs: MultiPolygon): void {
  assert.equal(ours.length, theirs.length);
  ours.forEach((polygon, p) => {
    assert.equal(polygon.length, theirs[p]!.length);
    polygon.forEach((ring, r) => {
      assert.equal(ring.length, theirs[p]![r]!.length);
      ring.forEach(([x, y], i) => {
        assert.closeTo(x, theirs[p]![r]![i]![0], 1e-9);
        assert.closeTo(y, theirs[p]![r]![i]![1], 1e-9);
      });
    });
  });
}

const grid: Grid = { originEastFt: 100, originNorthFt: -40, cellFt: 2, cols: 9, rows: 7 };
const THRESHOLDS = [2.5, 0.5, 4.5] as const;

test("outlines are those of d3-contour, ring by ring, on rough ground with gaps", () => {
  // whole numbers between half thresholds: many saddles, holes and islands
  const cell = fc.oneof({ weight: 9, arbitrary: fc.integer({ min: 0, max: 6 }) }, fc.constant(Number.NaN));
  fc.assert(
    fc.property(fc.array(cell, { minLength: 63, maxLength: 63 }), (values) => {
      const ours = nestedOutlines({ grid, values: Float32Array.from(values) }, THRESHOLDS);
      THRESHOLDS.forEach((at, i) => {
        agree(ours[i]!, byLibrary(grid, values, at));
      });
    }),
    { numRuns: 150, seed: 7 },
  );
});

test("on smooth ground as well, at any height", () => {
  const number = fc.double({ min: -3, max: 3, noNaN: true });
  fc.assert(
    fc.property(number, number, number, fc.double({ min: -4, max: 4, noNaN: true }), (a, b, c, at) => {
      const values = Float32Array.from({ length: 63 }, (_, i) => {
        const [x, y] = [(i % 9) - 4, Math.floor(i / 9) - 3];
        return a * Math.sin(x) + b * Math.cos(y * c) + 0.1 * x * y;
      });
      agree(nestedOutlines({ grid, values }, [at])[0]!, byLibrary(grid, values, at));
    }),
    { numRuns: 150, seed: 8 },
  );
});

test("an island in a pond on an island is a polygon of its own, the pond a hole", () => {
  const side = 15;
  const square: Grid = { originEastFt: 0, originNorthFt: 0, cellFt: 1, cols: side, rows: side };
  const values = new Float32Array(side * side);
  for (let i = 0; i < values.length; i++) {
    const from = Math.max(Math.abs((i % side) - 7), Math.abs(Math.floor(i / side) - 7));
    values[i] = from <= 1 || (from >= 4 && from <= 6) ? 1 : 0;
  }
  const [rings] = nestedOutlines({ grid: square, values }, [0.5]);
  assert.sameMembers(
    rings!.map((polygon) => polygon.length),
    [2, 1],
  );
  // squares of 13, 7 and 3 cells with their corners cut by ½·½·½
  assert.closeTo(areaFt2(rings!), 169 - 0.5 - (49 - 0.5) + 9 - 0.5, 1e-9);
});

test("nothing is outlined where nothing is so high", () => {
  const values = new Float32Array(63).fill(1);
  assert.deepEqual(nestedOutlines({ grid, values }, [2, 3]), [[], []]);
});
