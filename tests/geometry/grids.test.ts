/** Grid kernels against brute force over every cell. */
import fc from "fast-check";
import { assert, describe, test } from "vitest";
import { openingLimits } from "../../analysis/geometry/disc-filter.js";
import { distanceToMask } from "../../analysis/geometry/distance-transform.js";
import type { Grid, Mask } from "../../analysis/geometry/grid.js";
import { cellCentre } from "../../analysis/geometry/grid.js";
import { hilbertOrder, inOrder } from "../../analysis/geometry/hilbert.js";
import { outlineAtLeast } from "../../analysis/geometry/outlines.js";
import {
  areaFt2,
  type MultiPolygon,
  type Point,
  polygonsContain,
  type Ring,
} from "../../analysis/geometry/plane.js";
import { scanPolygons, scanTriangle } from "../../analysis/geometry/scan.js";

const maskArb = fc
  .tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 14 }))
  .chain(([cols, rows]) =>
    fc.array(fc.boolean(), { minLength: cols * rows, maxLength: cols * rows }).map(
      (bits): Mask => ({
        grid: { originEastFt: 3, originNorthFt: -7, cellFt: 2.5, cols, rows },
        values: Uint8Array.from(bits, (bit) => (bit ? 1 : 0)),
      }),
    ),
  );

describe("distance transform", () => {
  test("is the distance to the nearest marked cell, tried one by one", () => {
    fc.assert(
      fc.property(maskArb, (mask) => {
        const { cols, cellFt } = mask.grid;
        const distance = distanceToMask(mask);
        for (let i = 0; i < distance.length; i++) {
          let nearest = Infinity;
          for (let j = 0; j < distance.length; j++)
            if (mask.values[j])
              nearest = Math.min(
                nearest,
                Math.hypot((i % cols) - (j % cols), Math.floor(i / cols) - Math.floor(j / cols)),
              );
          if (nearest === Infinity) assert.equal(distance[i], Infinity);
          else assert.closeTo(distance[i]!, nearest * cellFt, 1e-9);
        }
      }),
      { numRuns: 200, seed: 41 },
    );
  });
});

describe("order along a Hilbert curve", () => {
  // Hilbert, "Über die stetige Abbildung einer Linie auf ein Flächenstück", Math. Ann. 38 (1891): each square once, each beside the last
  test("goes through a lattice from neighbour to neighbour, through each once", () => {
    const side = 32;
    const shuffled = Array.from({ length: side * side }, (_, i) => (i * 389) % (side * side));
    const xs = Float64Array.from(shuffled, (k) => 1_000 + 2.5 * (k % side));
    const ys = Float64Array.from(shuffled, (k) => -70 + 2.5 * Math.floor(k / side));
    const order = hilbertOrder(xs, ys)!;
    assert.equal(new Set(order).size, side * side);
    const [x, y] = [inOrder(xs, order), inOrder(ys, order)];
    for (let i = 1; i < x.length; i++)
      assert.equal(Math.abs(x[i]! - x[i - 1]!) + Math.abs(y[i]! - y[i - 1]!), 2.5);
    assert.isNull(hilbertOrder(x, y));
  });
  test("leaves points at one place as they are", () => {
    assert.isNull(hilbertOrder(new Float64Array(9).fill(6e6), new Float64Array(9).fill(2e6)));
    assert.isNull(hilbertOrder(new Float64Array(), new Float64Array()));
  });
});

