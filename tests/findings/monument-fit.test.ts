/** A rigid turn and shift put in by hand must be found again. */
import { describe, expect, test } from "vitest";
import { fitMonuments } from "../../analysis/findings/monument-fit.js";
import type { Point } from "../../analysis/geometry/plane.js";
import type { Survey } from "../../analysis/survey/index.js";

const corners: Point[] = [
  [0, 0],
  [180, 10],
  [170, 140],
  [-5, 120],
];

function surveyWith(found: readonly Point[]): Survey {
  const features = found.map((at, row) => ({
    kind: "monument" as const,
    at,
    elevFt: 500,
    description: "IPF",
    row,
  }));
  return { boundary: corners, features } as unknown as Survey;
}

function moved(degrees: number, [dx, dy]: Point): Point[] {
  const t = (degrees * Math.PI) / 180;
  const [cx, cy] = [corners.reduce((s, p) => s + p[0], 0) / 4, corners.reduce((s, p) => s + p[1], 0) / 4];
  return corners.map(([x, y]) => [
    cx + (x - cx) * Math.cos(t) - (y - cy) * Math.sin(t) + dx,
    cy + (x - cx) * Math.sin(t) + (y - cy) * Math.cos(t) + dy,
  ]);
}

describe("found corners against lot corners", () => {
  test("surveys that lie on each other show nothing", () => {
    const fit = fitMonuments(surveyWith(corners));
    expect(fit.matched).toBe(4);
    expect(fit.worstFt).toBe(0);
    expect(fit.rotationDeg).toBeCloseTo(0, 12);
  });

  test("a turn of 0.8° and a shift of 1.5 ft are found again, with the sign that undoes them", () => {
    const fit = fitMonuments(surveyWith(moved(0.8, [1.2, -0.9])));
    expect(fit.matched).toBe(4);
    expect(fit.rotationDeg).toBeCloseTo(-0.8, 9);
    expect(fit.shiftFt).toBeCloseTo(1.5, 9);
  });

  test("corners of other lots are left out", () => {
    expect(
      fitMonuments(
        surveyWith([
          [400, 400],
          [0.1, 0],
        ]),
      ).matched,
    ).toBe(1);
    expect(fitMonuments(surveyWith([])).matched).toBe(0);
  });
});
