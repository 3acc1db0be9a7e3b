/** The five verdicts on slopes made from formulas: which sentence a lot gets follows from what was put in (conditions: common practice, no source). */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { parseCostBook } from "../../analysis/book/index.js";
import { type RequestInput, requestSchema } from "../../analysis/request/index.js";
import { type StudyOutcome, studyLot } from "../../analysis/study.js";

const root = new URL("../..", import.meta.url).pathname;
const parsed = parseCostBook(JSON.parse(readFileSync(`${root}/demo-data/cost-book.json`, "utf8")));
if (!parsed.ok) throw new Error("the default cost book does not parse");
const { book } = parsed;

/** A lot 200 ft wide and 220 ft deep that rises north at `gradePct`, shot every 15 ft to 45 ft beyond its lines, with its corners found. */
async function lot(
  gradePct: number,
  extra: Partial<RequestInput> = {},
  covered = 1,
  riseFt: (x: number) => number = () => 0,
): Promise<Extract<StudyOutcome, { ok: true }>["study"]> {
  const points: [number, number, number][] = [];
  for (let x = -45; x <= 245 * covered; x += 15)
    for (let y = -45; y <= 265; y += 15)
      points.push([5000 + x, 9000 + y, 700 + (gradePct / 100) * y + riseFt(x)]);
  const corners = [
    [0, 0],
    [200, 0],
    [200, 220],
    [0, 220],
  ] as const;
  const rows = [
    ...points.map(([e, n, z], i) => `${i + 1},${n},${e},${z.toFixed(3)},GS`),
    ...corners.map(
      ([x, y], i) =>
        `${900 + i},${9000 + y},${5000 + x},${(700 + (gradePct / 100) * y + riseFt(x)).toFixed(3)},IPF`,
    ),
  ];
  const input = requestSchema.parse({
    survey: { unit: "ft", date: "2026-09-01", datum: "assumed" },
    topo: `point,northing,easting,elevation,description\n${rows.join("\n")}`,
    boundary: { ring: corners.map(([x, y]) => [5000 + x, 9000 + y]) },
    access: { frontage: [0] },
    brief: { floorAreaFt2: 2400, storeys: 2, bedrooms: 3, garageCars: 2, basement: "none" },
    rules: { setbacksFt: { front: 20, side: 10, rear: 20 }, slopeLimitPct: 40 },
    utilities: { sewer: "yes", water: "yes", power: "yes" },
    hazards: { landslide: "no", fault: "no", flood: "no", wildfire: "no" },
    soil: { kind: "common-earth", expansive: false },
    ...extra,
  });
  const outcome = await studyLot({ input, files: {}, book });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome.study;
}

