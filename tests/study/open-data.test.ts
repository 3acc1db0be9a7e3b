/**
 * The main path on open data: files in, study out, against reference values made with general-purpose libraries
 * (numpy, scipy's Qhull, shapely; versions in each values.json). The sets and their provenance: tests/reference/.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parseCostBook } from "../../analysis/book/index.js";
import { type RequestInput, requestSchema } from "../../analysis/request/index.js";
import { type StudyOutcome, studyLot } from "../../analysis/study.js";

const root = new URL("../..", import.meta.url).pathname;
const parsedBook = parseCostBook(JSON.parse(readFileSync(`${root}/demo-data/cost-book.json`, "utf8")));
if (!parsedBook.ok) throw new Error("the default cost book does not parse");
const book = parsedBook.book;

interface ReferencePad {
  readonly id: string;
  readonly corners_EN: [number, number][];
  readonly elevation_ft: number;
  readonly vertical_sides_exact: {
    cut_bank_cuyd: number;
    fill_cuyd: number;
    max_cut_ft: number;
    max_fill_ft: number;
  };
  readonly vertical_sides_alternate_diagonals: { cut_bank_cuyd: number; fill_cuyd: number };
  readonly batter_numeric?: {
    corner_mode: string;
    cut_batter_h_per_v: number;
    fill_batter_h_per_v: number;
    cut_bank_cuyd: number;
    fill_cuyd: number;
    touches_edge_of_tin: boolean;
  }[];
}

function read(set: string) {
  const folder = `${root}/tests/reference/${set}`;
  const file = (name: string) => ({ name, bytes: new Uint8Array(readFileSync(`${folder}/${name}`)) });
  const values = JSON.parse(readFileSync(`${folder}/values.json`, "utf8"));
  return {
    files: { topo: file("points.csv"), boundary: file("boundary.csv") },
    values,
    pads: values.pads as ReferencePad[],
  };
}

async function study(
  set: string,
  extra: Partial<RequestInput> = {},
): Promise<Extract<StudyOutcome, { ok: true }>> {
  const { files, pads } = read(set);
  const input = requestSchema.parse({
    survey: { unit: "ft" },
    rules: { slopeBandsPct: [0, 10, 15, 20, 25, 30, 40], contourIntervalFt: 2 },
    brief: {
      pads: pads.map((p) => ({
        name: p.id,
        ring: p.corners_EN,
        elevationFt: p.elevation_ft,
        sides: "vertical",
      })),
    },
    ...extra,
  });
  const outcome = await studyLot({ input, files, book });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
}

/** 0.1 % of the value; for volumes at least the rounding of the printed corners. */
const within = (actual: number, expected: number, relative: number, least: number) =>
  expect(Math.abs(actual - expected), `${actual} against ${expected}`).toBeLessThanOrEqual(
    Math.max(Math.abs(expected) * relative, least),
  );

describe.each(["davis_topo_ft", "davis_topo_quarter_relief"])("%s", (set) => {
  test("area, slopes, bands and contour lengths inside the boundary", async () => {
    const inside = read(set).values.inside_boundary;
    const { lot, terrain } = (await study(set)).study;
    within(lot.areaFt2, inside.plan_area_sqft, 1e-6, 0);
    within(terrain.surfaceAreaFt2, inside.surface_area_3d_sqft, 1e-3, 0);
    within(terrain.meanSlopePct, inside.mean_slope_pct_area_weighted, 1e-3, 0);
    within(terrain.averageSlope.contourLengthFt, inside.contour_2ft.total_length_ft, 1e-3, 0);
    within(terrain.averageSlope.pct, inside.contour_2ft.S_pct, 1e-3, 0);
    within(terrain.minElevationFt, inside.min_elev, 0, 0.001);
    within(terrain.maxElevationFt, inside.max_elev, 0, 0.001);
    for (const band of terrain.slopeBands)
      within(
        band.areaFt2,
        inside.slope_bands_sqft[`${band.fromPct}-${band.toPct ?? "+"}`],
        1e-3,
        inside.plan_area_sqft * 1e-3,
      );
  });

  test("pads with vertical sides", async () => {
    const { schemes } = (await study(set)).study;
    for (const pad of read(set).pads) {
      const scheme = schemes.find((s) => s.id === `fixed-pad-${pad.id}`);
      expect(scheme, pad.id).toBeDefined();
      within(scheme!.earthwork.bankCutYd3, pad.vertical_sides_exact.cut_bank_cuyd, 1e-3, 0.05);
      within(scheme!.earthwork.compactedFillYd3, pad.vertical_sides_exact.fill_cuyd, 1e-3, 0.05);
      within(scheme!.earthwork.maxCutFt, pad.vertical_sides_exact.max_cut_ft, 0, 0.02);
      within(scheme!.earthwork.maxFillFt, pad.vertical_sides_exact.max_fill_ft, 0, 0.02);
    }
  });
});

test("the Maunga Whau lot, within the spread of its equally valid triangulations", async () => {
  const { values, pads } = read("maungawhau_lot");
  const { lot, terrain, schemes } = (await study("maungawhau_lot")).study;
  const inside = values.inside_boundary;
  within(lot.areaFt2, inside.plan_area_sqft, 1e-6, 0);
  within(terrain.meanSlopePct, inside.mean_slope_pct_area_weighted, 0.02, 0);
  within(terrain.averageSlope.pct, inside.contour_2ft.S_pct, 0.02, 0);
  // a square grid has ties between diagonals: both triangulations are Delaunay, each tie falls its own way, so volumes lie near or between the two
  const between = (actual: number, one: number, other: number) => {
    const slack = 0.05 * Math.max(one, other) + 0.2;
    expect(actual).toBeGreaterThanOrEqual(Math.min(one, other) - slack);
    expect(actual).toBeLessThanOrEqual(Math.max(one, other) + slack);
  };
  for (const pad of pads) {
    const { vertical_sides_exact: one, vertical_sides_alternate_diagonals: other } = pad;
    const { earthwork } = schemes.find((s) => s.id === `fixed-pad-${pad.id}`)!;
    between(earthwork.bankCutYd3, one.cut_bank_cuyd, other.cut_bank_cuyd);
    between(earthwork.compactedFillYd3, one.fill_cuyd, other.fill_cuyd);
  }
});
