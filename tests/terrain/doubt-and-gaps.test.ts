/** How far the ground may be off, and what counts as surveyed: closed forms on planes and regular grids of shots. */
import { assert, describe, test } from "vitest";
import { formulaSite, gridShots, siteOf } from "../support/sites.js";

describe("the doubt of the ground", () => {
  const doubt = (elevFt: (x: number, y: number) => number, verticalAccuracyFt: number) =>
    formulaSite(elevFt, { spacingFt: 20, request: { survey: { verticalAccuracyFt } } }).terrain;
  test("on a plane is that of a shot; contours closer than 3.29 sigma say nothing (National Map Accuracy Standards, 1947)", () => {
    const { groundSigmaFt, summary } = doubt((x, y) => 500 + 0.1 * x + 0.2 * y, 0.3);
    assert.closeTo(summary.interpolationRmsFt!, 0, 1e-9);
    assert.closeTo(groundSigmaFt, 0.3, 1e-9);
    // nine heights of ten within half an interval: of normal errors 90 % lie within 1.6449 sigma
    assert.closeTo(summary.supportedContourFt, 2 * 1.6449 * 0.3, 1e-4);
  });
  test("on rough ground half the leave-one-out error is added, in squares", () => {
    // steps of 2 ft on every second square: a shot left out is missed by about as much
    const { groundSigmaFt, summary } = doubt(
      (x, y) => 500 + 0.1 * y + 2 * (Math.round(x / 20 + y / 20) % 2),
      0.4,
    );
    assert.isAbove(summary.interpolationRmsFt!, 1);
    assert.closeTo(groundSigmaFt ** 2, 0.4 ** 2 + (0.5 * summary.interpolationRmsFt!) ** 2, 1e-9);
  });
});

describe("a strip of a lot without shots", () => {
  const side = 200;
  /** Shots every 10 ft but for a strip from x = 80 on, so many feet wide. */
  const terrainWith = (wideFt: number) =>
    siteOf({
      boundary: [
        [0, 0],
        [side, 0],
        [side, side],
        [0, side],
      ],
      points: gridShots((x, y) => 500 + 0.1 * x + 0.2 * y, -20, -20, side + 20, side + 20, 10).filter(
        ([x]) => x <= 80 || x >= 80 + wideFt,
      ),
    }).terrain;
  const covered = (wideFt: number) => terrainWith(wideFt).coveragePct;
  // facets across it are √(width² + 10²) ft long, at most; 2.5 times the usual 14 ft is less than 50 ft
  test("under 50 ft wide is ground between shots", () => assert.closeTo(covered(40), 100, 1e-6));
  test("is the largest hole: a circle through shots on both its sides", () => {
    // radius √(30² + 5²) from the middle between two rows of shots; told to a cell of 2 ft on either side
    assert.closeTo(terrainWith(60).summary.largestHoleFt, 2 * Math.hypot(30, 5), 4);
  });
  test("over 50 ft wide is unsurveyed", () => assert.closeTo(covered(60), 100 * (1 - 60 / side), 1e-6));
});
