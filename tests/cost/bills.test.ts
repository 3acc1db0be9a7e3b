import { assert, test } from "vitest";
import type { SchemeParts } from "../../analysis/bill/index.js";
import {
  flatTwinQuantities,
  listEvents,
  listQuantities,
  type QuantityLine,
} from "../../analysis/bill/index.js";
import { currentPrices } from "../../analysis/book/index.js";
import { ColumnPool, sumParts } from "../../analysis/chance/columns.js";
import { percentiles } from "../../analysis/chance/percentiles.js";
import { normals } from "../../analysis/chance/random-streams.js";
import { drawRange } from "../../analysis/chance/ranges.js";
import { drawBill, type Job } from "../../analysis/cost/draw-costs.js";
import { findDrivers, Source } from "../../analysis/cost/drivers.js";
import { likelyBill } from "../../analysis/cost/shares.js";
import { StudyDraws } from "../../analysis/cost/study-draws.js";
import { planeSite } from "../support/sites.js";
import { daylightParts, defaultBook, draftOf, levelPadParts, steepSite } from "./invented-drafts.js";

const DRAWS = 10_000;
const book = defaultBook();
const site = steepSite();
const drawsOf = (s = site, draws = DRAWS) =>
  new StudyDraws(currentPrices(book, s.request), s.request.seed, draws);
const line = (code: string, quantity: number, more: Partial<QuantityLine> = {}): QuantityLine => ({
  code,
  quantity,
  unit: "",
  cause: "none",
  trace: "",
  ...more,
});
/** The bill drawn with this many months of building in every draw. */
const billOf = (draws: StudyDraws, job: Partial<Job>, months = 12) =>
  drawBill(
    draws,
    { lines: [], events: [], regionFactor: 1, buildingMonths: new Float64Array(1).fill(months), ...job },
    new ColumnPool(draws.count),
  );
/** Cost of one item in every draw. */
const costOf = (draws: StudyDraws, lines: readonly QuantityLine[], code: string) =>
  sumParts(
    billOf(draws, { lines }).parts.filter((p) => p.code === code),
    new Float64Array(draws.count),
  );
const quantityOf = (lines: readonly QuantityLine[], code: string) =>
  lines.filter((l) => l.code === code).reduce((sum, l) => sum + l.quantity, 0);

for (const parts of [levelPadParts(), daylightParts()])
  test(`the items of the ${parts.design.name.toLowerCase()} sum to its total in every draw`, () => {
    const { quantities, ...rest } = draftOf(site, parts);
    const events = listEvents(site, rest, quantities);
    assert.isAbove(events.length, 3);
    const bill = billOf(drawsOf(), { lines: quantities, events });
    assert.sameMembers(
      [...new Set(bill.parts.map((p) => p.code))],
      [...new Set(quantities.map((l) => l.code)), ...events.map((e) => `IF-${e.id.toUpperCase()}`)],
    );
    for (let i = 0; i < DRAWS; i++) {
      const sum = bill.parts.reduce((usd, { column, times }) => usd + times * column[i]!, 0);
      assert.closeTo(sum, bill.total[i]!, 1e-6);
    }
  });

test("a bill of three lines and the shares adds up by hand at the likely prices", () => {
  // 100 yd³ × 16 is less than coming out at all (6,000); 200 ft² × 150 × 1.25; 1,000 ft² of house at 330
  const lines = [
    line("EXCAV", 100),
    line("WALL-8", 200, { factor: 1.25 }),
    line("HOUSE", 1000),
    line("PERMIT", 1),
    line("HILLFRAME", 1),
    line("GENCOND", 1),
    line("FEE", 1),
    line("ARCH", 1),
  ];
  const usd = likelyBill(drawsOf(), lines, [], { regionFactor: 1, buildingMonths: 10 });
  const works = 6000 + 37_500 + 330_000 + 0.05 * 330_000;
  const expected = {
    EXCAV: 6000,
    "WALL-8": 37_500,
    HOUSE: 330_000,
    PERMIT: 30_000,
    HILLFRAME: 16_500,
    GENCOND: 10 * 11_000,
    FEE: 0.14 * (works + 110_000),
    ARCH: 0.09 * works,
  };
  assert.sameMembers([...usd.keys()], Object.keys(expected));
  for (const [code, value] of Object.entries(expected)) assert.closeTo(usd.get(code)!, value, 1e-6, code);
});

