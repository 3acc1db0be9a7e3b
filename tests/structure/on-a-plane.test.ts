/** Structure on an inclined plane, where every height is known in closed form; trade facts marked as such. */
import { describe, expect, test } from "vitest";
import type { RequestInput } from "../../analysis/request/index.js";
import { basementOf } from "../../analysis/structure/basement.js";
import { planeSite } from "../support/sites.js";
import { house, onPlane } from "./house-on-a-plane.js";

describe("a basement dug into a plane", () => {
  test.each([20, 25, 30])("at %d %% holds what geometry says", (gradePct) => {
    const [w, d, s, over] = [48, 32, gradePct / 100, 0.67];
    const basement = onPlane(gradePct).basement!;
    // earth is read 2 ft outside the wall: uphill s·(D + 2) − 0.67, sides s·x − 0.67
    expect(basement.maxRetainedFt).toBeCloseTo(s * (d + 2) - over, 6);
    const sideBuriedFt = d - (1.5 + over) / s;
    const oneSample = 2 * 2.001;
    expect(Math.abs(basement.buriedWallFt - (w + 2 * sideBuriedFt))).toBeLessThanOrEqual(oneSample);
    const sideOpenFt = (0.5 + over) / s;
    expect(Math.abs(basement.daylightWallFt - (w + 2 * sideOpenFt))).toBeLessThanOrEqual(oneSample);
    // face: earth + 1 ft above it, where earth stands over 0.5 ft
    const from = sideOpenFt;
    const sideFace = s * (d * d - from * from) * 0.5 + (1 - over) * (d - from);
    const face = w * (s * (d + 2) - over + 1) + 2 * sideFace;
    expect(Math.abs(basement.wallFaceFt2 / face - 1)).toBeLessThan(0.02);
    expect(basement.underSlabFt2).toBeCloseTo(w * d, 6);
    const uphill = basement.sides.find((side) => side.side === "uphill")!;
    expect(uphill.buriedFt).toBeCloseTo(w, 6);
    expect(basement.sides.find((side) => side.side === "downhill")!.buriedFt).toBe(0);
  });

  test("a bedroom facing the hill needs a light well with a ladder (common practice, no source; sizes IRC R310)", () => {
    // 48 ft of open wall and the low ends of the sides: six bedrooms of 12 ft fit, the others face the hill
    const basement = onPlane(30, {}, { brief: { basementBedrooms: 9, bedrooms: 9 } }).basement!;
    expect(basement.lightWells).toBe(9 - basement.bedroomsOnOpenWall);
    expect(basement.lightWells).toBeGreaterThan(0);
    for (const well of basement.wells) expect(well.ladder).toBe(well.depthFt > 44 / 12);
    const buried = onPlane(30, { overDownhillFt: -9 }, { brief: { basementBedrooms: 2, bedrooms: 4 } })
      .basement!;
    expect(buried.bedroomsOnOpenWall).toBe(0);
    expect(buried.wells).toHaveLength(2);
    expect(buried.wells.every((well) => well.ladder)).toBe(true);
  });

  test("a garage pad built up beside a side wall is on that side, and the deepest side is the most held", () => {
    const site = planeSite({ gradePct: 20, widthFt: 300, depthFt: 300, middleElevFt: 500 });
    const design = house(site, { gradePct: 20 });
    const builtUp = {
      kind: "basement",
      where: "downhill",
      retainedFt: 8,
      totalFt: 9.5,
      lengthFt: 22,
      faceFt2: 176,
      surcharge: false,
      line: [],
      heightsFt: [8, 8],
      classes: [],
    } as const;
    const basement = basementOf(site, { ...design, walls: [builtUp] })!;
    expect(basement.sides.find(({ side }) => side === "downhill")!.maxUnbalancedFt).toBe(8);
    expect(basement.maxRetainedFt).toBe(8);
  });

  test("bedrooms that find no open wall hear so, not that an open wall is full", () => {
    const brief = { brief: { basementBedrooms: 2, bedrooms: 4 } };
    const buried = onPlane(30, { overDownhillFt: -9 }, brief).basement!;
    expect(buried.ifBedroomMoves).toMatch(/^No wall is open wide enough/);
    const open = onPlane(30, {}, { brief: { basementBedrooms: 9, bedrooms: 9 } }).basement!;
    expect(open.ifBedroomMoves).toMatch(/^The open wall is full/);
  });
});

