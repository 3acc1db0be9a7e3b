/** The order of work and how long each step takes, from the bill. Method: docs/methods/schedule.md */
import type { QuantityLine } from "../bill/bill.js";
import type { StudyRequest } from "../request/request.js";
import { haulWeeks } from "./haul-weeks.js";
import {
  CURE_DAYS,
  FLOOR_WEEKS,
  FOOTING_WEEKS,
  FRAME_SHARE,
  FULL_SLOPE_PCT,
  type Grade,
  HOLD_DAYS,
  HOUSE_WEEKS,
  OFFICE_WEEKS,
  RATES,
  SHORING_LEAD_WEEKS,
  SLAB_WEEKS,
  STAKE_WEEKS,
} from "./rates.js";
import { atRate, between, days, NO_TIME, plus, scaled, slower, type Weeks } from "./weeks.js";

export interface Activity {
  readonly id: string;
  readonly name: string;
  readonly phase: "before" | "ground" | "house";
  readonly after: readonly string[];
  readonly weeks: Weeks;
  /** Waiting for somebody's letter. */
  readonly hold?: boolean;
  /** Stops in a wet-season shutdown of grading. */
  readonly grading?: boolean;
  /** Name of its luck where that is not its own: the steps of one house are quick or slow together. */
  readonly stream?: string;
}

/** What makes a site slow. */
export interface SiteHardness {
  readonly grade: Grade;
  readonly slopeUnderHousePct: number;
  /** Mean over the lot: what a hillside review goes by. */
  readonly lotSlopePct: number;
  readonly limitedRig: boolean;
}

/**
 * Activities in an order in which each comes after those it waits for.
 * Groundwork takes quantity ÷ production rate, so what is not on the bill takes no time and is left out.
 */
export function listActivities(
  lines: readonly QuantityLine[],
  site: SiteHardness,
  haul: StudyRequest["haul"],
): readonly Activity[] {
  const ground = groundWork(lines, site, haul);
  const waitedFor = new Set(ground.flatMap((a) => a.after));
  const lastOnGround = ground.map((a) => a.id).filter((id) => !waitedFor.has(id));
  return withoutIdle([...paperWork(site), ...ground, ...houseWork(site, lastOnGround)]);
}

/** Weeks of a fixed step at this slope. */
function atSlope(weeks: Readonly<Record<Grade, Weeks>>, grade: Grade, slopePct: number): Weeks {
  return between(weeks.flat, weeks[grade], Math.min(1, slopePct / FULL_SLOPE_PCT[grade]));
}

function paperWork({ grade, slopeUnderHousePct, lotSlopePct }: SiteHardness): Activity[] {
  const step = (id: keyof typeof OFFICE_WEEKS, name: string, after: readonly string[]): Activity => ({
    id,
    name,
    phase: "before",
    after,
    weeks: atSlope(OFFICE_WEEKS[id], grade, id === "review" ? lotSlopePct : slopeUnderHousePct),
  });
  return [
    step("survey", "Boundary and topographic survey", []),
    step("soils", "Soils report", ["survey"]),
    step("concept", "Concept and choice of scheme", ["survey"]),
    step("review", "Planning or hillside review", ["concept", "soils"]),
    step("drawings", "Construction drawings", ["review"]),
    step("permit", "Plan check and permit", ["drawings"]),
  ];
}

