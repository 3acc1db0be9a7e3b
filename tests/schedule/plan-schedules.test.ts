import { assert, test } from "vitest";
import type { QuantityLine, SchemeParts } from "../../analysis/bill/index.js";
import { listActivities } from "../../analysis/schedule/activities.js";
import { haulWeeks } from "../../analysis/schedule/haul-weeks.js";
import { planSchedules, type Schedule } from "../../analysis/schedule/index.js";
import { daylightParts, draftOf, levelPadParts, steepSite } from "../cost/invented-drafts.js";

function planned(request: Readonly<Record<string, unknown>> = {}) {
  const site = steepSite(request);
  const drafts = [levelPadParts(), daylightParts()].map((parts) => draftOf(site, parts));
  return planSchedules(site, drafts).map((t) => t.schedule) as [Schedule, Schedule];
}
const [pad, daylight] = planned();
const { haul } = steepSite().request;
const line = (code: string, quantity: number): QuantityLine => ({
  code,
  quantity,
  unit: "",
  cause: "none",
  trace: "",
});
const hardness = (grade: "flat" | "pad", slopePct: number) => ({
  grade,
  slopeUnderHousePct: slopePct,
  lotSlopePct: slopePct,
  limitedRig: false,
  floorAreaFt2: 3200,
  basementFt2: 0,
});
const within = (value: number, low: number, high: number, what: string) =>
  assert(low <= value && value <= high, `${what}: ${value} is not within ${low} to ${high}`);

// From memory, order of magnitude: months from accepted offer, flat / 25 % pad / 30 % daylight basement.
test("months before, on and above the ground are of the order the trade remembers", () => {
  within(pad.flatPreconstructionMonths[1], 5, 10, "flat, before");
  within(pad.flatGroundMonths[1], 1, 2, "flat, ground");
  within(pad.flatTotalMonths[1], 15, 26, "flat, all");
  within(pad.preconstructionMonths[1], 8, 18, "pad, before");
  within(pad.groundMonths[1], 2, 5.5, "pad, ground");
  within(pad.houseMonths[1], 8.5, 18, "pad, house");
  within(pad.totalMonths[1], 20, 38, "pad, all");
  within(daylight.preconstructionMonths[1], 10, 21, "basement, before");
  within(daylight.groundMonths[1], 3, 8, "basement, ground");
  within(daylight.totalMonths[1], 23, 44, "basement, all");
});

// From memory: boundary and topography from nothing take a surveyor 3 to 8 weeks, 4 or 5 likely. Both were sent.
test("the surveys that were sent are not made again", () => {
  for (const { activities } of [pad, daylight]) {
    const surveyor = activities.find((a) => a.id === "survey")!;
    assert.isBelow(surveyor.weeks[1], 3);
    assert.isAbove(surveyor.weeks[0], 0);
    assert.match(surveyor.name, /completed/);
  }
});

// Common practice, no source: a custom hillside house with a basement is about a year and a half in building, nearly half of it
// below the floor. Inputs: the invented daylight basement in invented-drafts.ts (30 % slope, 1,600 of 3,200 ft² below, 740 bank
// yd³ dug, 950 ft² of basement wall), no shoring, no wet-season stop, rates and steps as they come.
test("a hillside house with a basement is about a year and a half in building, nearly half of it below the floor", () => {
  within(daylight.buildingMonths[1], 16, 20, "machine to keys");
  within(daylight.belowFloorShare![1], 0.42, 0.55, "share below the floor");
});

