import { expect, test } from "vitest";
import type { Site } from "../../analysis/lot/index.js";
import { gridShots, planeSite, siteOf } from "../support/sites.js";
import { schemesOf, seededHills } from "./support.js";

/** A lot whose shots leave out a pond in the middle. */
function lotWithHole(
  seed: number,
  radiusFt: number,
  pads?: { name: string; ring: [number, number][] },
): Site {
  const points = gridShots(seededHills(seed), -30, -30, 210, 210, 6).filter(
    ([x, y]) => Math.hypot(x - 95, y - 85) > radiusFt,
  );
  const brief = pads ? { pads: [{ ...pads, elevationFt: 500, sides: "battered" as const }] } : {};
  return siteOf({
    boundary: [
      [0, 0],
      [180, 0],
      [180, 180],
      [0, 180],
    ],
    points,
    request: { brief, rules: { slopeLimitPct: 50 } },
  });
}

/** Every number in it, with where it stands; depth rasters hold NaN by design. */
function notFinite(value: unknown, path = ""): string[] {
  if (typeof value === "number") return Number.isFinite(value) ? [] : [path];
  if (value === null || typeof value !== "object" || ArrayBuffer.isView(value)) return [];
  return Object.entries(value).flatMap(([key, inner]) => notFinite(inner, `${path}.${key}`));
}

// 2026-11-25: a corner of a house beside unsurveyed ground made the cost of a lower level not a number.
for (const seed of [2, 4, 6])
  for (const radiusFt of [30, 70])
    test(`hillside ${seed} with ${radiusFt} ft of it not surveyed: every figure of every scheme is a number`, () => {
      const site = lotWithHole(seed, radiusFt);
      expect(site.terrain.coveragePct).toBeLessThan(99);
      expect(notFinite(schemesOf(site))).toEqual([]);
    });

test("a drawn pad wholly off the surveyed ground is a problem, not a number that is none", () => {
  const ring: [number, number][] = [
    [90, 80],
    [100, 80],
    [100, 90],
    [90, 90],
  ];
  const [pad] = schemesOf(lotWithHole(4, 40, { name: "pond", ring }));
  expect(pad!.problems.map(({ code }) => code)).toContain("unsurveyed");
  expect(notFinite(pad)).toEqual([]);
});

test.each([
  [2, 40_000, 1],
  [35, 40_000, 1],
  [10, 100_000, 3],
])(
  "on %d %% a house of %d ft² on %d floor(s), larger than lot and survey, is a problem of every way to build",
  (gradePct, floorAreaFt2, storeys) => {
    const site = planeSite({
      gradePct,
      widthFt: 140,
      depthFt: 180,
      request: { brief: { floorAreaFt2, storeys }, access: { frontage: [0] } },
    });
    const schemes = schemesOf(site);
    expect(schemes).toHaveLength(5);
    for (const { problems } of schemes) expect(problems.map(({ code }) => code)).toContain("buildable");
    expect(notFinite(schemes)).toEqual([]);
  },
);

test.each([
  [400, 30],
  [400, 8],
  [12, 400],
  [400, 400],
])(
  "a given house of %d × %d ft, longer than lot and survey, is a problem of every way to build",
  (widthFt, depthFt) => {
    const site = planeSite({
      gradePct: 15,
      widthFt: 140,
      depthFt: 180,
      request: {
        brief: {
          floorAreaFt2: widthFt * depthFt,
          storeys: 1,
          garageCars: 2,
          footprint: { widthFt, depthFt },
        },
        access: { frontage: [0] },
      },
    });
    const schemes = schemesOf(site);
    expect(schemes).toHaveLength(5);
    for (const { problems } of schemes) expect(problems.map(({ code }) => code)).toContain("buildable");
    expect(notFinite(schemes)).toEqual([]);
  },
);
