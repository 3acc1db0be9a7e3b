/** Where water runs on shapes with known answers, and against an independent slow routing. */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { catchmentOf } from "../../analysis/drainage/catchments.js";
import { flowField } from "../../analysis/drainage/flow-field.js";
import { cellCentre, type Grid, type Raster } from "../../analysis/geometry/grid.js";
import { areaFt2 } from "../../analysis/geometry/plane.js";

const grid: Grid = { originEastFt: 0, originNorthFt: 0, cellFt: 2, cols: 60, rows: 50 };
const rasterOf = (z: (x: number, y: number) => number, g = grid): Raster => ({
  grid: g,
  values: Float32Array.from({ length: g.cols * g.rows }, (_, i) =>
    z(...(cellCentre(g, i % g.cols, Math.floor(i / g.cols)) as [number, number])),
  ),
});

/** Slow witness: walks every cell down its steepest lower neighbour, one at a time, on ground without hollows. */
function walkedAreaFt2({ grid: g, values }: Raster): Float64Array {
  const area = new Float64Array(values.length);
  for (let start = 0; start < values.length; start++) {
    let cell = start;
    for (;;) {
      area[cell]! += g.cellFt ** 2;
      let next = -1;
      let steepest = 0;
      for (const [dc, dr] of [
        [1, 0],
        [1, 1],
        [0, 1],
        [-1, 1],
        [-1, 0],
        [-1, -1],
        [0, -1],
        [1, -1],
      ] as const) {
        const col = (cell % g.cols) + dc;
        const row = Math.floor(cell / g.cols) + dr;
        if (col < 0 || row < 0 || col >= g.cols || row >= g.rows) continue;
        const fall = (values[cell]! - values[row * g.cols + col]!) / Math.hypot(dc, dr);
        if (fall > steepest) [steepest, next] = [fall, row * g.cols + col];
      }
      if (next < 0) break;
      cell = next;
    }
  }
  return area;
}

describe("flow over the ground", () => {
  test("on a plane falling south every column drains alone, and D-infinity says the same", () => {
    const flow = flowField(rasterOf((_, y) => 100 + 0.2 * y));
    for (let col = 0; col < grid.cols; col++) {
      expect(flow.upslopeFt2[col]).toBeCloseTo(grid.rows * 4, 6);
      expect(flow.dInfinityFt2[col]).toBeCloseTo(grid.rows * 4, 6);
    }
  });

  test("D-infinity splits a plane falling between two neighbours by the angle (Tarboton 1997)", () => {
    // fall of 1 south and 0.5 east: angle from south atan(0.5), share of the diagonal that over 45 degrees
    const flow = flowField(rasterOf((x, y) => 100 + y - 0.5 * x));
    const share = Math.atan2(0.5, 1) / (Math.PI / 4);
    const top = (grid.rows - 1) * grid.cols + 20;
    const below = top - grid.cols;
    // second row receives (1 − share) from straight above and share from above and west
    expect(flow.dInfinityFt2[below]).toBeCloseTo(4 + (1 - share) * 4 + share * 4, 6);
    expect(flow.upslopeFt2[below]).toBeGreaterThan(0);
  });

  test("a valley agrees with the slow walk, cell by cell", () => {
    const raster = rasterOf((x, y) => 200 + 0.11 * y + 0.004 * (x - 57) ** 2 + 0.3 * Math.sin(x / 9));
    const flow = flowField(raster);
    const walked = walkedAreaFt2(raster);
    walked.forEach((area, cell) => {
      expect(flow.upslopeFt2[cell]).toBeCloseTo(area, 6);
    });
  });

  test("every drop that falls leaves: the areas at the outlets add up to the whole", () => {
    const raster = rasterOf((x, y) => 50 + 3 * Math.sin(x / 11) * Math.cos(y / 13) + 0.02 * x);
    const flow = flowField(raster);
    let d8 = 0;
    for (const cell of flow.order) if (flow.receiver[cell]! < 0) d8 += flow.upslopeFt2[cell]!;
    expect(d8).toBeCloseTo(grid.cols * grid.rows * 4, 6);
    // a cell never lies below the one it drains to
    for (const cell of flow.order) {
      const to = flow.receiver[cell]!;
      if (to >= 0) expect(flow.filledFt[to]!).toBeLessThanOrEqual(flow.filledFt[cell]!);
    }
  });

  test("a bowl is filled to its rim", () => {
    const flow = flowField(rasterOf((x, y) => 10 + 0.01 * ((x - 60) ** 2 + (y - 50) ** 2)));
    const filled = [...flow.filledFt];
    // the lowest cell of the edge: middle of the south side, 49 ft from the centre
    const rim = 10 + 0.01 * (1 + 49 ** 2);
    expect(Math.min(...filled)).toBeCloseTo(rim, 3);
  });
});

