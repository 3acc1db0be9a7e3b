/** Terrain of the open data sets against values made with numpy, scipy (qhull), shapely and GDAL; provenance in tests/reference. */
import { assert, describe, test } from "vitest";
import { referenceSite, referenceValues } from "../support/reference-lots.js";

interface Ground {
  plan_area_sqft: number;
  surface_area_3d_sqft: number;
  mean_slope_pct_area_weighted: number;
  min_elev: number;
  max_elev: number;
  slope_bands_sqft: Record<string, number>;
  contour_2ft: { total_length_ft: number; S_pct: number };
  contour_10ft: { total_length_ft: number; S_pct: number };
}
interface Values {
  boundary_area_sqft: number;
  boundary_perimeter_ft: number;
  n_facets: number;
  inside_boundary: Ground;
  alternate_diagonals: { inside_boundary: Ground };
}

function near(actual: number, expected: number, tolerance: number, what: string): void {
  assert.ok(
    Math.abs(actual - expected) <= tolerance,
    `${what}: ${actual} against ${expected} ± ${tolerance}`,
  );
}

// Davis (1973), 52 heights: its Delaunay triangulation is the only one, so every value must agree.
for (const set of ["davis_topo_ft", "davis_topo_quarter_relief"])
  describe(set, () => {
    const reference = referenceValues<Values>(`${set}/values.json`);
    const expected = reference.inside_boundary;
    const { terrain, lot } = referenceSite(set);
    const { summary } = terrain;

    test("the lot has the area and perimeter of its corners and is wholly surveyed", () => {
      near(lot.summary.areaFt2, reference.boundary_area_sqft, 1e-6, "area");
      near(lot.summary.perimeterFt, reference.boundary_perimeter_ft, 1e-4, "perimeter");
      near(terrain.coveragePct, 100, 1e-6, "coverage");
    });
    test("the facets are those of qhull and GEOS", () => {
      assert.equal(terrain.tin.facetCount, reference.n_facets);
    });
    test("areas, mean slope and relief agree to the last printed digit", () => {
      near(summary.planAreaFt2, expected.plan_area_sqft, 1e-4, "plan area");
      near(summary.surfaceAreaFt2, expected.surface_area_3d_sqft, 1e-4, "surface area");
      near(summary.meanSlopePct, expected.mean_slope_pct_area_weighted, 1e-4, "mean slope");
      near(summary.minElevationFt, expected.min_elev, 1e-4, "lowest");
      near(summary.maxElevationFt, expected.max_elev, 1e-4, "highest");
    });
    test("each slope band has its exact area", () => {
      for (const { fromPct, toPct, areaFt2 } of summary.slopeBands)
        near(areaFt2, expected.slope_bands_sqft[`${fromPct}-${toPct ?? "+"}`]!, 1e-3, `${fromPct} %`);
    });
    for (const [intervalFt, contours] of [
      [2, expected.contour_2ft],
      [10, expected.contour_10ft],
    ] as const)
      test(`contours at ${intervalFt} ft have their exact length`, () => {
        const { averageSlope } = referenceSite(set, { rules: { contourIntervalFt: intervalFt } }).terrain
          .summary;
        near(averageSlope.contourLengthFt, contours.total_length_ft, 1e-3, "length");
        near(averageSlope.pct, contours.S_pct, 1e-4, "average slope");
      });
  });

