/** What happens on the ground until the frame can start: quantity ÷ production rate, letters, hardening. Method: docs/methods/schedule.md */
import type { QuantityLine } from "../bill/bill.js";
import type { StudyRequest } from "../request/request.js";
import type { Activity, SiteHardness } from "./activity.js";
import { haulWeeks } from "./haul-weeks.js";
import {
  atSlope,
  BASEMENT_CURE_DAYS,
  CURE_DAYS,
  FLOOR_WEEKS,
  FOOTING_CURE_DAYS,
  FOOTING_WEEKS,
  HOLD_DAYS,
  LAYOUT_DAYS,
  RATES,
  SHORING_LEAD_WEEKS,
  SLAB_CURE_DAYS,
  SLAB_WEEKS,
  STAKE_WEEKS,
  UNDER_SLAB_DAYS,
} from "./rates.js";
import { atRate, days, NO_TIME, plus, slower, type Weeks } from "./weeks.js";

export function groundWork(
  lines: readonly QuantityLine[],
  { grade, slopeUnderHousePct, limitedRig }: SiteHardness,
  haul: StudyRequest["haul"],
): Activity[] {
  const quantities = new Map<string, number>();
  for (const { code, quantity } of lines) quantities.set(code, (quantities.get(code) ?? 0) + quantity);
  const of = (...codes: string[]) => codes.reduce((sum, code) => sum + (quantities.get(code) ?? 0), 0);
  const when = (quantity: number, weeks: Weeks) => (quantity > 0 ? weeks : NO_TIME);
  const siteWallFt2 = of("WALL-4", "WALL-6", "WALL-8", "WALL-10", "WALL-12");
  const basementWallFt2 = of("BSMTWALL");
  const pierFt = of("PIER");
  // rock known to be there comes on top of its volume as earth
  const digging = [
    atRate(of("EXCAV"), RATES.openBankYd3),
    atRate(of("EXCAV-BSMT"), RATES.basementBankYd3),
    atRate(of("ROCK-RIP"), RATES.rippedBankYd3),
    atRate(of("ROCK-BREAK"), RATES.brokenBankYd3),
  ].reduce(plus);
  const slabFt2 = of("SLAB", "SLAB-STRUCT");
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
    work(
      "track",
      "Rough drive, rocked for trucks",
      ["clear"],
      atRate(of("DRIVE", "TURN"), RATES.trackFt2),
      grading,
    ),
    work("shore", "Shoring, with its lead time", ["stake"], when(of("SHORE"), shoring)),
    work(
      "dig",
      "Dig and haul off",
      ["track", "shore"],
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
      "layout",
      "Surveyor stakes piers, footings and walls",
      ["site-walls"],
      when(pierFt + basementWallFt2 + siteWallFt2, days(LAYOUT_DAYS)),
    ),
    work(
      "piers",
      "Drill and fill the piers",
      ["layout"],
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
      "footings-harden",
      "Footings harden before walls stand on them",
      ["steel-letter"],
      when(basementWallFt2, days(FOOTING_CURE_DAYS)),
    ),
    work(
      "basement-walls",
      "Basement walls",
      ["footings-harden"],
      atRate(basementWallFt2, RATES.basementWallFt2),
    ),
    letter("wall-letter", "Forms and steel of the walls seen", ["basement-walls"], basementWallFt2),
    work(
      "walls-harden",
      "Basement walls harden and dry",
      ["wall-letter"],
      when(basementWallFt2, days(BASEMENT_CURE_DAYS)),
    ),
    work(
      "waterproof",
      "Waterproofing and drain board",
      ["walls-harden"],
      atRate(of("WPROOF"), RATES.waterproofFt2),
    ),
    work("drains", "Drains", ["wall-letter"], atRate(of("DRAIN-WALL", "TIGHTLINE", "SWALE"), RATES.drainFt)),
    work(
      "wells",
      "Light wells",
      ["waterproof"],
      [atRate(of("WELL-S"), RATES.shallowWells), atRate(of("WELL-D"), RATES.deepWells)].reduce(plus),
    ),
    work(
      "outlets",
      "Basins and outlets of the drains",
      ["drains"],
      [atRate(of("BASIN"), RATES.basins), atRate(of("OUTLET"), RATES.outlets)].reduce(plus),
    ),
    letter("drain-seen", "Drains and waterproofing seen before they are covered", ["waterproof", "drains"]),
    work(
      "under-slab",
      "Pipes, gravel and barrier under the slab",
      ["drains"],
      when(slabFt2, days(UNDER_SLAB_DAYS)),
    ),
    letter("slab-seen", "Pipes and steel seen before the slab is poured", ["under-slab"], slabFt2),
    work("slab", "Slab", ["slab-seen"], when(slabFt2, SLAB_WEEKS)),
    work("slab-hardens", "Slab hardens before it is built on", ["slab"], when(slabFt2, days(SLAB_CURE_DAYS))),
    work(
      "floor",
      "Floor over the basement",
      ["slab-hardens", "walls-harden"],
      when(basementWallFt2, FLOOR_WEEKS),
    ),
    letter("floor-seen", "Floor braces the walls: seen before backfill", ["floor"], basementWallFt2),
    work(
      "backfill",
      "Backfill behind the basement walls",
      ["floor-seen", "drain-seen", "wells"],
      atRate(of("BACKFILL"), RATES.backfillCompactedYd3),
    ),
  ];
}