function groundWork(
  lines: readonly QuantityLine[],
  { grade, slopeUnderHousePct, limitedRig }: SiteHardness,
  haul: StudyRequest["haul"],
): Activity[] {
  const of = (...codes: string[]) =>
    lines.reduce((sum, l) => sum + (codes.includes(l.code) ? l.quantity : 0), 0);
  const when = (quantity: number, weeks: Weeks) => (quantity > 0 ? weeks : NO_TIME);
  const siteWallFt2 = of("WALL-4", "WALL-6", "WALL-8", "WALL-10", "WALL-12");
  const basementWallFt2 = of("BSMTWALL");
  const pierFt = of("PIER");
  const digging = plus(
    atRate(of("EXCAV"), RATES.openBankYd3),
    atRate(of("EXCAV-BSMT"), RATES.basementBankYd3),
  );
  const shoring = plus(SHORING_LEAD_WEEKS, atRate(of("SHORE"), RATES.shoringFt2));

  const work = (
    id: string,
    name: string,
    after: readonly string[],
    weeks: Weeks,
    more: Pick<Activity, "hold" | "grading"> = {},
  ): Activity => ({ id, name, phase: "ground", after, weeks, ...more });
  const letter = (id: string, name: string, after: readonly string[], needed = 1) =>
    work(id, name, after, when(needed, days(HOLD_DAYS)), { hold: true });
  const grading = { grading: true };

  return [
    work(
      "stake",
      "Corners, first meeting, erosion control, staking",
      ["permit"],
      atSlope(STAKE_WEEKS, grade, slopeUnderHousePct),
    ),
    work("clear", "Clear and strip", ["stake"], atRate(of("CLEAR"), RATES.clearAcres), grading),
    work("shore", "Shoring, with its lead time", ["stake"], when(of("SHORE"), shoring)),
    work(
      "dig",
      "Dig and haul off",
      ["clear", "shore"],
      slower(digging, haulWeeks(of("HAUL"), haul)),
      grading,
    ),
    letter("key-seen", "Key and benches seen by the soils engineer", ["dig"], of("KEYBENCH")),
    work(
      "fill",
      "Fill in lifts, tested",
      ["key-seen"],
      atRate(of("FILL", "IMPORT"), RATES.fillCompactedYd3),
      grading,
    ),
    letter("pad-letter", "Pad letter: height and compaction", ["fill"]),
    work("services", "Utility trench and services", ["pad-letter"], atRate(of("UTIL"), RATES.trenchFt)),
    work(
      "site-walls",
      "Retaining walls outside the house",
      ["pad-letter"],
      atRate(siteWallFt2, RATES.siteWallFt2),
    ),
    work(
      "wall-cure",
      "Walls harden before earth is put behind them",
      ["site-walls"],
      when(siteWallFt2, days(CURE_DAYS)),
    ),
    work(
      "piers",
      "Drill and fill the piers",
      ["site-walls"],
      atRate(pierFt / RATES.pierFt, limitedRig ? RATES.piersLimited : RATES.piers),
    ),
    letter("hole-letter", "Pier holes seen by the soils engineer", ["piers"], pierFt),
    work(
      "footings",
      "Footings",
      ["hole-letter"],
      when(basementWallFt2 > 0 || pierFt === 0 ? 1 : 0, FOOTING_WEEKS),
    ),
    work("beams", "Grade beams", ["footings"], atRate(of("GRADEBM"), RATES.gradeBeamFt)),
    letter("form-letter", "Form letter of the surveyor", ["beams"]),
    letter("steel-letter", "Steel letter of the structural engineer, inspection", ["form-letter"]),
    work(
      "basement-walls",
      "Basement walls",
      ["steel-letter"],
      atRate(basementWallFt2, RATES.basementWallFt2),
    ),
    work(
      "waterproof",
      "Waterproofing and drain board",
      ["basement-walls"],
      atRate(of("WPROOF"), RATES.waterproofFt2),
    ),
    work(
      "drains",
      "Drains",
      ["basement-walls"],
      atRate(of("DRAIN-WALL", "TIGHTLINE", "SWALE"), RATES.drainFt),
    ),
    letter("drain-seen", "Drains and waterproofing seen before they are covered", ["waterproof", "drains"]),
    work("slab", "Slab", ["drains"], when(of("SLAB", "SLAB-STRUCT"), SLAB_WEEKS)),
    work("floor", "Floor over the basement", ["slab"], when(basementWallFt2, FLOOR_WEEKS)),
    letter("floor-seen", "Floor braces the walls: seen before backfill", ["floor"], basementWallFt2),
    work(
      "backfill",
      "Backfill behind the basement walls",
      ["floor-seen", "drain-seen"],
      atRate(of("BACKFILL"), RATES.backfillCompactedYd3),
    ),
  ];
}

function houseWork({ grade, slopeUnderHousePct }: SiteHardness, after: readonly string[]): Activity[] {
  const weeks = atSlope(HOUSE_WEEKS, grade, slopeUnderHousePct);
  const house = { phase: "house", stream: "house" } as const;
  const letter = { phase: "house", weeks: days(HOLD_DAYS), hold: true } as const;
  return [
    { ...house, id: "frame", name: "Frame and roof", after, weeks: scaled(weeks, FRAME_SHARE) },
    {
      ...letter,
      id: "height-letter",
      name: "Height letter of the surveyor",
      after: ["frame"],
      weeks: grade === "flat" ? NO_TIME : letter.weeks,
    },
    {
      ...house,
      id: "finish",
      name: "House to the keys",
      after: ["height-letter"],
      weeks: scaled(weeks, 1 - FRAME_SHARE),
    },
    {
      ...letter,
      id: "final-letter",
      name: "Final grading report, drains as built",
      after: ["finish"],
    },
  ];
}

/** Drops what takes no time; whoever waited for it waits for what it waited for. */
function withoutIdle(activities: readonly Activity[]): Activity[] {
  const standsFor = new Map<string, readonly string[]>();
  const kept: Activity[] = [];
  for (const activity of activities) {
    const after = [...new Set(activity.after.flatMap((id) => standsFor.get(id) ?? [id]))];
    if (activity.weeks[2] > 0) kept.push({ ...activity, after });
    else standsFor.set(activity.id, after);
  }
  return kept;
}
