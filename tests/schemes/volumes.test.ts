import { describe, expect, test } from "vitest";
import { DaylightBasement } from "../../analysis/schemes/daylight-basement.js";
import { computeExactly } from "../../analysis/schemes/exact-trial.js";
import { KINDS } from "../../analysis/schemes/kinds.js";
import { layOut, type Tile } from "../../analysis/schemes/layout.js";
import { CLOSE } from "../../analysis/schemes/model.js";
import { searchPlaces } from "../../analysis/schemes/place-search.js";
import { Placings, searchTurnsRad } from "../../analysis/schemes/placings.js";
import { DIG_BELOW_FLOOR_FT } from "../../analysis/schemes/sketch.js";
import { isHeldByWall } from "../../analysis/schemes/wall-rule.js";
import { formulaSite, planeSite } from "../support/sites.js";
import { judgeOf, noReach, schemesOf, seededHills } from "./support.js";

const SQUARE = { widthFt: 300, depthFt: 300, spacingFt: 10 };
/** v points downhill on a plane that falls south. */
const FACING_SOUTH = Math.PI;

/** Sketch of tiles in the middle of a 300 ft plane lot at a level over the ground there. */
function sketched(
  gradePct: number,
  tiles: readonly Tile[],
  levelOverMiddleFt: number,
  open: (outward: readonly [number, number]) => boolean,
) {
  const site = planeSite({
    ...SQUARE,
    gradePct,
    request: { rules: { cutBatter: 2, fillBatter: 2, maxSiteWallFt: 20 } },
  });
  const { sketch } = judgeOf(site);
  const layout = layOut(tiles, (_, outward) => !open(outward));
  expect(sketch.read({ eastFt: 150, northFt: 150, turnRad: FACING_SOUTH }, layout, CLOSE)).toBe(true);
  return sketch.measure(500 + levelOverMiddleFt, true);
}

function strips(widthFt: number, depthFt: number, n: number, stepFt: number): Tile[] {
  return Array.from({ length: n }, (_, i) => ({
    rect: {
      u0: -widthFt / 2,
      u1: widthFt / 2,
      v0: -depthFt / 2 + (i * depthFt) / n,
      v1: -depthFt / 2 + ((i + 1) * depthFt) / n,
    },
    offsetFt: (n - 1 - i) * stepFt,
    part: "house",
  }));
}

// Closed forms for level ground cut into an inclined plane of slope s: n equal steps of a pad W × D balance at
// W·s·D²/(8·n) each way; one step at the middle line of every strip. Euclid, no source needed.
describe("the search's own volumes on an inclined plane", () => {
  for (const [gradePct, width, depth, n] of [
    [25, 70, 50, 1],
    [20, 60, 40, 2],
    [30, 48, 48, 3],
  ] as const)
    test(`${n} level(s) of ${width} × ${depth} ft on ${gradePct} %: cut = fill = W·s·D²/(8n)`, () => {
      const s = gradePct / 100;
      const step = (s * depth) / n;
      const m = sketched(gradePct, strips(width, depth, n, step), (-(n - 1) * step) / 2, () => false);
      const expected = (width * s * depth ** 2) / (8 * n);
      expect(m.cutFt3 / expected).toBeCloseTo(1, 2);
      expect(m.fillFt3 / expected).toBeCloseTo(1, 2);
    });

  test("70 × 50 ft on 25 %, sloped 2 : 1 up and down, ends vertical: 405.1 yd³ each way", () => {
    // closed form: half pad W·s·D²/8 and a bank W·H²/(2·(1/b − s)) with H = s·D/2, together 405.1 yd³
    const m = sketched(25, strips(70, 50, 1, 0), 0, ([, v]) => v !== 0);
    expect(m.cutFt3 / 27).toBeCloseTo(405.1, 0);
    expect(Math.abs(m.cutFt3 / 27 / 405.1 - 1)).toBeLessThan(0.005);
    expect(Math.abs(m.fillFt3 / 27 / 405.1 - 1)).toBeLessThan(0.005);
    expect(m.tallestWallFt).toBe(0);
  });

  test("the same on 30 %: neither bank meets the ground within twice its edge, so walls stand", () => {
    const m = sketched(30, strips(70, 50, 1, 0), 0, ([, v]) => v !== 0);
    expect(m.cutFt3 / 27).toBeCloseTo((70 * 0.3 * 50 ** 2) / 8 / 27, 0);
    expect(m.tallestWallFt).toBeCloseTo(0.3 * 25, 2);
    const faces = [...m.wallFaceFt2, ...m.loadedWallFaceFt2].reduce((a, b) => a + b, 0);
    expect(faces).toBeCloseTo(2 * 7.5 * 70, 0);
  });
});

