/** Bank, loose and compacted earth, trucks, stations, walls, doubt and stakes against published figures and arithmetic. */
import { describe, expect, test } from "vitest";
import {
  averageEndAreaFt3,
  balanceEarth,
  bankFromCompacted,
  compactedFromBank,
  gradedGround,
  gradeSurface,
  groundHeights,
  listStakes,
  looseFromBank,
  padWalls,
  prismoidalFt3,
  retainingWall,
  sideOf,
  stockpileFt2,
  sumStationsFt3,
  truckload,
  truckloads,
  volumeSigmaFt3,
} from "../../analysis/earthwork/index.js";
import type { Point, Ring } from "../../analysis/geometry/plane.js";
import { understandRequest } from "../../analysis/request/index.js";
import { planeSite } from "../support/sites.js";

const { haul, soil } = understandRequest({}).request;
const yd3 = (ft3: number) => ft3 / 27;

describe("stations", () => {
  // G. L. Vose, Handbook of Railroad Construction (1857), art. 108: base 20 ft, sides 1½:1, cuts 0, 5, 10, 15, 0 ft at 50 ft
  const area = (cutFt: number) => 20 * cutFt + 1.5 * cutFt ** 2;
  const cuts = [0, 5, 10, 15, 0];
  test("average end areas of the railroad cut give 56,250 ft³ (printed, with rounded areas: 56,200)", () => {
    const stations = cuts.map((cut, i) => ({ stationFt: 50 * i, areaFt2: area(cut) }));
    expect(sumStationsFt3(stations)).toBeCloseTo(56_250, 6);
    expect(yd3(sumStationsFt3(stations))).toBeCloseTo(2083.33, 2);
    expect(Math.abs(sumStationsFt3(stations) - 56_200)).toBeLessThanOrEqual(50);
  });
  test("the prismoidal formula gives 52,500 ft³", () => {
    let sum = 0;
    for (let i = 1; i < cuts.length; i++) {
      const [from, to] = [cuts[i - 1]!, cuts[i]!];
      sum += prismoidalFt3(area(from), area((from + to) / 2), area(to), 50);
    }
    expect(sum).toBeCloseTo(52_500, 6);
    expect(yd3(sum)).toBeCloseTo(1944.44, 2);
  });
  test("80 and 140 ft² a hundred feet apart hold 407.41 yd³ (study guide for the Fundamentals of Surveying exam)", () => {
    expect(yd3(averageEndAreaFt3(80, 140, 100))).toBeCloseTo(407.41, 2);
  });
  test("a pyramid: prismoidal exact, end areas half as much again (Euclid XII 7)", () => {
    expect(prismoidalFt3(100, 25, 0, 30)).toBeCloseTo(1000, 9);
    expect(averageEndAreaFt3(100, 0, 30)).toBeCloseTo(1500, 9);
  });
  test.each([-1, NaN, Infinity])("an area of %d is refused by name", (bad) => {
    expect(() => averageEndAreaFt3(bad, 1, 1)).toThrow(/area1Ft2/);
    expect(() => prismoidalFt3(1, bad, 1, 1)).toThrow(/areaMidFt2/);
  });
});