describe("catchments", () => {
  test("half a cone drains to a strip along its foot", () => {
    // cone of 60 ft radius about (60, 50); the place is the whole half below the middle
    const flow = flowField(rasterOf((x, y) => 100 - 0.3 * Math.hypot(x - 60, y - 50)));
    const south = catchmentOf(flow, [
      [
        [
          [0, 0],
          [120, 0],
          [120, 50],
          [0, 50],
        ],
      ],
    ]);
    expect(south.placeFt2).toBe(120 * 50);
    // nothing north of the top flows south over it
    expect(south.aboveFt2).toBeLessThan(0.05 * 6000);
  });

  test("a pad on a plane gathers the strip above it, and says that more may come from beyond the survey", () => {
    const flow = flowField(rasterOf((_, y) => 100 + 0.2 * y));
    const pad = catchmentOf(flow, [
      [
        [
          [40, 20],
          [80, 20],
          [80, 40],
          [40, 40],
        ],
      ],
    ]);
    expect(pad.aboveFt2).toBe(40 * 60);
    expect(pad.lowerBound).toBe(true);
    expect(pad.longestFt).toBeCloseTo(60, 6);
    expect(pad.fallFt).toBeCloseTo(12, 2);
    expect(areaFt2(pad.polygons)).toBeGreaterThan(40 * 70);
  });

  test("a pad on a hilltop gathers nothing and no more can come", () => {
    const flow = flowField(rasterOf((x, y) => 100 - 0.3 * Math.hypot(x - 60, y - 50)));
    const top = catchmentOf(flow, [
      [
        [
          [50, 40],
          [70, 40],
          [70, 60],
          [50, 60],
        ],
      ],
    ]);
    expect(top.aboveFt2).toBeLessThan(60);
    expect(top.lowerBound).toBe(false);
  });
});

test("R's volcano grid: filled cells exactly, gathered flow within what ties allow (reference: an independent D8 program, see values.json)", () => {
  const folder = new URL("../reference/volcano_grid/", import.meta.url);
  const {
    rows,
    cols,
    flow: reference,
  } = JSON.parse(readFileSync(new URL("values.json", folder), "utf8")).values;
  const lines = readFileSync(new URL("grid.csv", folder), "utf8").trim().split("\n");
  const heights = lines.reverse().flatMap((line) => line.split(",").map(Number));
  const flow = flowField({
    grid: { originEastFt: 0, originNorthFt: 0, cellFt: 10, cols, rows },
    values: Float32Array.from(heights),
  });
  const raised = heights.map((z, i) => flow.filledFt[i]! - z);
  expect(raised.filter((r) => r > 0)).toHaveLength(reference.cells_raised_by_fill);
  expect(Math.max(...raised)).toBe(reference.max_raise);
  const most = Math.max(...flow.upslopeFt2) / 100;
  expect(Math.abs(most / reference.max_accumulation_cells - 1)).toBeLessThan(0.3);
});
