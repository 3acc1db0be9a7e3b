/** Walls beside a pad on an inclined plane, where every height is known: permit line, slope above, guard. */
import { describe, expect, test } from "vitest";
import { padWalls } from "../../analysis/earthwork/index.js";
import type { Ring } from "../../analysis/geometry/plane.js";
import type { SchemeDesign } from "../../analysis/schemes/scheme.js";
import { railingFt } from "../../analysis/structure/bulk.js";
import { formulaSite, planeSite } from "../support/sites.js";

/** 60 ft along the contour, 40 ft deep, about (150, 150) on ground that rises north and stands at 500 ft there. */
const RING: Ring = [
  [120, 130],
  [180, 130],
  [180, 170],
  [120, 170],
];
const DOWN = [0, -1] as const;
const wallsAt = (gradePct: number, levelFt: number) => {
  const { tin } = planeSite({ gradePct, widthFt: 300, depthFt: 300, spacingFt: 20 }).terrain;
  return padWalls(tin, [{ ring: RING, levelFt, sides: "wall" }], DOWN);
};

describe("4 ft from the bottom of the footing to the top (IBC 105.2, IRC R105.2; footing 1.5 ft down: common practice, no source)", () => {
  test.each([
    // held: slope × 20 ft less the level over the middle
    [20, 501.6, 2.4, false],
    [20, 501.4, 2.6, true],
    [20, 500, 4, true],
  ])("slope %d percent, pad at %f ft: %f ft held, over the line: %s", (gradePct, levelFt, heldFt, over) => {
    const uphill = wallsAt(gradePct, levelFt).find((w) => w.where === "uphill")!;
    expect(uphill.retainedFt).toBeCloseTo(heldFt, 6);
    expect(uphill.totalFt).toBeCloseTo(heldFt + 1.5, 6);
    expect(uphill.totalFt > 4).toBe(over);
  });
});

describe("ground that goes on rising behind a wall leans on it", () => {
  test("a hill above does, level ground above does not", () => {
    expect(wallsAt(20, 499).find((w) => w.where === "uphill")!.surcharge).toBe(true);
    const bench = formulaSite((_, y) => (y < 170 ? 500 + 0.25 * (y - 150) : 505), {
      widthFt: 300,
      depthFt: 300,
      spacingFt: 10,
    });
    const wall = padWalls(bench.terrain.tin, [{ ring: RING, levelFt: 499, sides: "wall" }], DOWN).find(
      (w) => w.where === "uphill",
    )!;
    expect(wall.surcharge).toBe(false);
  });

  test("a wall that holds fill has level ground of the pad behind it", () => {
    expect(wallsAt(20, 501).find((w) => w.where === "downhill")!.surcharge).toBe(false);
  });
});

describe("a guard where people can fall more than 30 in (IRC R312.1.1)", () => {
  test("a side wall that rises evenly from 0 to h asks for one over its length less 2.5 ft of height", () => {
    // pad level with the ground at its downhill edge: sides rise to 8 ft over 40 ft, the uphill wall holds 8 ft throughout
    const walls = wallsAt(20, 496);
    const side = 40 * (1 - 2.5 / 8);
    expect(railingFt({ walls } as unknown as SchemeDesign)).toBeCloseTo(60 + 2 * side, 3);
  });

  test("walls up to 30 in ask for none, nor do walls of the house", () => {
    expect(railingFt({ walls: wallsAt(12, 500) } as unknown as SchemeDesign)).toBe(0);
    const walls = wallsAt(20, 496).map((w) => ({ ...w, kind: "basement" as const }));
    expect(railingFt({ walls } as unknown as SchemeDesign)).toBe(0);
  });
});