test("with constant prices every draw is the bill by hand", () => {
  const constant = { low: 10, likely: 10, high: 10 };
  const s = steepSite({ costs: { "WALL-8": constant, GENCOND: constant, FEE: constant, ARCH: constant } });
  const lines = [line("WALL-8", 300), line("GENCOND", 1), line("FEE", 1), line("ARCH", 1)];
  const { total } = billOf(drawsOf(s, 50), { lines }, 7);
  // 3,000 works + 7 months × 10 + 10 % of 3,070 + 300
  for (const usd of total) assert.closeTo(usd, 3677, 1e-9);
});

test("a book that has general conditions as a percentage of the works draws them as one", () => {
  const shares = {
    ...book,
    items: book.items.map((i) =>
      i.code === "GENCOND" ? { ...i, unit: "% of works", low: 10, likely: 10, high: 10 } : i,
    ),
  };
  const s = steepSite({ costs: { "WALL-8": { low: 10, likely: 10, high: 10 } } });
  const draws = new StudyDraws(currentPrices(shares, s.request), 1, 20);
  const { total } = billOf(draws, { lines: [line("WALL-8", 300), line("GENCOND", 1)] }, 7);
  for (const usd of total) assert.closeTo(usd, 3300, 1e-9);
});

test("months of building meet the draws of the money one by one, again and again", () => {
  const s = steepSite({ costs: { GENCOND: { low: 1000, likely: 1000, high: 1000 } } });
  const buildingMonths = Float64Array.of(10, 12, 20);
  const { total } = billOf(drawsOf(s, 6), { lines: [line("GENCOND", 1)], buildingMonths });
  assert.deepEqual([...total], [10_000, 12_000, 20_000, 10_000, 12_000, 20_000]);
});

test("drawing every price on its own would narrow the range of the sitework by more than half", () => {
  const { quantities } = draftOf(site, levelPadParts());
  const scores = drawsOf();
  const { sitework } = billOf(scores, { lines: quantities });
  const alone = new Float64Array(DRAWS);
  for (const l of quantities) {
    const item = scores.item(l.code);
    if (!"ECU".includes(item.group)) continue;
    const price = drawRange(item, normals(1, `alone:${l.code}`, DRAWS));
    for (let i = 0; i < DRAWS; i++) alone[i]! += l.quantity * (l.factor ?? 1) * price[i]!;
  }
  const width = ({ p10, p90 }: { p10: number; p90: number }) => p90 - p10;
  assert.isBelow(width(percentiles(alone)), 0.5 * width(percentiles(sitework)));
});

test("an item keeps its draws whatever else is on the bill, and in whatever order", () => {
  const pierDraws = (lines: QuantityLine[]) => costOf(drawsOf(site, 200), lines, "PIER");
  const pier = line("PIER", 400, { cause: "pier-depth" });
  const alone = pierDraws([pier]);
  assert.deepEqual(pierDraws([line("HAUL", 10), pier, line("SLAB", 50)]), alone);
  assert.isAbove(Math.max(...alone), Math.min(...alone));
});

test("one surface, one error: cut and haul grow in the same draws, fill shrinks when the ground is higher", () => {
  const constant = { low: 1, likely: 1, high: 1 };
  const s = steepSite({ costs: { EXCAV: constant, HAUL: constant, FILL: constant } });
  const lines = [
    line("EXCAV", 90_000, { surveySigma: 3000 }),
    line("HAUL", 90_000, { surveySigma: 3000 }),
    line("FILL", 90_000, { surveySigma: -3000 }),
  ];
  const [dug, hauled, filled] = ["EXCAV", "HAUL", "FILL"].map((code) =>
    costOf(drawsOf(s, 2000), lines, code),
  );
  assert.deepEqual(dug, hauled);
  const sum = dug!.map((x, i) => x + filled![i]!);
  for (const x of sum) assert.closeTo(x, 180_000, 1e-6);
});