describe("states of earth", () => {
  // US Army FM 5-434 (2000) soil-conversion factors, from memory: in place → loose, → compacted; loose → compacted
  test.each([
    ["common-earth", 1.25, 0.9, 0.72],
    ["sand", 1.11, 0.95, 0.86],
    ["clay", 1.43, 0.9, 0.63],
    ["rock", 1.5, 1.3, 0.87],
  ] as const)("%s", (kind, loose, compacted, looseToCompacted) => {
    const { soil: factors } = understandRequest({ soil: { kind } }).request;
    expect(looseFromBank(1, factors)).toBeCloseTo(loose, 9);
    expect(compactedFromBank(1, factors)).toBeCloseTo(compacted, 9);
    expect(compactedFromBank(1, factors) / looseFromBank(1, factors)).toBeCloseTo(looseToCompacted, 2);
    expect(bankFromCompacted(compactedFromBank(7, factors), factors)).toBeCloseTo(7, 9);
  });

  test("1,000 bank yd³ of common earth is 1,250 loose: 125 loads of 10 yd³, 106 by 12 tons of 2,025 lb/yd³", () => {
    const truck = { ...haul, truckLooseYd3: 10, truckPayloadTons: 12, looseDensityLbPerYd3: 2025 };
    const got = balanceEarth({ bankCutFt3: 27_000, compactedFillFt3: 0 }, soil, truck);
    expect(got.looseExportYd3).toBeCloseTo(1250, 9);
    expect(got.looseImportYd3).toBe(0);
    expect(got.truckloads).toBe(125);
    expect(truckloads(1250, { ...truck, truckLooseYd3: 100 })).toBe(106);
  });

  test("fill takes its own volume over 0.9 of the cut; what is over leaves, what is missing comes, never both", () => {
    const over = balanceEarth({ bankCutFt3: 2700, compactedFillFt3: 900 }, soil, haul);
    expect(over.looseExportYd3).toBeCloseTo(((2700 - 1000) / 27) * 1.25, 9);
    expect(over.looseImportYd3).toBe(0);
    const short = balanceEarth({ bankCutFt3: 900, compactedFillFt3: 2430 }, soil, haul);
    expect(short.looseExportYd3).toBe(0);
    expect(short.looseImportYd3).toBeCloseTo(((2700 - 900) / 27) * 1.25, 9);
    const even = balanceEarth({ bankCutFt3: 1000, compactedFillFt3: 900 }, soil, haul);
    expect([even.looseExportYd3, even.looseImportYd3]).toEqual([expect.closeTo(0, 9), expect.closeTo(0, 9)]);
  });

  test("a heap for 363 yd³ of backfill takes about 2,700 ft² at 5 ft (363 ÷ 0.9 × 1.25 × 27 ÷ 5)", () => {
    expect(stockpileFt2(363 * 27, soil)).toBeCloseTo((363 / 0.9) * 1.25 * (27 / 5), 6);
  });
});

describe("trucks", () => {
  // US Army TM 9-2320-366-10-1, Table 2-15: 5-ton truck, body 5.19 yd³ level, largest load printed to the half yard below
  test.each([
    ["earth, dry and loose", 2025, 4.5],
    ["earth, moist and packed", 2565, 3.5],
    ["earth and gravel, dry and loose", 2700, 3.5],
    ["gravel", 2970, 3],
  ])("%s: the payload governs a 5-ton body", (_, looseDensityLbPerYd3, printedYd3) => {
    const load = truckload({ ...haul, truckLooseYd3: 5.19, truckPayloadTons: 5, looseDensityLbPerYd3 });
    expect(load.governs).toBe("weight");
    expect(Math.floor(load.looseYd3 * 2) / 2).toBe(printedYd3);
  });
  test("light material fills the body first", () => {
    expect(
      truckload({ ...haul, truckLooseYd3: 5.19, truckPayloadTons: 5, looseDensityLbPerYd3: 1500 }),
    ).toEqual({
      looseYd3: 5.19,
      governs: "bed",
    });
  });
  test("moist earth: a 12 yd³ bed at 2,400 lb/yd³ is over 14 tons, so weight governs", () => {
    expect(truckload(haul).governs).toBe("weight");
    expect(truckload(haul).looseYd3).toBeCloseTo(28_000 / 2400, 9);
  });
  test("a street posted at 11 tons takes small trucks: 2.3 to 2.4 times the loads", () => {
    const posted = { ...haul, postedWeightTons: 11 };
    expect(truckload(posted)).toEqual({ looseYd3: 5, governs: "posted weight" });
    expect(truckloads(480, posted) / truckloads(480, haul)).toBeCloseTo(2.3, 1);
  });
  test("a street posted above the loaded truck changes nothing", () => {
    expect(truckload({ ...haul, postedWeightTons: 40 })).toEqual(truckload(haul));
  });
  test("nothing to haul is no load, and a spadeful is one", () => {
    expect(truckloads(0, haul)).toBe(0);
    expect(truckloads(0.01, haul)).toBe(1);
  });
});

