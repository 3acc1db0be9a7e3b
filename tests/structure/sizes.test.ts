/** Sizes that follow from earth, soil and room: closed forms on an inclined plane. Sizes themselves: common practice, no source, where no code is named. */
import { describe, expect, test } from "vitest";
import { inUsUnits } from "../../analysis/measure.js";
import { chooseStructure } from "../../analysis/structure/index.js";
import { wellDepthFt } from "../../analysis/structure/light-wells.js";
import { septicFieldFt2 } from "../../analysis/structure/septic.js";
import { planeSite } from "../support/sites.js";
import { drainage, house, noAccess, onPlane, plane } from "./house-on-a-plane.js";

describe("a dig whose sloped side would leave the lot is braced", () => {
  /** The house stands about (150, 150), its uphill wall at 166; the line behind it lies `roomFt` farther. */
  const shored = (gradePct: number, roomFt: number) => {
    const depthFt = 166 + roomFt;
    const middleElevFt = 500 + (gradePct / 100) * (depthFt / 2 - 150);
    const site = planeSite({ gradePct, widthFt: 300, depthFt, middleElevFt });
    return chooseStructure(site, house(site, { gradePct }), noAccess, drainage).basement!.shoringFt2;
  };
  // 30 %: earth 0.3 × 34 − 0.67 = 9.53 ft; 3 ft of room to work and 1.5 × 9.53 ft of slope reach 17.3 ft
  test("over the whole wall where the line is nearer than it reaches", () => {
    expect(shored(30, 16)).toBeCloseTo(48 * 9.53, 3);
  });
  test("nowhere where the line is farther", () => expect(shored(30, 19)).toBe(0));
  test("nowhere where the earth stands under 5 ft (29 CFR 1926.652)", () => {
    // 12 %: 3.41 ft of earth, and a reach of 8.1 ft
    expect(shored(12, 4)).toBe(0);
  });
});

test("round a full basement the earth stands at the pad, on every side", () => {
  const site = plane(4);
  const design = { ...house(site, { gradePct: 4 }), kind: "full-basement" as const };
  const basement = chooseStructure(site, design, noAccess, drainage).basement!;
  // the main floor is 10 ft over the basement floor and 0.67 ft over the pad
  expect(basement.maxRetainedFt).toBeCloseTo(10 - 0.67, 9);
  expect(basement.buriedWallFt).toBeCloseTo(2 * (48 + 32), 9);
  expect(basement.wallFaceFt2).toBeCloseTo(160 * (9.33 + 1), 6);
});

test("a well goes half a foot below a sill at 44 in, and is none where the ground already lies there", () => {
  expect(wellDepthFt(9)).toBeCloseTo(9 - 44 / 12 + 0.5, 9);
  expect(wellDepthFt(44 / 12 - 0.5)).toBe(0);
});

test("soil that creeps on ground over 30 % asks for piers a third longer", () => {
  const depths = (gradePct: number) => onPlane(gradePct, { basement: false }).foundation.pierDepthFt;
  expect(depths(29)).toEqual([12, 16, 25]);
  expect(depths(35)).toEqual([12, 16, 25].map((ft) => Math.round(1.3 * ft)));
});

test("a raised floor stands on 2.5 ft² of stepped footing and stem for each foot round it", () => {
  const { concreteByElement } = onPlane(15, { basement: false }).foundation;
  expect(concreteByElement.find((e) => e.element === "footings")!.yd3).toBeCloseTo((160 * 2.5) / 27, 9);
});

describe("a septic field", () => {
  const request = { brief: { septic: true, bedrooms: 4 } };
  test("for four bedrooms: 600 gallons a day at 0.4 gal/ft², twice that for the ground between, and a second one", () => {
    expect(septicFieldFt2(4)).toBeCloseTo((4 * 150 * 2 * 2) / 0.4, 9);
  });
  test("finds no room in ground that is dug or filled", () => {
    const site = plane(12, request);
    const design = house(site, { gradePct: 12 });
    const { grid, values } = design.graded.depth;
    const all = { ...design.graded, depth: { grid, values: values.map(() => 1) } };
    const septic = chooseStructure(site, { ...design, graded: all }, noAccess, drainage).septic!;
    expect(septic.areaFt2).toBe(0);
    expect(septic.fits).toBe(false);
  });
});

test("without survey to 10 ft beyond the house nobody can tell the foundation", () => {
  const standing = (beyondFt: number) => {
    // the lot ends 4 ft behind the house; shots go on for so many feet
    const site = planeSite({ gradePct: 6, widthFt: 300, depthFt: 170, middleElevFt: 496.1, beyondFt });
    return chooseStructure(site, house(site, { gradePct: 6, basement: false }), noAccess, drainage).foundation
      .standing;
  };
  expect(standing(4)).toBe("cannot-tell");
  expect(standing(20)).toBe("likely");
});

test("cautions follow what is dug, held and drained", () => {
  const of = (temporaryCutFt: number, catchmentFt2: number) => {
    const site = plane(6);
    const design = house(site, { gradePct: 6, basement: false });
    const earthwork = { ...design.earthwork, temporaryCutFt };
    return inUsUnits(
      chooseStructure(site, { ...design, earthwork }, noAccess, { ...drainage, catchmentFt2 }).cautions.join(
        " ",
      ),
    );
  };
  expect(of(5, 0)).toMatch(/From 5 ft of depth the sides are sloped/);
  expect(of(4.9, 0)).not.toMatch(/sides are sloped/);
  expect(of(0, 500)).toMatch(/must not be sent onto a neighbor/);
  expect(of(0, 0)).not.toMatch(/neighbor/);
});

test("a basement takes one of the storeys: what stands over it counts for the height", () => {
  const heightFt = (storeys: number) => onPlane(20, {}, { brief: { storeys } }).heightAboveGroundFt;
  // basement floor 0.67 ft over the ground downhill, 10 ft to the main floor, 10 ft a storey, 4 ft of roof
  expect(heightFt(2)).toBeCloseTo(0.67 + 10 + 10 + 4, 2);
  expect(heightFt(1)).toBeCloseTo(0.67 + 10 + 10 + 4, 2);
  expect(heightFt(3)).toBeCloseTo(0.67 + 10 + 20 + 4, 2);
});