test("below the floor are the ground and what the rooms of the basement add, draw by draw", () => {
  const [ground, below, building] = [
    daylight.groundMonths,
    daylight.belowFloorMonths!,
    daylight.buildingMonths,
  ];
  // 12.5 months × 70 % after the frame × half that goes with the area × 1,600 of 3,200 ft²
  const rooms = 12.5 * 0.7 * 0.5 * (1600 / 3200);
  // late work is later than early work is early, so a middle of sums lies a little above the sum of middles
  within(below[1] - ground[1] - rooms, 0, 0.25, "middle");
  // the luck of the ground and that of the house are not the same: ends of the sum lie inside the sums of the ends
  const [lowRooms, highRooms] = [(9 / 12.5) * rooms, (19 / 12.5) * rooms];
  within(below[0], ground[0] + lowRooms, below[1], "early");
  within(below[2], below[1], ground[2] + highRooms, "late");
  within(daylight.belowFloorShare![1], below[1] / building[1] - 0.02, below[1] / building[1] + 0.02, "share");
  assert.isNull(pad.belowFloorMonths);
  assert.isNull(pad.belowFloorShare);
  const names = (s: Schedule) => s.activities.filter((a) => a.belowFloor).map((a) => a.id);
  assert.isEmpty(names(pad));
  const onGround = daylight.activities.filter((a) => a.phase === "ground").map((a) => a.id);
  assert.deepEqual(names(daylight), [...onGround, "finish-below"]);
});

// Common practice, no source: on a hard site nearly half is over before the frame starts. Inputs: the same basement with
// 1,424 bank yd³ dug and 761 put back (30 % slope, 40 ft deep, 1½:1), 800 ft² of shoring, 1,400 ft² of basement wall, 600 ft² of
// site wall, 26 piers and 330 ft of grade beam.
test("on a hard site nearly half of the building time is over before the frame starts", () => {
  const parts = daylightParts();
  const { design, structure } = parts;
  const site = steepSite();
  const hard: SchemeParts = {
    ...parts,
    design: {
      ...design,
      earthwork: { ...design.earthwork, digYd3: 1424, backfillYd3: 761, looseExportYd3: 720 },
      walls: levelPadParts().design.walls.map((w) => ({
        ...w,
        classes: [{ upToFt: 6, lengthFt: 110, faceFt2: 600 }],
      })),
    },
    structure: {
      ...structure,
      foundation: { ...structure.foundation, piers: 26, gradeBeamFt: 330 },
      basement: { ...structure.basement!, wallFaceFt2: 1400, waterproofFt2: 1500, shoringFt2: 800 },
    },
  };
  const { schedule } = planSchedules(site, [draftOf(site, hard)])[0]!;
  const ground = schedule.groundMonths[1];
  within(ground / schedule.buildingMonths[1], 0.42, 0.5, "share before the frame");
});

test("phases follow each other and the range of the whole is narrower than its parts laid end to end", () => {
  for (const s of [pad, daylight]) {
    const ends = s.preconstructionMonths.map((m, i) => m + s.groundMonths[i]! + s.houseMonths[i]!);
    assert.isAbove(s.totalMonths[0], ends[0]!);
    assert.isBelow(s.totalMonths[2], ends[2]!);
    assert.closeTo(s.totalMonths[1], ends[1]!, 1.5);
    assert.isBelow(s.flatTotalMonths[1], s.totalMonths[1]);
    assert.isBelow(s.untilFrameMonths[1], s.totalMonths[1]);
  }
});

test("the months on the ground are the critical steps one after the other, a tenth longer for rain", () => {
  const critical = pad.activities.filter((a) => a.phase === "ground" && a.criticalShare > 0.9);
  const likelyWeeks = critical.reduce((sum, a) => sum + a.weeks[1] * (a.hold ? 1 : 1.1), 0);
  const middleWeeks = (pad.groundMonths[1] * 365.25) / 12 / 7;
  // delays are longer than gains, so the middle lies above the sum of the middles, by less than a tenth
  within(middleWeeks / likelyWeeks, 1, 1.1, "middle over sum of likelies");
});

test("no concrete without its letters, no backfill before the floor", () => {
  const byId = new Map(daylight.activities.map((a) => [a.id, a]));
  const comesBefore = (first: string, second: string): boolean =>
    byId.get(second)!.after.some((id) => id === first || comesBefore(first, id));
  for (const [first, second] of [
    ["key-seen", "fill"],
    ["pad-letter", "piers"],
    ["hole-letter", "beams"],
    ["form-letter", "steel-letter"],
    ["steel-letter", "basement-walls"],
    ["wall-letter", "waterproof"],
    ["steel-letter", "slab"],
    ["slab-seen", "slab"],
    ["walls-harden", "floor"],
    ["floor-seen", "backfill"],
    ["drain-seen", "backfill"],
    ["waterproof", "wells"],
    ["wells", "backfill"],
    ["drains", "outlets"],
    ["height-letter", "finish"],
  ] as const) {
    const schedule = byId.has(first) ? byId : new Map(pad.activities.map((a) => [a.id, a]));
    const ahead = (id: string): boolean => schedule.get(id)!.after.some((b) => b === first || ahead(b));
    assert.isTrue(ahead(second), `${first} before ${second}`);
  }
  assert.isTrue(comesBefore("permit", "dig"));
  // common practice, no source: about a dozen letters for a house with a basement
  assert.isAtLeast(daylight.activities.filter((a) => a.hold).length, 10);
});

