/** Rules F0 to F8, each where it decides. The rules themselves: common practice, no source; 20 = expansion index of IBC 1803.5.3. */
import { describe, expect, test } from "vitest";
import { inUsUnits } from "../../analysis/measure.js";
import { choiceFrom } from "../../analysis/structure/choose-foundation.js";
import type { FoundationFacts } from "../../analysis/structure/foundation-rules.js";

const gentle: FoundationFacts = {
  slopePct: 6,
  fillUnderHouseFt: 0,
  straddles: false,
  basement: "none",
  raised: false,
  expansive: false,
  depthToFirmFt: 2,
  mappedSlide: false,
  unmetSetbacks: [],
  surveyed: true,
  shotsApartFt: 15,
};
const choose = (facts: Partial<FoundationFacts>) => choiceFrom({ ...gentle, ...facts });
const tooNear = {
  direction: "descending",
  slopeHeightFt: 30,
  requiredFt: 10,
  availableFt: 6.5,
  met: false,
} as const;

test.each<[string, Partial<FoundationFacts>, string, string, string]>([
  [
    "ground not surveyed around the house",
    { surveyed: false, slopePct: 25 },
    "F0",
    "cannot-tell",
    "pier-and-grade-beam",
  ],
  [
    "shots over 50 ft apart over 20 %",
    { shotsApartFt: 51, slopePct: 21 },
    "F0",
    "cannot-tell",
    "pier-and-grade-beam",
  ],
  ["the same on 20 %", { shotsApartFt: 51, slopePct: 20 }, "F5", "likely", "raised"],
  ["over 50 %", { slopePct: 50.1 }, "F1", "specialist-first", "pier-and-grade-beam"],
  ["a mapped slide on gentle ground", { mappedSlide: true }, "F1", "specialist-first", "pier-and-grade-beam"],
  ["a setback not met", { unmetSetbacks: [tooNear] }, "F1", "specialist-first", "pier-and-grade-beam"],
  [
    "a lower level open downhill",
    { basement: "open downhill", slopePct: 25 },
    "F7",
    "likely",
    "pier-and-grade-beam",
  ],
  ["a basement all round", { basement: "all round", slopePct: 8 }, "F7", "likely", "slab"],
  ["raised over the ground", { raised: true, slopePct: 12 }, "F8", "likely", "pier-and-grade-beam"],
  ["over 20 %", { slopePct: 20.1 }, "F2", "likely", "pier-and-grade-beam"],
  ["over 3 ft of fill", { fillUnderHouseFt: 3.1 }, "F2", "likely", "pier-and-grade-beam"],
  [
    "cut and over 2 ft of fill under one house",
    { straddles: true, fillUnderHouseFt: 2.1 },
    "F2",
    "likely",
    "pier-and-grade-beam",
  ],
  ["swelling clay over 10 %", { expansive: true, slopePct: 10.1 }, "F3", "likely", "pier-and-grade-beam"],
  ["swelling clay on gentle ground", { expansive: true }, "F3", "likely", "raised"],
  ["firm ground deeper than 5 ft", { depthToFirmFt: 5.1 }, "F4", "likely", "pier-and-grade-beam"],
  ["10 to 20 %", { slopePct: 15 }, "F5", "likely", "raised"],
  ["up to 10 %, in cut", { slopePct: 10 }, "F6", "likely", "slab"],
  ["up to 10 %, 1.5 ft of fill", { fillUnderHouseFt: 1.5 }, "F6", "likely", "slab"],
  ["up to 10 %, 1.6 ft of fill all over", { fillUnderHouseFt: 1.6 }, "F6", "likely", "raised"],
])("%s", (_, facts, rule, standing, kind) => {
  expect(choose(facts)).toMatchObject({ rule, standing, kind });
});

describe("what speaks for the runner-up, and what would have to be found", () => {
  test("a reason that points elsewhere makes its kind the runner-up and is told", () => {
    // swelling clay asks for piers, the slope alone for a raised floor
    const choice = choose({ expansive: true, slopePct: 15 });
    expect(choice.runnerUp).toBe("raised");
    expect(choice.runnerUpReasons).toEqual([expect.stringMatching(/between 1 in 10 and 1 in 5/)]);
    expect(choice.reasons).toEqual([expect.stringMatching(/swell/)]);
  });

  test("no reason argues for another kind, and gentle ground says nothing about what basement walls stand on", () => {
    for (const slopePct of [4, 15])
      for (const basement of ["open downhill", "all round"] as const) {
        const { rule, reasons } = choose({ basement, slopePct });
        expect(rule).toBe("F7");
        expect(reasons).toHaveLength(1);
        expect(reasons[0]).toMatch(/wide footing/);
      }
    expect(choose({ raised: true, slopePct: 15 }).reasons.join(" ")).not.toMatch(/raised floor on stepped/);
    expect(choose({ basement: "all round", slopePct: 30 }).reasons.join(" ")).toMatch(/steeper than 1 in 5/);
  });

  test("where nothing points elsewhere the next choice still gives a reason", () => {
    const choice = choose({ slopePct: 15 });
    expect(choice.runnerUp).toBe("pier-and-grade-beam");
    expect(choice.runnerUpReasons).toHaveLength(1);
    expect(choose({ expansive: true }).runnerUp).toBe("slab");
    expect(choose({ basement: "open downhill", slopePct: 15 }).runnerUp).toBe("slab");
  });

  test("each reason for the leading kind says what would make it fall away", () => {
    const choice = choose({ slopePct: 25, fillUnderHouseFt: 4.5, straddles: true, depthToFirmFt: 8 });
    expect(choice.reasons).toHaveLength(4);
    expect(choice.wouldChange).toHaveLength(4);
    // 4.5 ft of fill is 1.5 ft over the 3 ft of rule F2
    expect(inUsUnits(choice.wouldChange.join(" "))).toMatch(/1\.5 ft lower/);
    // and 2.5 ft over the 2 ft of a house on cut and fill
    expect(inUsUnits(choice.wouldChange.join(" "))).toMatch(/2\.5 ft lower/);
    expect(inUsUnits(choose({ unmetSetbacks: [tooNear] }).wouldChange[0]!)).toMatch(
      /3\.5 ft more room to the slope falling below/,
    );
    expect(choose({ expansive: true, slopePct: 15 }).wouldChange.join(" ")).toMatch(
      /expansion index of 20 or less/,
    );
  });

  test("what nobody looked for is said: clay that swells, loose soil of unknown depth", () => {
    expect(choose({ expansive: "unknown" }).wouldChange.join(" ")).toMatch(/clay that swells/);
    expect(choose({ expansive: false }).wouldChange.join(" ")).not.toMatch(/swells/);
    expect(choose({ slopePct: 25, depthToFirmFt: null }).wouldChange.join(" ")).toMatch(/longer piers/);
  });

  test("a reason that fell away as told changes the answer", () => {
    expect(choose({ fillUnderHouseFt: 4.5 }).kind).toBe("pier-and-grade-beam");
    expect(choose({ fillUnderHouseFt: 4.5 - 1.5 }).kind).toBe("raised");
    expect(choose({ depthToFirmFt: 8 }).kind).toBe("pier-and-grade-beam");
    expect(choose({ depthToFirmFt: 5 }).kind).toBe("slab");
  });
});