test("shares of the spread are those of the coefficients: 3 and 4 of a sum give 0.36 and 0.64", () => {
  const n = 50_000;
  const source = (name: string) => new Source(name, normals(1, name, n), "price");
  const [a, b] = [source("a"), source("b")];
  const { strongest, spread } = findDrivers(
    a.scores.map((x, i) => 100 + 3 * x + 4 * b.scores[i]!),
    [a, b],
  );
  assert.deepEqual(
    strongest.map((d) => d.name),
    ["b", "a"],
  );
  // 2,500 draws: a correlation of 0.8 is known to (1 − 0.64)/50
  assert.closeTo(strongest[0]!.share, 0.64, 0.05);
  assert.closeTo(strongest[1]!.share, 0.36, 0.06);
  // the two sets of draws resemble each other by chance to 1/√2,500: 2 × 0.6 × 0.8 ÷ 50 is one sigma
  assert.closeTo(spread.prices, 1, 0.06);
  // at its P90 (1.28 sigmas) the second moves the sum by 4 × 1.28
  assert.closeTo(strongest[0]!.swingUsd.p90, 100 + 4 * 1.2816, 0.35);
  assert.closeTo(strongest[0]!.swingUsd.p10, 100 - 4 * 1.2816, 0.35);
});

test("the lines of a level pad carry what the geometry found", () => {
  const { quantities } = draftOf(site, levelPadParts());
  // 26 piers × 16 ft; driveway 80 ft + 30 ft of services; walls by height class
  assert.equal(quantityOf(quantities, "PIER"), 416);
  assert.equal(quantityOf(quantities, "UTIL"), 110);
  assert.equal(quantityOf(quantities, "WALL-6"), 200);
  assert.equal(quantityOf(quantities, "WALL-8"), 520);
  assert.equal(quantityOf(quantities, "WALL-4"), 60);
  assert.equal(quantities.find((l) => l.code === "WALL-8")!.factor, 1.25);
  // haul: 480 of the pad + (40 driveway cut − 10 fill ÷ 0.9 + spoil) × 1.25; spoil 416 ft × π/4 × 1.5² ÷ 27
  const spoil = (416 * Math.PI * 1.5 ** 2) / 4 / 27;
  assert.closeTo(quantityOf(quantities, "HAUL"), 480 + (40 - 10 / 0.9 + spoil) * 1.25, 1e-9);
  assert.equal(quantityOf(quantities, "HAUL"), quantityOf(quantities, "DUMP"));
  // 70 min round trip, 35 % for each half hour beyond an hour
  assert.closeTo(quantities.find((l) => l.code === "HAUL")!.factor!, 1 + 0.35 / 3, 1e-12);
  for (const l of quantities) {
    assert.isAbove(l.quantity, 0, l.code);
    assert.isAbove(l.trace.length, 3, l.code);
  }
  assert.equal(quantityOf(quantities, "IMPORT"), 0);
});

test("piers cost more where the rig must be a small one: steep ground left as it is, or a track over 20 %", () => {
  const factorOf = (parts: SchemeParts) => listQuantities(site, parts).find((l) => l.code === "PIER")!.factor;
  const parts = levelPadParts();
  const { access } = parts;
  assert(access.reachable);
  assert.equal(factorOf(parts), 1);
  assert.equal(factorOf({ ...parts, design: { ...parts.design, kind: "pier-raised" } }), 1.4);
  const steep = { ...access, driveway: { ...access.driveway, maxGradePct: 21 } };
  assert.equal(factorOf({ ...parts, access: steep }), 1.4);
});

test("a pad short of dirt brings fill and hauls none", () => {
  const parts = levelPadParts();
  const short: SchemeParts = {
    ...parts,
    design: {
      ...parts.design,
      earthwork: { ...parts.design.earthwork, looseExportYd3: 0, looseImportYd3: 250 },
    },
    structure: { ...parts.structure, foundation: { ...parts.structure.foundation, piers: 0 } },
  };
  const lines = listQuantities(site, short);
  assert.equal(quantityOf(lines, "HAUL"), 0);
  // loose net −250 + (40 − 10 ÷ 0.9)·1.25, back to bank ÷ 1.25, compacted × 0.9
  assert.closeTo(quantityOf(lines, "IMPORT"), ((250 - (40 - 10 / 0.9) * 1.25) / 1.25) * 0.9, 1e-9);
});