test("every activity waits only for activities of the schedule, and some path is critical throughout", () => {
  for (const s of [pad, daylight]) {
    const ids = new Set(s.activities.map((a) => a.id));
    for (const a of s.activities) for (const b of a.after) assert.isTrue(ids.has(b), `${a.id} after ${b}`);
    assert.equal(s.activities.find((a) => a.id === "final-letter")!.criticalShare, 1);
    const [soils, concept] = ["soils", "concept"].map(
      (id) => s.activities.find((a) => a.id === id)!.criticalShare,
    );
    assert.closeTo(soils! + concept!, 1, 1e-12);
  }
});

test("work without a line on the bill takes no time and holds nobody up", () => {
  const bare = listActivities([line("UTIL", 60)], hardness("flat", 0), haul);
  const ids = bare.map((a) => a.id);
  for (const id of ["piers", "site-walls", "shore", "backfill", "key-seen"]) assert.notInclude(ids, id);
  assert.deepEqual(bare.find((a) => a.id === "pad-letter")!.after, ["stake"]);
});

test("paperwork of a gentle slope lies between flat and steep", () => {
  const reviewAt = (slopePct: number) =>
    listActivities([], hardness("pad", slopePct), haul).find((a) => a.id === "review")!.weeks[1];
  // 2 weeks on flat land, 12 at 25 % and above: half way at 12.5 %
  assert.deepEqual([0, 12.5, 25, 40].map(reviewAt), [2, 7, 12, 12]);
});

test("rock that the request says is there slows the dig: what is ripped 120, what is hammered 40 yd³ a day", () => {
  const digOf = (soil: Readonly<Record<string, unknown>>) => {
    const site = steepSite({ soil });
    const { schedule } = planSchedules(site, [draftOf(site, daylightParts())])[0]!;
    return schedule.activities.find((a) => a.id === "dig")!.weeks[1] * 5;
  };
  const earth = digOf({});
  // 740 bank yd³ of basement at 150 a day and 83 in the open at 300
  assert.closeTo(earth, 740 / 150 + 83 / 300, 1e-9);
  // rock below 2 ft of the 5 ft that are cut: 60 % of 823 yd³, three quarters of it ripped
  const rock = 0.6 * 823;
  assert.closeTo(digOf({ depthToRockFt: 2 }) - earth, (0.75 * rock) / 120 + (0.25 * rock) / 40, 0.01);
});

test("what is not certain is told with the weeks it would add, and is in no range", () => {
  const adds = (name: RegExp) => daylight.longerIf.find((e) => name.test(e.name));
  const likely = (id: string) => daylight.activities.find((a) => a.id === id)!.weeks[1];
  // 50 ft of uphill wall × 15.7 ft of open cut at 80 ft² a day, after 5 weeks of lead, beside clearing and the rough drive; rain × 1.1
  const shoring = 5 + (50 * 15.7) / 80 / 5;
  assert.closeTo(adds(/shored/)!.addsWeeks, 1.1 * (shoring - likely("clear") - likely("track")), 1e-9);
  // a quarter of 823 bank yd³ dug, three quarters of it ripped at 120 a day, the rest hammered at 40
  const rock = 0.25 * 823;
  assert.closeTo(adds(/Rock/)!.addsWeeks, (1.1 * ((0.75 * rock) / 120 + (0.25 * rock) / 40)) / 5, 1e-9);
  assert.equal(adds(/Rock/)!.chance, 0.25);
  const [, known] = planned({ soil: { depthToRockFt: 40 } });
  assert.isUndefined(known.longerIf.find((e) => /Rock/.test(e.name)));
  assert.deepEqual(known.totalMonths, daylight.totalMonths);
  // no rate is known for a farther dump, a pump or water in the dig
  assert.isUndefined(adds(/dump|pump|water/));
});