// Catch height ÷ edge height = 1 / (1 − b·s), reach = b·h / (1 − b·s): plane geometry.
test.each([
  [1.5, 0.2, false],
  [1.5, 0.3, false],
  [1.5, 0.4, true],
  [2, 0.2, false],
  [2, 0.25, false],
  [2, 0.3, true],
  [2, 0.45, true],
])("a %s : 1 slope on ground of %s gives way to a wall: %s", (batter, slope, wall) => {
  const edge = 4;
  expect(isHeldByWall(edge, (batter * edge) / (1 - batter * slope), batter)).toBe(wall);
});

// Independent of facets and samples: the ground's formula summed on a fine grid over the pad the search chose.
describe("the chosen pad against a plain sum over the ground's formula", () => {
  for (const seed of [3, 7, 9])
    test(`seeded hill ${seed}`, () => {
      const ground = seededHills(seed);
      const site = formulaSite(ground, {
        widthFt: 120,
        depthFt: 120,
        spacingFt: 4,
        beyondFt: 40,
        request: {
          brief: { floorAreaFt2: 1400, storeys: 2, garageCars: 0, footprint: { widthFt: 34, depthFt: 24 } },
          rules: { setbacksFt: { all: 10 }, slopeLimitPct: 60, minBuildableWidthFt: 10, maxSiteWallFt: 8 },
        },
      });
      const [pad] = schemesOf(site);
      const { place, layout, levelFt } = searched(site);
      let cut = 0;
      let fill = 0;
      const gap = 0.5;
      for (const { rect } of layout.tiles)
        for (let u = rect.u0 + gap / 2; u < rect.u1; u += gap)
          for (let v = rect.v0 + gap / 2; v < rect.v1; v += gap) {
            const x = place.eastFt + u * Math.cos(place.turnRad) - v * Math.sin(place.turnRad);
            const y = place.northFt + u * Math.sin(place.turnRad) + v * Math.cos(place.turnRad);
            const depth = ground(x, y) - levelFt;
            if (depth > 0) cut += depth * gap * gap;
            else fill -= depth * gap * gap;
          }
      // banks only add to what lies on the pad itself
      expect(pad!.earthwork.bankCutYd3 * 27).toBeGreaterThan(0.97 * cut);
      expect(pad!.earthwork.compactedFillYd3 * 27).toBeGreaterThan(0.97 * fill);
      const judge = judgeOf(site);
      judge.sketch.read(
        place,
        layOut(layout.tiles, () => true),
        CLOSE,
      );
      const m = judge.sketch.measure(levelFt, true);
      // 4 ft shots round the hill off by about a hundredth of a foot
      const tolerance = 0.01 * (layout.areaFt2 + cut + fill);
      expect(Math.abs(m.cutFt3 - cut)).toBeLessThan(tolerance);
      expect(Math.abs(m.fillFt3 - fill)).toBeLessThan(tolerance);
    });
});

function searched(site: ReturnType<typeof formulaSite>) {
  const judge = judgeOf(site);
  const [model] = KINDS[0]!.models(judge, 1);
  const placings = new Placings(
    site.lot.buildablePolygons,
    searchTurnsRad(site, noReach(site)),
    judge.ground,
  );
  return searchPlaces(model!, placings, judge)!.best;
}

test("the sampled cost of every kind lies within 3 % of the exact one", () => {
  const site = formulaSite(seededHills(4), {
    widthFt: 200,
    depthFt: 200,
    spacingFt: 12,
    request: { rules: { slopeLimitPct: 50 } },
  });
  const judge = judgeOf(site);
  const placings = new Placings(
    site.lot.buildablePolygons,
    searchTurnsRad(site, noReach(site)),
    judge.ground,
  );
  for (const { models } of KINDS)
    for (const model of models(judge, 1)) {
      const { best } = searchPlaces(model, placings, judge)!;
      const exact = computeExactly(best, model, site, judge);
      expect(Math.abs(exact.costUsd / best.costUsd - 1), model.name).toBeLessThan(0.03);
    }
});

test("a lower level on 25 % holds s·D of hill less the floor's height over the downhill ground", () => {
  const site = planeSite({ ...SQUARE, gradePct: 25, request: { brief: { garageCars: 0 } } });
  const judge = judgeOf(site);
  const model = new DaylightBasement(judge);
  const [shape] = model.shapes;
  const depth = shape!.house.v1 - shape!.house.v0;
  const downhillFt = 500 - 0.25 * shape!.house.v1;
  const floorFt = downhillFt + 0.67;
  const like = model.tryAt({ eastFt: 150, northFt: 150, turnRad: FACING_SOUTH }, shape!, CLOSE, {
    how: "search",
  })!;
  const trial = model.tryAt(like.place, shape!, CLOSE, { how: "set", like, levelFt: floorFt })!;
  expect(judge.sketch.moved.tallestHouseWallFt).toBeCloseTo(0.25 * depth - 0.67, 1);
  const { walls } = { walls: schemesOf(site).find(({ kind }) => kind === "daylight-basement")!.walls };
  expect(walls.some(({ kind, where }) => kind === "basement" && where === "uphill")).toBe(true);
  expect(trial.levelFt - DIG_BELOW_FLOOR_FT).toBeLessThan(downhillFt);
});