test("what the backfill lacks is kept back from the trucks, and brought when nothing leaves", () => {
  const parts = daylightParts();
  const bare = (looseExportYd3: number): SchemeParts => ({
    ...parts,
    design: {
      ...parts.design,
      earthwork: { ...parts.design.earthwork, looseExportYd3, looseImportYd3: 0, backfillYd3: 900 },
    },
    access: { reachable: false, gentlestGradePct: null, pinchAt: null, because: "", helps: [], tried: [] },
    structure: { ...parts.structure, foundation: { ...parts.structure.foundation, piers: 0 } },
  });
  // 900 ÷ 0.9 − 900 = 100 bank = 125 loose are lacking
  assert.closeTo(quantityOf(listQuantities(site, bare(300)), "HAUL"), 175, 1e-9);
  assert.equal(quantityOf(listQuantities(site, bare(300)), "IMPORT"), 0);
  // 25 loose lacking after the 100: 20 bank, 18 compacted
  assert.equal(quantityOf(listQuantities(site, bare(100)), "HAUL"), 0);
  assert.closeTo(quantityOf(listQuantities(site, bare(100)), "IMPORT"), 18, 1e-9);
});

test("a basement is dug, walled, drained and filled behind; its own dig is not counted twice", () => {
  const { quantities } = draftOf(site, daylightParts());
  assert.equal(quantityOf(quantities, "EXCAV-BSMT"), 740);
  assert.equal(quantityOf(quantities, "BACKFILL"), 363);
  // design cut 420 less the building's 740 − 363 = 377, and 40 of the driveway
  assert.closeTo(quantityOf(quantities, "EXCAV"), 420 - 377 + 40, 1e-9);
  // haul: rolled back, 363 yd³ take 363 ÷ 0.9 of bank earth, so less leaves; spoil of 14 piers of 16 ft
  const spoil = (14 * 16 * Math.PI * 1.5 ** 2) / 4 / 27;
  assert.closeTo(
    quantityOf(quantities, "HAUL"),
    480 + (40 - 10 / 0.9 + spoil - (363 / 0.9 - 363)) * 1.25,
    1e-9,
  );
  assert.equal(quantityOf(quantities, "BSMTWALL"), 950);
  assert.equal(quantityOf(quantities, "WELL-D"), 1);
  assert.equal(quantityOf(quantities, "SUMP"), 0);
  // 160,000 of 1,056,000 USD stays whatever the size; the rest goes with 1,600 ft² above
  assert.closeTo(quantityOf(quantities, "HOUSE"), (160 / 1056) * 3200 + (1 - 160 / 1056) * 1600, 1e-9);
  assert.equal(quantityOf(quantities, "BSMTFIN"), 1600);
});

test("a stepped house has its inner wall on the bill, a raised one its footings", () => {
  const parts = levelPadParts();
  const stepped: SchemeParts = {
    ...parts,
    design: { ...parts.design, walls: parts.design.walls.map((w) => ({ ...w, kind: "basement" as const })) },
    structure: { ...parts.structure, foundation: { ...parts.structure.foundation, kind: "raised" } },
  };
  const lines = listQuantities(site, stepped);
  assert.equal(quantityOf(lines, "BSMTWALL"), 720);
  assert.equal(quantityOf(lines, "WPROOF"), 720);
  // 60 × 40 ft: 200 ft around and √2,400 through the middle
  assert.closeTo(quantityOf(lines, "FOOTING"), 200 + Math.sqrt(2400), 1e-9);
});

test("the flat twin has the same house and permit, and neither walls nor piers", () => {
  const twin = flatTwinQuantities(site, levelPadParts().design, false);
  const hill = draftOf(site, levelPadParts()).quantities;
  for (const code of ["HOUSE", "GARAGE", "PERMIT"])
    assert.equal(quantityOf(twin, code), quantityOf(hill, code), code);
  assert.equal(quantityOf(twin, "UTIL"), 60);
  for (const { code } of twin)
    assert.notMatch(code, /^(WALL|PIER|GRADEBM|SHORE|KEYBENCH|SWALE|SLOPESTAB|HILLFRAME|BSMT)/);
  const below = flatTwinQuantities(site, daylightParts().design, true);
  assert.equal(quantityOf(below, "BSMTFIN"), 1600);
  assert.equal(quantityOf(below, "SUMP"), 1);
  assert.isAbove(quantityOf(below, "BSMTWALL"), 0);
  assert.equal(quantityOf(flatTwinQuantities(site, daylightParts().design, false), "HOUSE"), 3200);
});

const PAPERWORK = ["STAKE", "SOILRPT", "CIVIL", "STRUCT", "OBSERVE", "EROSION", "PERMIT"] as const;

