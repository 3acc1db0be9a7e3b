/** Pictures of an inclined plane and of the hand-made lot: what is thinned must still tell the truth. */
import { assert, describe, test } from "vitest";
import { areaFt2, type Point } from "../../analysis/geometry/plane.js";
import { makePictures } from "../../analysis/pictures/index.js";
import { crossings, spansInside } from "../../analysis/pictures/line-crossings.js";
import { thinLine, thinPolygons } from "../../analysis/pictures/thin.js";
import { makeFixture } from "../report/fixtures.js";
import { demoStudy } from "../report/whole-studies.js";
import { planeSite } from "../support/sites.js";

const noWater = { streams: [], depressions: [], lotCatchmentFt2: 0, lotCatchment: [], lowerBound: false };
const noReach = (site: ReturnType<typeof planeSite>) => ({
  entry: null,
  entryElevFt: 0,
  entryOrigin: "unknown" as const,
  distanceFt: site.terrain.slope,
});

describe("thinning", () => {
  test("straight runs keep their ends only", () => {
    const line = Array.from({ length: 50 }, (_, i): Point => [i, 2 * i]);
    assert.deepEqual(thinLine(line, 0.01), [
      [0, 0],
      [49, 98],
    ]);
  });

  test("a thinned circle stays within the tolerance of the true one", () => {
    // Closed form: the area of a circle of 100 ft radius is 10,000 π ft²; chords within 0.1 ft lose less than 2πr · 0.1.
    const ring = Array.from(
      { length: 720 },
      (_, i): Point => [100 * Math.cos((i * Math.PI) / 360), 100 * Math.sin((i * Math.PI) / 360)],
    );
    const thinned = thinPolygons([[ring]], 0.1, 1);
    // A chord of the best polygon spans 2 acos(1 − 0.1/100): 71 corners; halving may need twice that.
    assert.isAtMost(thinned[0]![0]!.length, 142);
    assert.closeTo(areaFt2(thinned), Math.PI * 100 ** 2, 2 * Math.PI * 100 * 0.12);
  });

  test("cracks and spurs as thin as a needle are taken out, corners and broad notches stay", () => {
    // a square of 40 ft with a crack 6 ft deep and 0.2 ft wide in its south side, a spur as thin to the east,
    // and a notch 6 ft deep and 3 ft wide in its north side
    const crack: Point[] = [
      [14.9, 0],
      [15, 6],
      [15.1, 0],
    ];
    const spur: Point[] = [
      [40, 20],
      [47, 20.05],
      [40, 20.1],
    ];
    const notch: Point[] = [
      [21.5, 40],
      [20, 34],
      [18.5, 40],
    ];
    const ring: Point[] = [[0, 0], ...crack, [40, 0], ...spur, [40, 40], ...notch, [0, 40]];
    const [polygon] = thinPolygons([[ring]], 0.02, 1);
    const has = ([x, y]: Point) => polygon![0]!.some(([px, py]) => px === x && py === y);
    for (const tip of [crack[1]!, spur[1]!]) assert.isFalse(has(tip), `${tip}`);
    for (const kept of [notch[1]!, [40, 40] as const, [0, 0] as const]) assert.isTrue(has(kept), `${kept}`);
    assert.closeTo(areaFt2([polygon!]), 40 * 40 - (3 * 6) / 2, 0.5);
  });

  test("crumbs are dropped, holes with them", () => {
    const square = (x: number, side: number): Point[] => [
      [x, 0],
      [x + side, 0],
      [x + side, side],
      [x, side],
    ];
    assert.lengthOf(thinPolygons([[square(0, 1)], [square(10, 20), square(12, 1).reverse()]], 0.01, 4), 1);
    assert.lengthOf(thinPolygons([[square(10, 20), square(12, 1).reverse()]], 0.01, 4)[0]!, 1);
  });
});

describe("a straight line across a ring", () => {
  const ring: Point[] = [
    [0, 0],
    [100, 0],
    [100, 80],
    [0, 80],
  ];
  test("enters and leaves where a ruler says", () => {
    assert.deepEqual(spansInside(ring, [-10, 40], [1, 0], 200), [[10, 110]]);
    assert.deepEqual(spansInside(ring, [50, -30], [0, 1], 200), [[30, 110]]);
  });
  test("crossings carry the share of the crossed line", () => {
    const [crossing] = crossings(
      [
        [20, -10],
        [20, 30],
      ],
      false,
      [0, 0],
      [1, 0],
      100,
    );
    assert.closeTo(crossing!.atFt, 20, 1e-12);
    assert.closeTo(crossing!.share, 0.25, 1e-12);
  });
});