test("a smaller house takes less time, but not in proportion; what stands in the basement is not framed again", () => {
  const houseOf = (floorAreaFt2: number, basementFt2 = 0) => {
    const site = { ...hardness("flat", 0), floorAreaFt2, basementFt2 };
    const steps = listActivities([line("UTIL", 60)], site, haul);
    return ["frame", "finish", "finish-below"].map((id) => steps.find((a) => a.id === id)?.weeks[1] ?? 0);
  };
  const [frame, finish, noRooms] = houseOf(3200);
  assert.equal(noRooms, 0);
  // 11 months for 3,200 ft², half of them whatever the size
  assert.closeTo(((frame! + finish!) * 7 * 12) / 365.25, 11, 1e-9);
  const [smallFrame, smallFinish] = houseOf(1600);
  assert.closeTo((smallFrame! + smallFinish!) / (frame! + finish!), 0.75, 1e-12);
  // 11 months × 70 % after the frame × half that goes with the area × half of 3,200 ft²
  const [aboveFrame, aboveFinish, rooms] = houseOf(3200, 1600);
  assert.closeTo(aboveFrame!, smallFrame!, 1e-12);
  assert.closeTo(aboveFinish!, smallFinish!, 1e-12);
  assert.closeTo((rooms! * 7 * 12) / 365.25, 11 * 0.7 * 0.5 * 0.5, 1e-12);
  assert.closeTo(aboveFinish! + rooms!, finish!, 1e-12);
});

test("durations are quantity over rate: 300 ft of grade beam at 12, 25, 40 ft a day", () => {
  const beams = listActivities([line("PIER", 320), line("GRADEBM", 300)], hardness("pad", 25), haul).find(
    (a) => a.id === "beams",
  )!;
  assert.deepEqual(
    beams.weeks.map((w) => w * 5),
    [7.5, 12, 25],
  );
});

test("hauling is trucks times trips, no more than the street, the city or the posted weight allow", () => {
  // 12 yd³ bed; 14 t ÷ 2,400 lb = 11.67 yd³ governs; 345 yd³ → 30 loads; 4 trucks × 5 trips of 70 min in 6 h = 20 a day
  const days = (more: Partial<typeof haul>) => haulWeeks(345, { ...haul, ...more }).map((w) => w * 5);
  assert.deepEqual(days({}), [30 / 20, 30 / 20, 30 / 15]);
  assert.deepEqual(days({ loadsPerDayCap: 10 }), [3, 3, 3]);
  // one truck: 5 loads a day
  assert.deepEqual(days({ trucks: 1 }), [6, 6, 6]);
  // posted 20 t less 11.5 t of truck: 8.5 t, 7.08 yd³, 49 loads
  assert.deepEqual(days({ postedWeightTons: 20 }), [49 / 20, 49 / 20, 49 / 15]);
});

const winter = { gradingShutdown: { fromMonth: 11, toMonth: 3 } };
test("a wet-season stop adds at most the closed months, and none where grading falls in the open ones", () => {
  const gapOf = (startMonth: number) => {
    const [stopped] = planned({ rules: { ...winter, startMonth } });
    return stopped.untilFrameMonths[1] - pad.untilFrameMonths[1];
  };
  const gaps = Array.from({ length: 12 }, (_, m) => gapOf(m + 1));
  for (const gap of gaps) within(gap, -0.01, 5.01, "gap");
  assert.isAbove(Math.max(...gaps), 2);
  assert.isBelow(Math.min(...gaps), 1);
  // month not given: somewhere between
  const [unknown] = planned({ rules: winter });
  within(
    unknown.untilFrameMonths[1] - pad.untilFrameMonths[1],
    Math.min(...gaps),
    Math.max(...gaps),
    "unknown month",
  );
});

test("the same request gives the same months, beside other schemes and alone", () => {
  assert.deepEqual(planned(), [pad, daylight]);
  const site = steepSite();
  assert.deepEqual(planSchedules(site, [draftOf(site, daylightParts())])[0]!.schedule, daylight);
});