test("slope decides how much of a hillside's paperwork is due: the flat lot's on level ground, half-way at half the slope, all of it at 25 %", () => {
  const parts = levelPadParts();
  const dueAt = (gradePct: number) => {
    const plain: SchemeParts = {
      ...parts,
      design: { ...parts.design, walls: [], slopeUnderHousePct: { mean: gradePct, p90: gradePct } },
      structure: { ...parts.structure, foundation: { ...parts.structure.foundation, piers: 0 } },
    };
    const here = planeSite({ gradePct, widthFt: 120, depthFt: 180, spacingFt: 20 });
    const factors = (lines: readonly QuantityLine[]) =>
      PAPERWORK.map((code) => lines.find((l) => l.code === code)!.factor ?? 1);
    const twin = factors(flatTwinQuantities(here, plain.design, false));
    return { hill: factors(listQuantities(here, plain)), twin };
  };
  const level = dueAt(0);
  level.hill.forEach((factor, i) => {
    assert.closeTo(factor, level.twin[i]!, 1e-9, PAPERWORK[i]);
  });
  const half = dueAt(12.5);
  half.hill.forEach((factor, i) => {
    assert.closeTo(factor, (half.twin[i]! + 1) / 2, 1e-6, PAPERWORK[i]);
  });
  assert.deepEqual(
    dueAt(30).hill,
    PAPERWORK.map(() => 1),
  );
});

test("piers and walls over 4 ft are designed and inspected on any ground", () => {
  const parts = levelPadParts();
  const level = planeSite({ gradePct: 0, widthFt: 120, depthFt: 180, spacingFt: 20 });
  const gentle = { ...parts.design, slopeUnderHousePct: { mean: 0, p90: 0 } };
  const factorOf = (over: Partial<SchemeParts>, code: string) =>
    listQuantities(level, { ...parts, design: gentle, ...over }).find((l) => l.code === code)!.factor;
  // the drawing has 26 piers, and a wall of 10 ft from its footing
  const noPiers = { ...parts.structure, foundation: { ...parts.structure.foundation, piers: 0 } };
  assert.equal(factorOf({}, "STRUCT"), 1);
  assert.equal(factorOf({ structure: noPiers }, "OBSERVE"), 1);
  assert.isBelow(factorOf({ structure: noPiers, design: { ...gentle, walls: [] } }, "STRUCT")!, 1);
  assert.isBelow(factorOf({}, "SOILRPT")!, 1);
});

const eventsWith = (request: Readonly<Record<string, unknown>>, parts = daylightParts()) => {
  const s = steepSite(request);
  const { quantities } = draftOf(s, parts);
  return new Map(listEvents(s, parts, quantities).map((e) => [e.id, e]));
};
test("what an input rules out is not an event, what it confirms is certain", () => {
  const unknown = eventsWith({});
  assert.sameMembers(
    [...unknown.keys()],
    ["rock", "water", "old-fill", "expansive", "shoring", "pump", "no-sewer", "dump"],
  );
  const known = eventsWith({
    soil: { depthToRockFt: 40, depthToWaterFt: 60, depthToFirmFt: 6, expansive: false },
    utilities: { sewer: "yes" },
  });
  assert.sameMembers([...known.keys()], ["shoring", "pump", "dump"]);
  const certain = eventsWith({ soil: { depthToRockFt: 2, depthToWaterFt: 3, expansive: true } });
  for (const id of ["rock", "water", "expansive"]) assert.equal(certain.get(id)!.chance, 1, id);
  // the cut of the drawing is 5 ft deep: 3 of 5 ft lie below rock at 2 ft
  const ripped = certain.get("rock")!.lines.find((l) => l.code === "ROCK-RIP")!;
  assert.closeTo(ripped.quantity, (740 + 83) * 0.75 * 0.6, 0.1);
});

test("a dig no deeper than footings go meets no more water than a flat lot's", () => {
  const parts = levelPadParts();
  const dug = (maxCutFt: number): SchemeParts => ({
    ...parts,
    design: { ...parts.design, earthwork: { ...parts.design.earthwork, maxCutFt } },
  });
  assert.isFalse(eventsWith({}, dug(1)).has("water"));
  assert.isTrue(eventsWith({}, dug(4)).has("water"));
  assert.equal(eventsWith({ soil: { depthToWaterFt: 0.5 } }, dug(1)).get("water")!.chance, 1);
});

test("more than a quarter acre draining onto the house makes water likelier", () => {
  const parts = daylightParts();
  const wet: SchemeParts = { ...parts, drainage: { ...parts.drainage, catchmentFt2: 11_000 } };
  assert.equal(eventsWith({}).get("water")!.chance, 0.15);
  assert.equal(eventsWith({}, wet).get("water")!.chance, 0.35);
});

