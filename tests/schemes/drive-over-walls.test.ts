import { expect, test } from "vitest";
import type { Point3 } from "../../analysis/geometry/plane.js";
import { loadedByDrive } from "../../analysis/schemes/drive-over-walls.js";
import type { SchemeDesign } from "../../analysis/schemes/index.js";
import { formulaSite } from "../support/sites.js";

const site = formulaSite(() => 500, { widthFt: 200, depthFt: 200, spacingFt: 20 });

/** A pad 4 ft over level ground, its south edge held by a wall. */
const padOnWall = {
  levels: [
    {
      name: "main",
      role: "house",
      ring: [
        [60, 60],
        [120, 60],
        [120, 120],
        [60, 120],
      ],
      elevationFt: 504,
      floorElevationFt: 504.67,
      rotationDeg: 0,
    },
  ],
  walls: [
    {
      kind: "site",
      retainedFt: 4,
      totalFt: 5.5,
      lengthFt: 60,
      faceFt2: 240,
      where: "downhill",
      surcharge: false,
      line: [
        [60, 60],
        [90, 60],
        [120, 60],
      ],
      heightsFt: [4, 4, 4],
      classes: [],
    },
  ],
} as unknown as Pick<SchemeDesign, "walls" | "levels">;

const driveAt = (northFt: number, elevFt: number): { line: Point3[] } => ({
  line: [60, 75, 90, 105, 120].map((x): Point3 => [x, northFt, elevFt]),
});

// Common practice, no source: a load spreads downward at about 45°, so a drive bears on a wall no farther away than its height.
test("a drive on the pad near its wall loads it; one farther back, or at its foot, does not", () => {
  const loaded = (northFt: number, elevFt: number) =>
    loadedByDrive(site, padOnWall, driveAt(northFt, elevFt))[0]!.surcharge;
  // wall 4 ft, half of a 12 ft drive 6 ft
  expect(loaded(69, 504)).toBe(true);
  expect(loaded(71, 504)).toBe(false);
  expect(loaded(55, 500)).toBe(false);
});
