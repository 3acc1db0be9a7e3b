import { describe, expect, test } from "vitest";
import { areaFt2, polygonsContain, signedAreaFt2 } from "../../analysis/geometry/plane.js";
import type { RequestInput } from "../../analysis/request/index.js";
import { understandRequest } from "../../analysis/request/index.js";
import { footprintRing } from "../../analysis/schemes/footprint-outline.js";
import { oneLevelShapes, rectArea, twoPartShapes } from "../../analysis/schemes/footprints.js";
import { formulaSite, planeSite } from "../support/sites.js";
import { schemesOf, seededHills } from "./support.js";

const ALL = ["level-pad", "stepped-pad", "daylight-basement", "full-basement", "pier-raised"];

function hillside(request: RequestInput = {}, seed = 6) {
  return formulaSite(seededHills(seed), {
    widthFt: 180,
    depthFt: 180,
    spacingFt: 12,
    request: { ...request, rules: { slopeLimitPct: 50, ...request.rules } },
  });
}

describe("what the answer always holds", () => {
  const site = hillside();
  const schemes = schemesOf(site);

  test("every kind once, in order, fitting or not", () => {
    expect(schemes.map(({ kind }) => kind)).toEqual(ALL);
    for (const s of schemes) expect(s.feasible).toBe(s.problems.length === 0);
  });

  test("no basement kinds where the brief wants none", () => {
    const kinds = schemesOf(hillside({ brief: { basement: "none" } })).map(({ kind }) => kind);
    expect(kinds).toEqual(["level-pad", "stepped-pad", "pier-raised"]);
  });

  test("footprints of fitting schemes lie on the buildable ground", () => {
    for (const { footprint, feasible } of schemes) {
      if (!feasible) continue;
      const [cx, cy] = footprint.reduce(
        ([x, y], [px, py]) => [x + px / footprint.length, y + py / footprint.length],
        [0, 0],
      );
      // corners drawn a hundredth towards the middle, so that touching the line is inside
      for (const [x, y] of footprint)
        expect(polygonsContain(site.lot.buildablePolygons, [x + 0.01 * (cx - x), y + 0.01 * (cy - y)])).toBe(
          true,
        );
    }
  });

  test("outlines are counter-clockwise and hold the footprint", () => {
    for (const { footprint, outline } of schemes) {
      expect(signedAreaFt2(footprint)).toBeGreaterThan(0);
      expect(signedAreaFt2(outline)).toBeGreaterThanOrEqual(signedAreaFt2(footprint) - 0.01);
    }
  });

  test("one square foot of floor is one square foot, whichever way it is stacked", () => {
    const [level, stepped, daylight, full] = schemes;
    const area = (s: (typeof schemes)[number], role: string) =>
      s.levels.filter((l) => l.role === role).reduce((sum, { ring }) => sum + areaFt2([[ring]]), 0);
    // 3,200 ft² on two storeys with a garage of 22 × 22 ft
    expect(area(level!, "house") + area(level!, "garage")).toBeCloseTo(1600 + 22 * 22, 3);
    expect(area(stepped!, "house")).toBeCloseTo(1600, 3);
    expect(area(daylight!, "house")).toBeCloseTo(1600, 3);
    expect(area(daylight!, "basement")).toBeCloseTo(1600, 3);
    expect(area(full!, "house")).toBeCloseTo(1600, 3);
    expect(area(full!, "basement")).toBeCloseTo(1600, 3);
  });

  test("export and import never stand together, and loads follow the loose volume", () => {
    for (const { earthwork } of schemes) {
      expect(Math.min(earthwork.looseExportYd3, earthwork.looseImportYd3)).toBeLessThan(1e-6);
      if (earthwork.looseExportYd3 + earthwork.looseImportYd3 > 1)
        expect(earthwork.truckloads).toBeGreaterThan(0);
    }
  });

  test("the search tells what it tried and which footprint won", () => {
    for (const { search, curves } of schemes) {
      expect(search!.placementsTried).toBeGreaterThan(100);
      const prices = search!.byFootprint.map(({ objectiveUsd }) => objectiveUsd);
      expect(prices.length).toBeGreaterThan(0);
      expect(curves!.exportByLevel.length).toBe(11);
      expect(curves!.costByRotation.length).toBeGreaterThan(3);
    }
  });

  test("a curve names the rules its points break, and none where the chosen scheme fits", () => {
    for (const { curves, feasible, kind } of schemes) {
      const chosen = curves!.exportByLevel[5]!;
      expect(chosen.breaks.length === 0, kind).toBe(feasible);
    }
  });

  test("lowering a level pad never brings less export", () => {
    const { exportByLevel } = schemes[0]!.curves!;
    for (let i = 1; i < exportByLevel.length; i++)
      expect(exportByLevel[i]!.looseExportYd3).toBeLessThanOrEqual(exportByLevel[i - 1]!.looseExportYd3 + 1);
  });
});