describe("the verdict", () => {
  test("gentle ground with room takes the house in a fairly plain way", async () => {
    expect((await lot(6)).recommendation.verdictCode).toBe("good-fit");
  });

  test("level ground costs what flat land costs, and no rule of hillsides is raised", async () => {
    // within a tenth of a foot of level; one contour wanders through all of it and would call it 15 %
    const study = await lot(0, {}, 1, (x) => 0.1 * Math.sin(x));
    const chosen = study.schemes.find((s) => s.id === study.recommendation.schemeId)!;
    // the engineers of a hillside alone were 3 % of the house
    expect(chosen.cost.hillsidePremiumUsd.p50).toBeLessThan(0.03 * chosen.cost.flatLotP50Usd);
    expect(study.findings.filter((f) => f.code === "SLP-01")).toEqual([]);
  });

  test("a sewer nobody answered for is a concern, one known to be missing something to plan for", async () => {
    const sewage = async (sewer: "unknown" | "no") => {
      const { findings } = await lot(6, { utilities: { sewer, water: "yes", power: "yes" } });
      const { severity, measured, basis } = findings.find(({ code }) => code === "UTL-01")!;
      return [severity, measured, basis];
    };
    expect(await sewage("unknown")).toEqual(["concern", "unknown", "assumed"]);
    expect(await sewage("no")).toEqual(["watch", "no sewer", "rule given"]);
  });

  test("a lot on one hazard map is told so together with the maps nobody looked at", async () => {
    const hazards = { landslide: "no", fault: "unknown", flood: "no", wildfire: "yes" } as const;
    const { findings } = await lot(6, { hazards });
    const { severity, measured } = findings.find(({ code }) => code === "NAT-01")!;
    expect([severity, measured]).toEqual(["concern", "mapped: wildfire; not checked: fault"]);
  });

  test("a third of the lot unseen: nobody can tell", async () => {
    const study = await lot(12, {}, 0.5);
    expect(study.survey.coveragePct).toBeLessThan(80);
    expect(study.recommendation.verdictCode).toBe("cannot-tell");
  });

  test("house, setbacks and slope limit all guessed: nobody can tell", async () => {
    const { recommendation } = await lot(12, { brief: {}, rules: {} });
    expect(recommendation.verdictCode).toBe("cannot-tell");
    expect(recommendation.reasons.join(" ")).toMatch(/guesses/);
  });

  test("setbacks that meet in the middle leave no room, and the reason names them", async () => {
    const { recommendation } = await lot(12, { rules: { setbacksFt: { all: 95 }, slopeLimitPct: 40 } });
    expect(recommendation.verdictCode).toBe("no-room");
    expect(recommendation.reasons.join(" ")).toMatch(/setbacks/);
    expect(recommendation.schemeId).toBeNull();
  });

  test("a hillside costs more than a meadow, and steep ground is never called a plain fit", async () => {
    const gentle = await lot(6);
    const steep = await lot(32);
    const premium = (s: typeof gentle) =>
      s.schemes.find((x) => x.id === s.recommendation.schemeId)?.cost.hillsidePremiumUsd.p50 ?? 0;
    expect(["hard-dear", "specialist-first"]).toContain(steep.recommendation.verdictCode);
    if (steep.recommendation.schemeId) expect(premium(steep)).toBeGreaterThan(premium(gentle));
  });

  test("a lot dearer with its hill than a flat lot asks for room in the price", async () => {
    const fair = await lot(6, { offer: { askingUsd: 100_000, flatLotUsd: 2_000_000 } });
    const dear = await lot(6, { offer: { askingUsd: 1_990_000, flatLotUsd: 2_000_000 } });
    expect(fair.recommendation.verdictCode).toBe("good-fit");
    expect(dear.recommendation.verdictCode).toBe("hard-dear");
    expect(dear.recommendation.reasons[0]).toMatch(/price of a flat lot/);
  });

  test("a hollow is a valley, not a long slope", async () => {
    const hollows = (study: Awaited<ReturnType<typeof lot>>) =>
      study.findings.filter((f) => f.code === "SLP-05" && f.severity === "concern");
    expect(hollows(await lot(12))).toEqual([]);
    // A V of 20 % side slopes down the middle, narrow setbacks: the house cannot stand out of its way.
    const narrow = { rules: { setbacksFt: { front: 20, side: 60, rear: 20 }, slopeLimitPct: 40 } };
    expect(hollows(await lot(12, narrow, 1, (x) => 0.2 * Math.abs(x - 100)))).toHaveLength(1);
  });

  test("with room to spare the reasons are what stops each way, not the setbacks", async () => {
    const { recommendation } = await lot(32, {
      rules: {
        setbacksFt: { all: 10 },
        slopeLimitPct: 60,
        maxSiteWallFt: 1,
        heightLimitFt: 12,
        maxBasementRetainedFt: 1,
      },
    });
    expect(recommendation.schemeId).toBeNull();
    expect(recommendation.reasons[0]).toMatch(/not fit/);
    expect(recommendation.reasons.join(" ")).not.toMatch(/square feet/);
  });

  test("a mapped hazard sends the reader to a specialist first", async () => {
    const { recommendation } = await lot(6, {
      hazards: { landslide: "yes", fault: "no", flood: "no", wildfire: "no" },
    });
    expect(recommendation.verdictCode).toBe("specialist-first");
    expect(recommendation.reasons.join(" ")).toMatch(/landslide/);
  });
});