// Maunga Whau, ten by eight shots on a grid: 21 groups of four shots lie on one circle, each with two right answers. The
// reference gives the numbers of one choice and of the opposite one for all groups at once; its own tolerance is 0.5 %
// for means and lengths.
describe("maungawhau_lot", () => {
  const reference = referenceValues<Values>("maungawhau_lot/values.json");
  const one = reference.inside_boundary;
  const other = reference.alternate_diagonals.inside_boundary;
  const { terrain } = referenceSite("maungawhau_lot");
  const { summary } = terrain;

  test("plan area and lowest ground agree, and the lot is wholly surveyed", () => {
    near(summary.planAreaFt2, one.plan_area_sqft, 1e-4, "plan area");
    near(summary.minElevationFt, one.min_elev, 1e-4, "lowest");
    near(terrain.coveragePct, 100, 1e-6, "coverage");
  });
  test("mean slope, surface and contour length agree within half a percent", () => {
    near(summary.meanSlopePct / one.mean_slope_pct_area_weighted, 1, 0.005, "mean slope");
    near(summary.surfaceAreaFt2 / one.surface_area_3d_sqft, 1, 0.005, "surface");
    near(summary.averageSlope.contourLengthFt / one.contour_2ft.total_length_ft, 1, 0.005, "contour length");
  });
  test("each band lies between the two triangulations, give or take one facet", () => {
    for (const { fromPct, toPct, areaFt2 } of summary.slopeBands) {
      const key = `${fromPct}-${toPct ?? "+"}`;
      const low = Math.min(one.slope_bands_sqft[key]!, other.slope_bands_sqft[key]!);
      const high = Math.max(one.slope_bands_sqft[key]!, other.slope_bands_sqft[key]!);
      const slack = (10 / 0.3048) ** 2 / 2 + 0.1; // half a square of 10 m
      assert.ok(
        areaFt2 >= low - slack && areaFt2 <= high + slack,
        `${key}: ${areaFt2} not in ${low}…${high}`,
      );
    }
  });
  test("no shot order and no size of coordinates changes the choice between the two", () => {
    const shifted = referenceSite("maungawhau_lot", {}, [-6_000_000.37, -2_000_000.91]).terrain.summary;
    near(shifted.meanSlopePct / summary.meanSlopePct, 1, 1e-6, "mean slope");
  });
});

describe("synth_plane_20pct_az0", () => {
  // Closed form: a plane at 20 %, falling to azimuth 0, lot 260 × 260 ft; heights given to 0.0001 ft.
  const { summary } = referenceSite("synth_plane_20pct_az0").terrain;
  test("every measure of steepness is 20 %", () => {
    near(summary.meanSlopePct, 20, 1e-3, "mean slope");
    near(summary.averageSlope.pct, 20, 1e-3, "average slope");
    near(summary.averageSlope.contourLengthFt, 6760, 0.1, "contour length");
    near(summary.surfaceAreaFt2, 67_600 * Math.sqrt(1.04), 0.1, "surface");
    near(summary.reliefFt, 52, 1e-3, "relief");
    near(Math.min(summary.aspectDeg, 360 - summary.aspectDeg), 0, 0.01, "aspect");
  });
});

describe("synth_dome", () => {
  // Closed form: paraboloid z = 560 − 0.0015 r² on a 180-gon of radius 140 ft, shots about 12 ft apart.
  // Slope at radius r is 0.3 r percent, so the mean over the disc is 0.3 · ⅔ · 140 = 28 %.
  const { terrain } = referenceSite("synth_dome");
  const { summary } = terrain;
  test("mean slope is two thirds of the slope at the rim", () =>
    near(summary.meanSlopePct, 28, 0.28, "mean slope"));
  test("band areas are rings of the disc", () => {
    const radius = (pct: number) => Math.min(140, pct / 0.3);
    for (const { fromPct, toPct, areaFt2 } of summary.slopeBands) {
      const ring = Math.PI * (radius(toPct ?? 1000) ** 2 - radius(fromPct) ** 2);
      near(areaFt2, ring, 0.02 * summary.planAreaFt2, `${fromPct} %`);
    }
  });
  test("the leave-one-out error is that of a paraboloid between four neighbours", () => {
    // From a square of side h, a paraboloid's centre lies k h² above the mean of opposite neighbours: 0.0015 · 12.32²
    near(summary.interpolationRmsFt!, 0.0015 * 12.321 ** 2, 0.05, "interpolation error");
  });
});