describe("what the curves forbid, by hand", () => {
  const gradePct = 12;
  const site = planeSite({
    gradePct,
    widthFt: 200,
    depthFt: 90,
    request: {
      brief: { footprint: { widthFt: 70, depthFt: 30 }, storeys: 2, floorAreaFt2: 4200, garageCars: 0 },
      rules: { setbacksFt: { all: 20 }, heightLimitFt: 30, slopeLimitPct: 40, maxSiteWallFt: 12 },
    },
  });
  const [pad] = schemesOf(site);
  const { curves, footprint, feasible } = pad!;

  test("levels at which the roof stands over the height limit", () => {
    expect(feasible).toBe(true);
    // ground of the plane, which falls south; roof: two storeys of 10 ft and 4 ft over a floor 0.67 ft above the pad
    const lowestFt = Math.min(...footprint.map(([, north]) => 500 + (gradePct / 100) * (north - 45)));
    const over = ({ levelFt }: { levelFt: number }) => levelFt + 0.67 + 2 * 10 + 4 - lowestFt - 30;
    expect(curves!.exportByLevel.some((p) => over(p) > 0)).toBe(true);
    for (const point of curves!.exportByLevel)
      if (Math.abs(over(point)) > 0.05) expect(point.breaks.includes("height")).toBe(over(point) > 0);
  });

  test("turns at which a house 70 ft long leaves a strip 50 ft deep", () => {
    // it lies about east and west; within the strip its corners stand at most 25 ft from the middle
    for (const { rotationDeg, breaks } of curves!.costByRotation) {
      const turn = ((90 - rotationDeg) * Math.PI) / 180;
      const deep = Math.abs(70 * Math.sin(turn)) + Math.abs(30 * Math.cos(turn));
      if (deep > 50) expect(breaks).toContain("buildable");
    }
    expect(curves!.costByRotation.some(({ breaks }) => breaks.includes("buildable"))).toBe(true);
  });
});

describe("stepped pads", () => {
  test("steps are whole risers of 7½ in, 3 to 8 ft high, on levels at least 16 ft deep", () => {
    // riser: IRC R311.7.5.1 allows up to 7¾ in; the rest common practice, no source
    const stepped = schemesOf(planeSite({ gradePct: 22 }))[1]!;
    const floors = stepped.levels
      .filter(({ role }) => role === "house")
      .map(({ floorElevationFt }) => floorElevationFt);
    expect(floors.length).toBeGreaterThanOrEqual(2);
    for (let i = 1; i < floors.length; i++) {
      const step = floors[i - 1]! - floors[i]!;
      expect(step).toBeGreaterThanOrEqual(3);
      expect(step).toBeLessThanOrEqual(8);
      expect((step * 12) / 7.5).toBeCloseTo(Math.round((step * 12) / 7.5), 6);
    }
    for (const { ring, role } of stepped.levels) {
      const depth = Math.min(
        ...ring.map(([x, y], i) =>
          Math.hypot(ring[(i + 1) % ring.length]![0] - x, ring[(i + 1) % ring.length]![1] - y),
        ),
      );
      if (role === "house") expect(depth).toBeGreaterThanOrEqual(16 - 1e-6);
    }
  });
});

