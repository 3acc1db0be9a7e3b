/**
 * What the trade says of custom hillside houses (common practice, no source), against whole studies: from the bytes of a survey,
 * by the default book at its own region (factor 1), through placing, digging, drives, drains, bill, months and money.
 *
 * Inputs: an invented lot of 200 × 220 ft that rises from its street at 20 %, everything about it known but the soil; a house of
 * 2,800 ft² in two storeys with a garage for two cars, the same for both ways to build; plain finish; the builder's contract
 * alone, so architect, engineers and permits are taken off by giving them no price.
 */
import { beforeAll, describe, expect, test } from "vitest";
import { requestSchema } from "../../analysis/request/index.js";
import type { SchemeKind } from "../../analysis/schemes/scheme.js";
import { madeStudy, plane, type WholeStudy } from "../report/whole-studies.js";

const none = { low: 0, likely: 0, high: 0 };
const OFFICE = ["STAKE", "SOILRPT", "SLOPESTAB", "CIVIL", "STRUCT", "OBSERVE", "ARCH", "PERMIT"];
const FLOOR_AREA_FT2 = 2800;

describe("a custom house on a slope of 20 %", () => {
  let whole: WholeStudy;
  beforeAll(async () => {
    whole = await madeStudy({
      elevFt: plane(20),
      request: requestSchema.parse({
        brief: {
          floorAreaFt2: FLOOR_AREA_FT2,
          storeys: 2,
          bedrooms: 4,
          garageCars: 2,
          basement: "either",
        },
        utilities: { sewer: "yes", water: "yes", power: "yes" },
        costs: { finishLevel: "plain", ...Object.fromEntries(OFFICE.map((code) => [code, none])) },
      }),
    });
  }, 60_000);

  /** That way to build, which must fit this lot, on ground as steep as said. */
  const built = (kind: SchemeKind) => {
    const scheme = whole.study.schemes.find((s) => s.kind === kind)!;
    expect(scheme.feasible).toBe(true);
    expect(scheme.slopeUnderHousePct.mean).toBeGreaterThan(18);
    expect(scheme.slopeUnderHousePct.mean).toBeLessThan(22);
    expect(scheme.cost.basis.regionFactor).toBe(1);
    return scheme;
  };

  test("without a basement about 400 to 600 USD/ft² in high-cost regions", () => {
    const { perFt2Usd } = built("level-pad").cost;
    expect(perFt2Usd.p50).toBeGreaterThan(400);
    expect(perFt2Usd.p50).toBeLessThan(600);
  });

  test("with a basement about 600 to 700 USD/ft²", () => {
    const { perFt2Usd } = built("full-basement").cost;
    expect(perFt2Usd.p50).toBeGreaterThan(600);
    expect(perFt2Usd.p50).toBeLessThan(700);
  });

  test("with a basement about a year and a half from the first machine to the keys, nearly half of it below the floor", () => {
    const { schedule, cost } = built("full-basement");
    const basementFt2 = cost.items.find((i) => i.code === "BSMTFIN")!.quantity;
    expect(basementFt2 / FLOOR_AREA_FT2).toBeGreaterThan(1 / 3);
    expect(basementFt2 / FLOOR_AREA_FT2).toBeLessThanOrEqual(1 / 2);
    expect(schedule.buildingMonths[1]).toBeGreaterThan(16);
    expect(schedule.buildingMonths[1]).toBeLessThan(20);
    expect(schedule.belowFloorShare![1]).toBeGreaterThan(0.42);
    expect(schedule.belowFloorShare![1]).toBeLessThan(0.55);
  });
});
