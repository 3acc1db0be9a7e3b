/** Horn's slope on published 3 × 3 windows and on an open elevation grid. */
import { readFileSync } from "node:fs";
import { assert, describe, test } from "vitest";
import { gridGradients, hornGradient, smoothGround } from "../../analysis/terrain/grid-slope.js";
import { referenceValues } from "../support/reference-lots.js";

// gisagmaps.com, "Example of slope from neighbours", cells of 10 ft, feet; degrees as printed there (to 0.1) and
// rise/run recomputed by hand from Horn (1981). The middle cell is not used.
const windows: [window: string, degrees: number, riseOverRun: number][] = [
  ["10020 10020 10020 / 10010 10010 10010 / 10000 10000 10000", 45.0, 1],
  ["10020 10010 10000 / 10020 10010 10000 / 10020 10010 10000", 45.0, 1],
  ["10010 10010 10000 / 10020 10010 10000 / 10020 10010 10000", 41.5, Math.hypot(0.875, 0.125)],
  ["10020 10010 10000 / 10010 10010 10000 / 10020 10010 10000", 36.9, 0.75],
  ["10020 10010 10000 / 10020 10010 10000 / 10010 10010 10000", 41.5, Math.hypot(0.875, 0.125)],
  ["10000 10010 10000 / 10000 10010 10000 / 10000 10010 10000", 0.0, 0],
  ["10010 10000 10000 / 10000 10010 10000 / 10000 10000 10000", 10.0, Math.hypot(0.125, 0.125)],
  ["10000 10000 10000 / 10010 10010 10000 / 10000 10000 10000", 14.0, 0.25],
];

function gradientOf(window: string, cellFt: number): [number, number] {
  const [a, b, c, d, , f, g, h, i] = window.split(/[ /]+/).map(Number) as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  return hornGradient([a, b, c, d, f, g, h, i], cellFt);
}

test.each(windows)("window %s slopes %d degrees", (window, degrees, riseOverRun) => {
  const slope = Math.hypot(...gradientOf(window, 10));
  assert.closeTo(slope, riseOverRun, 1e-12);
  assert.closeTo((Math.atan(slope) * 180) / Math.PI, degrees, 0.05);
});

test("a teaching example in wide use slopes 75.2577 degrees", () => {
  // From memory: window 50 45 50 / 30 30 30 / 8 10 10, cell 5; dz/dx 0.05, dz/dy −3.8.
  const [east, north] = gradientOf("50 45 50 / 30 30 30 / 8 10 10", 5);
  assert.closeTo(east, 0.05, 1e-12);
  assert.closeTo(north, 3.8, 1e-12);
  assert.closeTo((Math.atan(Math.hypot(east, north)) * 180) / Math.PI, 75.2577, 5e-5);
});

describe("Maunga Whau on its 10 m grid, against gdaldem 3.6.2 -alg Horn -p", () => {
  interface Horn {
    valid_cells: number;
    mean: number;
    median: number;
    max: number;
    p90: number;
    bands_cells: Record<string, number>;
  }
  const { rows, cols, slope_pct_Horn } = referenceValues<{
    values: { rows: number; cols: number; slope_pct_Horn: Horn };
  }>("volcano_grid/values.json").values;
  const lines = readFileSync(new URL("../reference/volcano_grid/grid.csv", import.meta.url), "utf8")
    .trim()
    .split(/\r?\n/);
  // the file's first row is north, ours south
  const values = Float32Array.from(lines.reverse().flatMap((line) => line.split(",").map(Number)));
  const grid = { originEastFt: 0, originNorthFt: 0, cellFt: 10, cols, rows };
  const { east, north } = gridGradients({ grid, values });
  const inner: number[] = [];
  for (let row = 1; row + 1 < rows; row++)
    for (let col = 1; col + 1 < cols; col++)
      inner.push(100 * Math.hypot(east[row * cols + col]!, north[row * cols + col]!));
  inner.sort((a, b) => a - b);

  test("as many cells, the same mean, median and steepest cell", () => {
    assert.equal(inner.length, slope_pct_Horn.valid_cells);
    assert.closeTo(inner.reduce((sum, s) => sum + s, 0) / inner.length, slope_pct_Horn.mean, 1e-4);
    assert.closeTo(inner[inner.length >> 1]!, slope_pct_Horn.median, 1e-4);
    assert.closeTo(inner.at(-1)!, slope_pct_Horn.max, 1e-4);
  });
  test("the same number of cells in each band", () => {
    for (const [band, cells] of Object.entries(slope_pct_Horn.bands_cells)) {
      const [from, to] = band.split("-").map((edge) => (edge === "+" ? Infinity : Number(edge))) as [
        number,
        number,
      ];
      assert.equal(inner.filter((s) => s >= from && s < to).length, cells, band);
    }
  });
});

describe("at the edge of the survey", () => {
  const cols = 12;
  const rows = 9;
  const grid = { originEastFt: 0, originNorthFt: 0, cellFt: 2, cols, rows };
  // a plane with a bite taken out of it
  const values = Float32Array.from({ length: cols * rows }, (_, i) => {
    const col = i % cols;
    const row = Math.floor(i / cols);
    return col > 7 && row > 4 ? NaN : 100 + 0.6 * col - 0.4 * row;
  });
  test("smoothing and Horn's formula leave a plane a plane", () => {
    const smooth = smoothGround({ grid, values });
    const { east, north } = gridGradients(smooth);
    for (let i = 0; i < values.length; i++) {
      if (Number.isNaN(values[i]!)) {
        assert.isNaN(smooth.values[i]);
        continue;
      }
      assert.closeTo(smooth.values[i]!, values[i]!, 1e-4);
      assert.closeTo(east[i]!, 0.3, 1e-5);
      assert.closeTo(north[i]!, -0.2, 1e-5);
    }
  });
});