describe("walls", () => {
  test("a wall rising from 0 to 12 ft over 60 ft: classes by similar triangles", () => {
    const wall = retainingWall({
      kind: "site",
      where: "uphill",
      line: [
        [0, 0],
        [60, 0],
      ],
      heightsFt: [0, 6, 12],
      surcharge: false,
    });
    expect(wall.retainedFt).toBe(12);
    // half a foot of earth needs no wall: the lowest 2.5 ft of length are left out
    expect(wall.classes.map(({ lengthFt }) => lengthFt)).toEqual(
      [17.5, 10, 10, 10, 10, 0].map((v) => expect.closeTo(v, 9)),
    );
    expect(wall.classes.map(({ faceFt2 }) => faceFt2)).toEqual(
      [17.5 * 2.25, 50, 70, 90, 110, 0].map((v) => expect.closeTo(v, 9)),
    );
    expect(wall.faceFt2).toBeCloseTo(360 - 2.5 * 0.25, 9);
  });

  const { tin } = planeSite({ gradePct: 25, widthFt: 300, depthFt: 300 }).terrain;
  const ring: Ring = [
    [120, 130],
    [180, 130],
    [180, 170],
    [120, 170],
  ];
  test("ground along the uphill edge of a pad 20 ft up a 25 % hill stands 5 ft above it", () => {
    const heights = groundHeights(tin, [ring[2]!, ring[3]!], 500);
    expect(heights).toHaveLength(61);
    for (const h of heights) expect(h).toBeCloseTo(5, 6);
  });
  test("walls all round a pad: uphill and downhill whole, the sides in two halves, slope above leans on the uphill one", () => {
    const walls = padWalls(tin, [{ ring, levelFt: 500, sides: "wall" }], [0, -1]);
    expect(walls.map(({ where }) => where).sort()).toEqual([
      "downhill",
      "left",
      "left",
      "right",
      "right",
      "uphill",
    ]);
    const uphill = walls.find(({ where }) => where === "uphill")!;
    expect(uphill.faceFt2).toBeCloseTo(300, 6);
    expect(uphill.totalFt).toBeGreaterThan(uphill.retainedFt);
    expect(uphill.surcharge).toBe(true);
    expect(walls.find(({ where }) => where === "downhill")!.surcharge).toBe(false);
    // triangles 20 ft long and 5 ft high, less the lowest half foot
    for (const side of walls.filter(({ where }) => where === "left" || where === "right")) {
      expect(side.faceFt2).toBeCloseTo(50 - 0.5 * 2 * 0.5, 1);
      expect(side.surcharge).toBe(false);
    }
  });
  test("sides are named as seen looking downhill, whichever way the ring runs", () => {
    const south: Point = [0, -1];
    expect([0, 1, 2, 3].map((edge) => sideOf(ring, edge, south))).toEqual([
      "downhill",
      "left",
      "uphill",
      "right",
    ]);
    expect([0, 1, 2, 3].map((edge) => sideOf([...ring].reverse(), edge, south))).toEqual([
      "uphill",
      "left",
      "downhill",
      "right",
    ]);
  });
});

describe("doubt", () => {
  test("one shot, or shots infinitely close: σ A and σ A √½", () => {
    expect(volumeSigmaFt3(2400, 0.3, 1000)).toBeCloseTo(720, 9);
    expect(volumeSigmaFt3(2400, 0.3, 0.01)).toBeCloseTo(720 * Math.SQRT1_2, 3);
  });
  test("grows with the area, but less than in proportion", () => {
    expect(volumeSigmaFt3(4800, 0.3, 20)).toBeGreaterThan(volumeSigmaFt3(2400, 0.3, 20));
    expect(volumeSigmaFt3(4800, 0.3, 20)).toBeLessThan(2 * volumeSigmaFt3(2400, 0.3, 20));
  });
});

describe("stakes", () => {
  const site = planeSite({ gradePct: 20, widthFt: 300, depthFt: 300 });
  const ring: Ring = [
    [120, 130],
    [180, 130],
    [180, 170],
    [120, 170],
  ];
  const graded = gradedGround(
    gradeSurface(site.terrain.tin, { pads: [{ ring, levelFt: 500.04 }], cutBatter: 2, fillBatter: 2 }),
  );
  const stakes = listStakes(site, { levels: [{ name: "main", ring, elevationFt: 500.04 }], graded });
  test("corners: 4 ft of fill downhill, 4 ft of cut uphill, read to 0.1 ft", () => {
    const corners = stakes.filter(({ kind }) => kind === "corner");
    expect(
      corners.map(({ name, existingFt, proposedFt, cutFt, fillFt }) => [
        name,
        existingFt,
        proposedFt,
        cutFt,
        fillFt,
      ]),
    ).toEqual([
      ["main 1", 496, 500, 0, 4],
      ["main 2", 496, 500, 0, 4],
      ["main 3", 504, 500, 4, 0],
      ["main 4", 504, 500, 4, 0],
    ]);
  });
  test("daylight stakes lie where neither cut nor fill is left, uphill 13.3 ft from the pad", () => {
    const daylight = stakes.filter(({ kind }) => kind === "daylight");
    expect(daylight.length).toBeGreaterThan(20);
    for (const { cutFt, fillFt } of daylight) expect([cutFt, fillFt]).toEqual([0, 0]);
    const north = Math.max(...daylight.filter(({ level }) => level === "cut").map(({ at }) => at[1]));
    // 4 ft at 2:1 against 20 %: 4 × 2 / (1 − 0.4)
    expect(Math.abs(north - 183.3)).toBeLessThan(0.2);
  });
});