describe("pictures of an inclined plane", () => {
  const site = planeSite({ gradePct: 20, widthFt: 120, depthFt: 160, spacingFt: 20 });
  const pictures = makePictures({ site, water: noWater, reach: noReach(site), schemes: [] });

  test("ground of the block view lies on the plane", () => {
    const { grid, values } = pictures.ground;
    let seen = 0;
    for (let row = 0; row < grid.rows; row++)
      for (let col = 0; col < grid.cols; col++) {
        const value = values[row * grid.cols + col];
        if (value === null || value === undefined) continue;
        seen++;
        const north = grid.originNorthFt + (row + 0.5) * grid.cellFt;
        // The support plane falls to the south and stands at 500 ft in the middle of the lot.
        assert.closeTo(value, 500 + 0.2 * (north - 80), 0.02);
      }
    assert.isAbove(seen, 500);
  });

  test("contours are straight and stay so", () => {
    for (const { elevFt, lines } of pictures.contours)
      for (const line of lines)
        for (const [, north] of line) assert.closeTo(500 + 0.2 * (north - 80), elevFt, 0.02);
  });

  test("nothing is unsurveyed where the shots reach beyond the lot", () => {
    assert.closeTo(areaFt2(pictures.unsurveyed), 0, 1);
  });
});

describe("pictures of the hand-made lot", () => {
  const { pictures } = makeFixture();

  test("survive JSON unchanged: no NaN, no typed arrays", () => {
    assert.deepEqual(JSON.parse(JSON.stringify(pictures)), pictures);
  });

  test("stay under 300 kB", () => {
    assert.isBelow(JSON.stringify(pictures).length, 300_000);
  });

  test("surveyed and unsurveyed ground make the lot", () => {
    const lotFt2 = areaFt2([[pictures.boundary]]);
    // The fixture's surveyed ring, typed in fixtures.ts, leaves a corner off.
    const surveyedFt2 = areaFt2([
      [
        [
          [12, 14],
          [138, 10],
          [146, 96],
          [132, 186],
          [60, 189.9],
          [8.9, 110],
          [8, 104],
        ],
      ],
    ]);
    assert.closeTo(areaFt2(pictures.unsurveyed), lotFt2 - surveyedFt2, 0.01 * lotFt2);
  });

  for (const scheme of pictures.schemes)
    test(`${scheme.id}: the pad is level between its edges in both sections`, () => {
      for (const section of [scheme.along, scheme.across]) {
        const level = section.levels.reduce((low, l) => (l.elevationFt < low.elevationFt ? l : low));
        const inside = section.stations.filter(
          (s) => s.atFt > level.fromFt + 0.5 && s.atFt < level.toFt - 0.5 && level.role !== "garage",
        );
        for (const station of inside)
          assert.closeTo(station.designFt!, level.elevationFt, scheme.id === "pier-raised" ? 1 : 0.05);
      }
    });

  test("sections run downhill and reach from lot line to lot line", () => {
    const { along } = pictures.schemes[0]!;
    const known = along.stations.filter((s) => s.groundFt !== null);
    assert.isAbove(known[0]!.groundFt!, known.at(-1)!.groundFt!);
    // The invented lot is about 180 ft deep along the fall line.
    assert.closeTo(along.lotToFt - along.lotFromFt, 180, 8);
  });

  test("depth steps lie inside each other", () => {
    for (const { depthSteps } of pictures.schemes)
      for (const side of ["cut", "fill"] as const) {
        const areas = depthSteps.filter((s) => s.side === side).map((s) => areaFt2(s.polygons));
        for (let i = 1; i < areas.length; i++) assert.isAtMost(areas[i]!, areas[i - 1]!);
      }
  });
});

test("light wells of a full basement open at the pad around the house, not under it", async () => {
  const { pictures } = await demoStudy("quillback-lane");
  const scheme = pictures.schemes.find(({ id }) => id === "full-basement")!;
  const padFt = scheme.levels.find(({ role }) => role === "house")!.elevationFt;
  const wells = [...scheme.along.wells, ...scheme.across.wells];
  assert.isNotEmpty(wells);
  // the earth outside stands at the pad; the sill is 44 in over the floor (IRC R310.2.2), the floor of the well 6 in below it
  const floorFt = scheme.levels.find(({ role }) => role === "basement")!.floorElevationFt;
  for (const { topFt, bottomFt } of wells) {
    assert.closeTo(topFt, padFt, 0.02);
    assert.closeTo(bottomFt, floorFt + 44 / 12 - 0.5, 0.02);
  }
});