describe("opening a raster", () => {
  const rasterArb = fc
    .tuple(fc.integer({ min: 1, max: 14 }), fc.integer({ min: 1, max: 14 }))
    .chain(([cols, rows]) =>
      fc
        .array(fc.constantFrom(1, 1, 1, 1, 1, 2, 2, 3, NaN), {
          minLength: cols * rows,
          maxLength: cols * rows,
        })
        .map((values) => ({
          grid: { originEastFt: 3, originNorthFt: -7, cellFt: 2.5, cols, rows },
          values: Float32Array.from(values),
        })),
    );
  test("keeps, at each limit, the cells that some disc on ground up to the limit covers, tried one by one", () => {
    fc.assert(
      fc.property(rasterArb, fc.double({ min: 1, max: 14, noNaN: true }), (raster, diameterFt) => {
        const { cols, rows, cellFt } = raster.grid;
        const radius = diameterFt / 2 / cellFt;
        const limits = openingLimits(raster, diameterFt);
        for (const limit of [1, 2, 3]) {
          const on = (col: number, row: number) =>
            col >= 0 && row >= 0 && col < cols && row < rows && raster.values[row * cols + col]! <= limit;
          /** A disc stands on a cell centre when every cell centre off the ground is its radius and half a cell away. */
          const stands = (col: number, row: number) => {
            for (let r = -1; r <= rows; r++)
              for (let c = -1; c <= cols; c++)
                if (!on(c, r) && Math.hypot(c - col, r - row) - 0.5 < radius) return false;
            return true;
          };
          for (let row = 0; row < rows; row++)
            for (let col = 0; col < cols; col++) {
              let covered = false;
              for (let r = 0; r < rows; r++)
                for (let c = 0; c < cols; c++)
                  if (on(c, r) && Math.hypot(c - col, r - row) <= radius && stands(c, r)) covered = true;
              assert.equal(limits[row * cols + col]! <= limit, covered && on(col, row));
            }
        }
      }),
      { numRuns: 150, seed: 42 },
    );
  });
});

const grid: Grid = { originEastFt: -20, originNorthFt: -15, cellFt: 1.7, cols: 24, rows: 19 };

test("scanned polygons hold the cells whose centres they hold", () => {
  const ringArb = fc
    .array(fc.double({ min: 3, max: 25, noNaN: true }), { minLength: 3, maxLength: 9 })
    .map(
      (radii): Ring =>
        radii.map(
          (r, i): Point => [
            r * Math.cos((2 * Math.PI * i) / radii.length),
            r * Math.sin((2 * Math.PI * i) / radii.length),
          ],
        ),
    );
  fc.assert(
    fc.property(ringArb, (ring) => {
      const hole: Ring = [
        [-2, -2],
        [-2, 2],
        [2, 2],
        [2, -2],
      ];
      const polygons: MultiPolygon = [[ring, hole]];
      const { values } = scanPolygons(grid, polygons);
      const insideRing = (p: Point) =>
        polygonsContain([[ring]], p) !== polygonsContain([[[...hole].reverse()]], p);
      for (let row = 0; row < grid.rows; row++)
        for (let col = 0; col < grid.cols; col++)
          assert.equal(values[row * grid.cols + col] === 1, insideRing(cellCentre(grid, col, row)));
    }),
    { numRuns: 200, seed: 43 },
  );
});

test("triangles that share sides give each cell to exactly one of them", () => {
  const spot = fc.tuple(
    fc.double({ min: -15, max: 15, noNaN: true }),
    fc.double({ min: -12, max: 12, noNaN: true }),
  );
  fc.assert(
    fc.property(spot, ([x, y]) => {
      // a square cut into four triangles about an inner point
      const corners: Point[] = [
        [-16, -13],
        [16, -13],
        [16, 13],
        [-16, 13],
      ];
      const times = new Uint8Array(grid.cols * grid.rows);
      corners.forEach(([ax, ay], i) => {
        const [bx, by] = corners[(i + 1) % 4]!;
        scanTriangle(grid, ax, ay, bx, by, x, y, (first, last) => {
          for (let k = first; k <= last; k++) times[k]!++;
        });
      });
      const whole = scanPolygons(grid, [[corners]]).values;
      assert.deepEqual([...times], [...whole]);
    }),
    { numRuns: 200, seed: 44 },
  );
});

test("the outline of a cone at a height is a circle", () => {
  const fine: Grid = { originEastFt: -50, originNorthFt: -50, cellFt: 1, cols: 100, rows: 100 };
  const values = new Float32Array(fine.cols * fine.rows);
  for (let row = 0; row < fine.rows; row++)
    for (let col = 0; col < fine.cols; col++)
      values[row * fine.cols + col] = 100 - Math.hypot(...cellCentre(fine, col, row));
  assert.closeTo(areaFt2(outlineAtLeast({ grid: fine, values }, 70)), Math.PI * 30 ** 2, 3);
  // ground that reaches the grid's edge is closed there, through the outer cells' centres
  const flat = new Float32Array(fine.cols * fine.rows).fill(5);
  assert.closeTo(areaFt2(outlineAtLeast({ grid: fine, values: flat }, 1)), 100 ** 2, 400);
});
