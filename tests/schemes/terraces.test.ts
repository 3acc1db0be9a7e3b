/** Walls over the rule given, set back in tiers by whole schemes on steep ground; spacing: common practice, no source. */
import { describe, expect, test } from "vitest";
import { polygonsContain } from "../../analysis/geometry/plane.js";
import { planeSite } from "../support/sites.js";
import { schemesOf } from "./support.js";

/** The exact design may stand this much over the rule: less than a survey tells. */
const ROUNDING_FT = 0.3;

describe.each([33, 38])("a hillside of %d percent, walls up to 6 ft", (gradePct) => {
  const site = planeSite({
    gradePct,
    request: {
      rules: { slopeLimitPct: 45, fillMaxSlopePct: 45, maxSiteWallFt: 6 },
      brief: { floorAreaFt2: 3200 },
    },
  });
  const schemes = schemesOf(site);
  const tiered = schemes.filter((s) => s.walls.some((w) => w.tier));

  test("no scheme that keeps the rules has a taller wall outside the house, between its levels included", () => {
    for (const { walls, problems } of schemes) {
      const tallest = Math.max(0, ...walls.filter((w) => w.kind === "site").map((w) => w.retainedFt));
      if (!problems.some((p) => p.code === "site-wall")) expect(tallest).toBeLessThanOrEqual(6 + ROUNDING_FT);
    }
  });

  test("tiers stand on usable ground, far enough apart to be judged by their own heights, the lowest first", () => {
    for (const { walls, downhill } of tiered)
      for (const wall of walls.filter((w) => w.tier)) {
        const { nth, of, spacingFt } = wall.tier!;
        expect(nth).toBeGreaterThanOrEqual(1);
        expect(nth).toBeLessThanOrEqual(of);
        for (const point of wall.line)
          expect(polygonsContain(site.lot.usable, point) || wall.retainedFt === 0).toBe(true);
        const next = walls.find(
          (w) =>
            w.tier?.nth === nth + 1 &&
            w.tier.of === of &&
            w.where === wall.where &&
            w.tier.spacingFt === spacingFt,
        );
        if (!next) continue;
        expect(spacingFt + 1e-6).toBeGreaterThanOrEqual(
          Math.max(wall.retainedFt, 2 * Math.min(next.retainedFt, spacingFt / 2)),
        );
        // the next tier lies uphill by the spacing
        const along = ([x, y]: readonly [number, number]) => x * downhill[0] + y * downhill[1];
        if (wall.where === "uphill" || wall.where === "downhill")
          expect(Math.min(...next.line.map(along))).toBeLessThan(Math.min(...wall.line.map(along)));
      }
  });

  test("a refusal for a tall wall says what came of trying terraces", () => {
    for (const { problems } of schemes)
      for (const { code, message } of problems)
        if (code === "site-wall") expect(message).toMatch(/terraces/i);
  });
});

test("some scheme on 38 % stands on tiers where one wall would be too tall", () => {
  const site = planeSite({ gradePct: 38, request: { rules: { slopeLimitPct: 45, fillMaxSlopePct: 45 } } });
  const tiered = schemesOf(site).filter((s) => s.walls.some((w) => w.tier));
  expect(tiered.length).toBeGreaterThan(0);
  expect(tiered.some((s) => !s.problems.some((p) => p.code === "site-wall"))).toBe(true);
});
