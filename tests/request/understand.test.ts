import { describe, expect, test } from "vitest";
import { isAssumed, requestSchema, understandRequest } from "../../analysis/request/index.js";
import { fieldErrors } from "../../server/field-errors.js";

describe("a request is understood", () => {
  test("every default that was filled in is listed with an origin and a path that changes it", () => {
    const { request, assumptions } = understandRequest(requestSchema.parse({}));
    for (const path of request.assumed.filter((p) => p !== "soil.expansive")) {
      const assumption = assumptions.find((a) => a.changeWith === path);
      expect(assumption, path).toBeDefined();
      expect(assumption?.origin.length).toBeGreaterThan(5);
    }
  });

  test("what the caller gives is neither changed nor called an assumption", () => {
    const { request } = understandRequest(
      requestSchema.parse({ rules: { slopeLimitPct: 25, setbacksFt: { all: 12 } }, seed: 9 }),
    );
    expect(request.rules.slopeLimitPct).toBe(25);
    expect(request.rules.setbacksFt).toEqual({ all: 12 });
    expect(isAssumed(request, "rules.slopeLimitPct")).toBe(false);
    expect(isAssumed(request, "rules.cutBatter")).toBe(true);
    expect(request.seed).toBe(9);
  });

  test("contours stand at round heights of the unit the report is read in", () => {
    const interval = (input: unknown) =>
      understandRequest(requestSchema.parse(input)).request.rules.contourIntervalFt;
    expect(interval({})).toBe(2);
    expect(interval({ display: "metric" }) * 0.3048).toBeCloseTo(0.5, 12);
    expect(interval({ display: "metric", rules: { contourIntervalFt: 5 } })).toBe(5);
  });

  test("soil factors follow the kind of soil (US Army FM 5-434 soil-conversion factors, from memory)", () => {
    const loose = (kind: "sand" | "clay") =>
      understandRequest(requestSchema.parse({ soil: { kind } })).request.soil;
    expect(1 + loose("sand").swellPct / 100).toBeCloseTo(1.11);
    expect(1 + loose("clay").swellPct / 100).toBeCloseTo(1.43);
    expect(1 - loose("clay").shrinkPct / 100).toBeCloseTo(0.9);
  });

  test.each([
    ["a mistyped rule", { rules: { slopeLimit: 30 } }],
    ["bands that do not rise", { rules: { slopeBandsPct: [0, 20, 10] } }],
    ["a price whose low exceeds its high", { costs: { HAUL: { low: 9, likely: 5, high: 4 } } }],
    ["a negative setback", { rules: { setbacksFt: { all: -3 } } }],
    ["a stop of grading all year", { rules: { gradingShutdown: { fromMonth: 1, toMonth: 12 } } }],
    [
      "a stop of grading all year, told from May",
      { rules: { gradingShutdown: { fromMonth: 5, toMonth: 4 } } },
    ],
    ["a number that is not finite", { rules: { slopeLimitPct: Number.NaN } }],
  ])("%s is refused", (_what, input) => {
    expect(requestSchema.safeParse(input).success).toBe(false);
  });

  const rain = { durationMin: 5, inPerHr10yr: 5, inPerHr100yr: 9 };
  test.each([
    ["costs.HAUL.low", { costs: { HAUL: { low: 9, likely: 5, high: 20 } } }, /low ≤ likely ≤ high/],
    ["costs.HAUL.high", { costs: { HAUL: { low: 3, likely: 5, high: 4 } } }, /low ≤ likely ≤ high/],
    ["rules.slopeBandsPct[2]", { rules: { slopeBandsPct: [0, 20, 10] } }, /rising from 0/],
    ["rules.slopeBandsPct[0]", { rules: { slopeBandsPct: [5, 20] } }, /rising from 0/],
    ["rules.gradingShutdown.toMonth", { rules: { gradingShutdown: { fromMonth: 5, toMonth: 4 } } }, /month/],
    ["rules.rainfall.inPerHr100yr", { rules: { rainfall: { ...rain, inPerHr10yr: 12 } } }, /10-year/],
    ["rules.rainfall.inPerHrLow", { rules: { rainfall: { ...rain, inPerHrLow: 6 } } }, /10-year/],
    // rain of a whole day falls at a tenth of the intensity of its worst minutes: pipes would come out far too small
    ["rules.rainfall.durationMin", { rules: { rainfall: { ...rain, durationMin: 1440 } } }, /5 to 60/],
    ["brief.basementBedrooms", { brief: { bedrooms: 2, basementBedrooms: 3 } }, /brief\.bedrooms/],
    ["survey.columns.easting", { survey: { columns: { northing: 1, easting: 1, elevation: 3 } } }, /own/],
    ["survey.columns.elevation", { survey: { columns: { northing: 1, easting: 2, elevation: 2 } } }, /own/],
    ["survey.boundaryColumns.easting", { survey: { boundaryColumns: { northing: 1, easting: 1 } } }, /own/],
  ])("%s is refused where it stands, with what to do", (where, input, remedy) => {
    const read = requestSchema.safeParse(input);
    const errors = fieldErrors(read.error?.issues ?? [], requestSchema);
    expect(errors.map((error) => error.where)).toEqual([where]);
    expect(errors[0]!.remedy).toMatch(remedy);
  });

  test("a house has at least the bedrooms its basement has", () => {
    const { brief } = understandRequest(requestSchema.parse({ brief: { basementBedrooms: 6 } })).request;
    expect(brief.bedrooms).toBe(6);
  });

  test("cost overrides are kept apart from the settings beside them", () => {
    const { request } = understandRequest(
      requestSchema.parse({ costs: { regionFactor: 0.7, HAUL: { low: 1, likely: 2, high: 3 } } }),
    );
    expect(request.costs.overrides).toEqual({ HAUL: { low: 1, likely: 2, high: 3 } });
    expect(request.costs.regionFactor).toBe(0.7);
  });
});