test("a dump that refuses costs half of the haul again", () => {
  const { quantities } = draftOf(site, daylightParts());
  const haul = quantities.find((l) => l.code === "HAUL")!;
  const [again] = eventsWith({}).get("dump")!.lines;
  assert.equal(again!.quantity * again!.factor!, 0.5 * haul.quantity * haul.factor!);
});

test("how much the soil swells is drawn for what is hauled, not for what is dug", () => {
  const constant = { low: 1, likely: 1, high: 1 };
  const s = steepSite({ costs: { HAUL: constant, "EXCAV-BSMT": constant } });
  const lines = [
    line("EXCAV-BSMT", 1000, { cause: "ground" }),
    line("HAUL", 1000, { cause: "ground", swells: true }),
  ];
  const dug = costOf(drawsOf(s), lines, "EXCAV-BSMT");
  const swell = costOf(drawsOf(s), lines, "HAUL").map((x, i) => x / dug[i]!);
  const { p10, p50, p90 } = percentiles(swell);
  assert.closeTo(p10, 0.93, 0.01);
  assert.closeTo(p50, 1, 0.01);
  assert.closeTo(p90, 1.1, 0.01);
});

test("an event happens in its share of the draws and costs what its lines cost", () => {
  const parts = levelPadParts();
  const { quantities } = draftOf(site, parts);
  const rock = listEvents(site, parts, quantities).find((e) => e.id === "rock")!;
  const happens = drawsOf().occurrences("rock", rock.chance);
  const share = happens.reduce((a, b) => a + b, 0) / DRAWS;
  assert.closeTo(share, 0.25, 4 * Math.sqrt((0.25 * 0.75) / DRAWS));
  // 520 bank yd³ dug, a quarter of it rock, ripped at 75 USD but for a quarter hammered at 180 USD
  const usd = rock.lines.reduce((sum, l) => sum + l.quantity * drawsOf().item(l.code).likely, 0);
  assert.closeTo(usd, 520 * 0.25 * (0.75 * 75 + 0.25 * 180), 1e-6);
  // with only this event on the bill it adds money in those draws and no others
  const bare = billOf(drawsOf(), { events: [rock] }).total;
  for (let i = 0; i < DRAWS; i++) assert.equal(bare[i]! > 0, happens[i] === 1);
});

test("what an event is said to add is what the total grows by when it happens", () => {
  const parts = levelPadParts();
  const { quantities } = draftOf(site, parts);
  const rock = { ...listEvents(site, parts, quantities).find((e) => e.id === "rock")!, chance: 1 };
  const draws = drawsOf(site, 500);
  const without = billOf(draws, { lines: quantities }).total;
  const { total, events } = billOf(draws, { lines: quantities, events: [rock] });
  for (let i = 0; i < 500; i++) assert.closeTo(total[i]! - without[i]!, events[0]!.addsUsd[i]!, 1e-6);
});

test("prices of one trade move together more than prices of two, and fees alone", () => {
  // evenly spread prices: the logarithm is the score itself but for the clipped hundredths
  const even = { low: 50, likely: 100, high: 200 };
  const s = steepSite({ costs: { HAUL: even, DUMP: even, PIER: even, UTIL: even, PERMIT: even } });
  const draws = drawsOf(s);
  const logs = (code: string) => draws.priceDraws(code).map((usd) => Math.log(usd / 100));
  const correlation = (a: Float64Array, b: Float64Array) => {
    const sum = (f: (i: number) => number) => a.reduce((total, _, i) => total + f(i), 0);
    return sum((i) => a[i]! * b[i]!) / Math.sqrt(sum((i) => a[i]! ** 2) * sum((i) => b[i]! ** 2));
  };
  // by hand from the shares: earthwork 0.4 + 0.3; earthwork with concrete √(0.4 × 0.4); with fees nothing
  assert.closeTo(correlation(logs("HAUL"), logs("DUMP")), 0.7, 0.03);
  assert.closeTo(correlation(logs("HAUL"), logs("PIER")), 0.4, 0.04);
  assert.closeTo(correlation(logs("PIER"), logs("UTIL")), 0.4, 0.04);
  assert.closeTo(correlation(logs("HAUL"), logs("PERMIT")), 0, 0.04);
});