describe("the foundation likely to be asked for (common practice, no source, where no code is named)", () => {
  const kind = (gradePct: number, extra: Partial<RequestInput> = {}, fillFt = 0) =>
    onPlane(gradePct, { basement: false, fillFt }, extra).foundation;

  test("gentle ground in cut: a slab; 15 %: a raised floor; over 20 %: piers and grade beams", () => {
    expect(kind(6).kind).toBe("slab");
    expect(kind(15).kind).toBe("raised");
    expect(kind(25).kind).toBe("pier-and-grade-beam");
  });

  test("hillside houses on clay that swells stand on piers tied by grade beams", () => {
    const foundation = kind(15, { soil: { expansive: true } });
    expect(foundation.kind).toBe("pier-and-grade-beam");
    expect(foundation.gradeBeamFt).toBeGreaterThan(0);
    expect(foundation.piers).toBeGreaterThan(0);
    expect(foundation.reasons.join(" ")).toMatch(/swells/);
  });

  test("more than 3 ft of new fill under the house asks for piers, whatever the slope", () => {
    expect(kind(6, {}, 3.5).kind).toBe("pier-and-grade-beam");
    expect(kind(6, {}, 2).kind).toBe("raised");
  });

  test("over 50 % or on a mapped slide a specialist speaks first", () => {
    expect(kind(55).standing).toBe("specialist-first");
    expect(kind(10, { hazards: { landslide: "yes" } }).standing).toBe("specialist-first");
  });

  test("known firm ground shortens the piers", () => {
    const [low, likely] = kind(25, { soil: { depthToFirmFt: 3 } }).pierDepthFt;
    expect([low, likely]).toEqual([11, 13]);
    expect(kind(25).pierDepthFt).toEqual([12, 16, 25]);
  });

  test("concrete adds up by element, and trucks carry no more than a truck holds", () => {
    const foundation = kind(25);
    const sum = foundation.concreteByElement.reduce((total, e) => total + e.yd3, 0);
    expect(foundation.concreteYd3).toBeCloseTo(sum, 9);
    // ASTM C94 truck mixers deliver 8 to 10 yd³ (from memory)
    expect(foundation.concreteTrucks * 10).toBeGreaterThanOrEqual(foundation.concreteYd3);
  });
});

describe("concrete by element in closed form (sizes: common practice, no source)", () => {
  const yd3 = (element: string, foundation: ReturnType<typeof onPlane>["foundation"]) =>
    foundation.concreteByElement.find((e) => e.element === element)?.yd3 ?? 0;

  test("a slab house 48 × 32 ft: 5 in of slab and 160 ft of 12 × 18 in footing", () => {
    const { foundation } = onPlane(6, { basement: false });
    expect(yd3("slabs", foundation)).toBeCloseTo((48 * 32 * 5) / 12 / 27, 9);
    expect(yd3("footings", foundation)).toBeCloseTo((160 * 1.5) / 27, 9);
    expect(yd3("piers", foundation)).toBe(0);
  });

  test("piers 18 in wide and 16 ft deep, beams 18 × 24 in, 10 % more for the holes", () => {
    const { foundation } = onPlane(25, { basement: false });
    // lines 16 ft apart: 3 of 48 ft and 4 of 32 ft; piers every 8 ft: 3 × 7 on the long ones, 2 more between on each short one
    expect(foundation.gradeBeamFt).toBeCloseTo(3 * 48 + 4 * 32, 9);
    expect(foundation.piers).toBe(3 * 7 + 4 * 2);
    expect(yd3("piers", foundation)).toBeCloseTo((29 * Math.PI * 0.75 ** 2 * 16 * 1.1) / 27, 9);
    expect(yd3("grade beams", foundation)).toBeCloseTo((272 * 3) / 27, 9);
  });

  test("under a basement the footings are those of its walls, counted once", () => {
    const { foundation, basement } = onPlane(25);
    expect(yd3("footings", foundation)).toBe(0);
    expect(yd3("basement walls", foundation)).toBeCloseTo(
      (basement!.wallFaceFt2 * (10 / 12) + basement!.buriedWallFt * 3) / 27,
      9,
    );
    // one row under the open wall: 48 ft, every 8 ft
    expect(foundation.piers).toBe(7);
    expect(foundation.gradeBeamFt).toBeCloseTo(48, 9);
  });
});

describe("height, floor area and septic room", () => {
  test("height is counted from the lowest natural ground at the house", () => {
    const { heightAboveGroundFt, heightOk } = onPlane(
      20,
      { basement: false },
      { brief: { storeys: 2 }, rules: { heightLimitFt: 24 } },
    );
    // floor 0.67 ft over the downhill ground, two storeys of 10 ft, 4 ft of roof
    expect(heightAboveGroundFt).toBeCloseTo(0.67 + 20 + 4, 2);
    expect(heightOk).toBe(false);
  });

  test("allowed floor area takes the factor of the steepest row reached", () => {
    const rules = {
      floorArea: {
        ratio: 0.25,
        reductionBySlope: [
          { fromPct: 15, factor: 0.8 },
          { fromPct: 30, factor: 0.5 },
        ],
      },
    };
    expect(onPlane(20, {}, { rules }).allowedFloorAreaFt2).toBeCloseTo(0.25 * 90_000 * 0.8, 3);
    expect(onPlane(35, {}, { rules }).allowedFloorAreaFt2).toBeCloseTo(0.25 * 90_000 * 0.5, 3);
    expect(onPlane(20).allowedFloorAreaFt2).toBeNull();
  });

  test("a septic field finds room on gentle ground and none on steep ground", () => {
    expect(onPlane(12, {}, { brief: { septic: true, bedrooms: 4 } }).septic?.fits).toBe(true);
    expect(onPlane(28, {}, { brief: { septic: true, bedrooms: 4 } }).septic?.fits).toBe(false);
    expect(onPlane(12).septic).toBeNull();
  });

  test("on steep ground the slope setback is not met, on gentle ground no slope is found (IRC R403.1.7)", () => {
    expect(onPlane(20, { basement: false }).slopeSetbacks).toEqual([]);
    const steep = onPlane(45, { basement: false }).slopeSetbacks;
    expect(steep.map((s) => s.direction).sort()).toEqual(["ascending", "descending"]);
    expect(steep.every((s) => !s.met && s.availableFt === 0)).toBe(true);
  });
});