describe("why a scheme does not fit", () => {
  test("a raised house too high over steep ground is freed by a higher limit, found by trying", () => {
    const pier = schemesOf(
      planeSite({ gradePct: 24, request: { rules: { heightLimitFt: 29, slopeLimitPct: 40 } } }),
    ).find(({ kind }) => kind === "pier-raised")!;
    expect(pier.feasible).toBe(false);
    const [problem] = pier.problems;
    expect(problem!.code).toBe("height");
    expect(problem!.freed).toEqual({ rule: "height", value: 34 });
    const higher = schemesOf(
      planeSite({ gradePct: 24, request: { rules: { heightLimitFt: 34, slopeLimitPct: 40 } } }),
    ).find(({ kind }) => kind === "pier-raised")!;
    expect(higher.feasible).toBe(true);
  });

  test("a full basement on steep ground is refused because one side stands open", () => {
    const full = schemesOf(planeSite({ gradePct: 28, request: { rules: { slopeLimitPct: 40 } } })).find(
      ({ kind }) => kind === "full-basement",
    )!;
    expect(full.problems.map(({ code }) => code)).toContain("too-steep-to-bury");
  });

  test("a lower level open downhill is refused on nearly level ground", () => {
    const daylight = schemesOf(planeSite({ gradePct: 3 })).find(({ kind }) => kind === "daylight-basement")!;
    expect(daylight.feasible).toBe(false);
    expect(daylight.problems.some(({ code }) => code === "too-flat" || code === "no-daylight")).toBe(true);
  });

  test("a house too large for the buildable ground is shown, named so, and freed by what frees it", () => {
    const tight = (share: number) =>
      planeSite({
        gradePct: 10,
        widthFt: 90,
        depthFt: 90,
        spacingFt: 10,
        request: {
          brief: {
            floorAreaFt2: 3000 * share,
            storeys: 1,
            garageCars: 0,
            footprint: { widthFt: 60 * Math.sqrt(share), depthFt: 50 * Math.sqrt(share) },
          },
          rules: { setbacksFt: { all: 17 }, minBuildableWidthFt: 10 },
        },
      });
    const level = schemesOf(tight(1))[0]!;
    expect(level.feasible).toBe(false);
    const problem = level.problems.find(({ code }) => code === "buildable");
    // 90 − 2 × 17 = 56 ft is less than 60 ft (the diagonal does not help); 5 ft less setback gives 66 ft
    expect(problem!.freed).toEqual({ rule: "setback", value: 5 });
    expect(schemesOf(tight(0.8))[0]!.feasible).toBe(true);
  });

  test("a limit no change tried can lift stays without a cure", () => {
    const huge = planeSite({
      gradePct: 10,
      widthFt: 90,
      depthFt: 90,
      spacingFt: 10,
      request: { brief: { floorAreaFt2: 9000, storeys: 1, garageCars: 0 } },
    });
    const problem = schemesOf(huge)[0]!.problems.find(({ code }) => code === "buildable");
    expect(problem).toBeDefined();
    expect(problem!.freed).toBeUndefined();
  });
});

describe("footprints", () => {
  const brief = (b: RequestInput["brief"]) => understandRequest({ brief: b }).request.brief;
  test("areas are floor ÷ levels and the garage", () => {
    for (const shape of oneLevelShapes(brief({ floorAreaFt2: 3000, storeys: 2, garageCars: 2 }), 2))
      expect(rectArea(shape.house) + (shape.garage ? rectArea(shape.garage) : 0)).toBeCloseTo(
        1500 + 22 * 22,
        6,
      );
    for (const { house } of oneLevelShapes(
      brief({ floorAreaFt2: 3000, storeys: 2, garageCars: 2 }),
      2,
      1,
      true,
    ))
      expect(rectArea(house)).toBeCloseTo(1500, 6);
    for (const shape of twoPartShapes(brief({ floorAreaFt2: 3000, storeys: 2, garageCars: 1 }), 2, 16)) {
      expect(rectArea(shape.house)).toBeCloseTo(1500, 6);
      expect(rectArea(shape.garage!)).toBeCloseTo(12 * 22, 6);
    }
  });
  test("a given footprint is taken exactly, long side first", () => {
    const [shape, ...others] = oneLevelShapes(
      brief({ footprint: { widthFt: 30, depthFt: 50 }, garageCars: 0 }),
      2,
    );
    expect(others).toEqual([]);
    expect(shape!.house).toEqual({ u0: -25, u1: 25, v0: -15, v1: 15 });
  });
  test("outlines of every shape enclose exactly house and garage", () => {
    const shapes = [...oneLevelShapes(brief({}), 2), ...twoPartShapes(brief({}), 2, 16)];
    for (const shape of shapes) {
      const ring = footprintRing({ eastFt: 6_000_000, northFt: 2_000_000, turnRad: 0.7 }, shape);
      expect(signedAreaFt2(ring)).toBeCloseTo(rectArea(shape.house) + rectArea(shape.garage!), 3);
    }
  });
});
