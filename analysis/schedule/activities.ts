/** The order of work and how long each step takes, from the bill. Method: docs/methods/schedule.md */
import type { QuantityLine } from "../cost/cost.js";
import type { StudyRequest } from "../request/request.js";
import {
  GRADE_WEEKS,
  HOLD_DAYS,
  HOUSE_WEEKS,
  OFFICE_WEEKS,
  RATES,
  STREET_LOADS_A_DAY,
  WORKDAYS_A_WEEK,
} from "./rates.js";

export type Weeks = readonly [low: number, likely: number, high: number];

export interface Activity {
  readonly id: string;
  readonly name: string;
  readonly phase: "before" | "ground" | "house";
  readonly after: readonly string[];
  readonly weeks: Weeks;
  /** Waiting for somebody's letter. */
  readonly hold: boolean;
  /** Lengthened by rain. */
  readonly outdoors: boolean;
  /** Stops in a wet-season shutdown of grading. */
  readonly grading: boolean;
}

/** How hard the land makes the paperwork and the house. */
export type Grade = "flat" | "pad" | "basement";

/**
 * Activities in an order in which each comes after those it waits for.
 * Durations of groundwork are quantity ÷ production rate, so a line that is not on the bill takes no time.
 */
export function listActivities(
  lines: readonly QuantityLine[],
  grade: Grade,
  limitedRig: boolean,
  request: Pick<StudyRequest, "haul">,
): readonly Activity[] {
  const of = (...codes: string[]) =>
    lines.reduce((sum, l) => sum + (codes.includes(l.code) ? l.quantity : 0), 0);
  const walls = of("WALL-4", "WALL-6", "WALL-8", "WALL-10", "WALL-12");
  const piers = of("PIER");
  const basement = of("BSMTWALL");
  const fill = of("FILL", "IMPORT", "KEYBENCH");
  const slabFt2 = of("SLAB", "SLAB-STRUCT");
  const raised = of("RAISED");
  const list: Activity[] = [];
  const add = (
    phase: Activity["phase"],
    id: string,
    name: string,
    after: readonly string[],
    weeks: Weeks,
    more: Partial<Pick<Activity, "hold" | "grading">> = {},
  ) => {
    if (weeks[2] <= 0) return;
    // an activity without work is skipped: wait for what it waited for
    const known = new Set(list.map((a) => a.id));
    list.push({
      id,
      name,
      phase,
      after: after.filter((a) => known.has(a)),
      weeks,
      hold: more.hold ?? false,
      grading: more.grading ?? false,
      outdoors: phase === "ground" && !more.hold,
    });
  };
  const letter = (id: string, name: string, after: readonly string[]) =>
    add("ground", id, name, after, days(HOLD_DAYS), { hold: true });

  const office = OFFICE_WEEKS[grade];
  add("before", "survey", "Boundary and topographic survey", [], office.survey);
  add("before", "soils", "Soils report", ["survey"], office.soils);
  add("before", "concept", "Concept and choice of scheme", ["survey"], office.concept);
  add("before", "review", "Planning or hillside review", ["concept", "soils"], office.review);
  add("before", "drawings", "Construction drawings", ["review", "concept", "soils"], office.drawings);
  add("before", "permit", "Plan check and permit", ["drawings"], office.permit);

  add(
    "ground",
    "stake",
    "Corners, preconstruction meeting, erosion control, staking",
    ["permit"],
    GRADE_WEEKS[grade].stake,
  );
  add("ground", "clear", "Clear and strip", ["stake"], atRate(of("CLEAR"), RATES.clearAcres), {
    grading: true,
  });
  add("ground", "shore", "Shoring, with its lead time", ["stake"], withLead(of("SHORE")));
  const before = ["clear", "shore"];
  const dug = slower(
    plus(atRate(of("EXCAV"), RATES.openBankYd3), atRate(of("EXCAV-BSMT"), RATES.basementBankYd3)),
    haulWeeks(of("HAUL"), request.haul),
  );
  add("ground", "dig", "Dig and haul off", before, dug, { grading: true });
  if (of("KEYBENCH") > 0) letter("key-seen", "Key and benches seen by the soils engineer", ["dig"]);
  add("ground", "fill", "Fill in lifts, tested", ["dig", "key-seen"], atRate(fill, RATES.fillCompactedYd3), {
    grading: true,
  });
  letter("pad-letter", "Pad letter: height and compaction", ["fill", "dig"]);
  const pad = ["pad-letter"];
  add("ground", "site-walls", "Retaining walls outside the house", pad, atRate(walls, RATES.siteWallFt2));
  add(
    "ground",
    "wall-cure",
    "Walls harden before earth is put behind them",
    ["site-walls"],
    walls > 0 ? days([7, 10, 14]) : NONE,
  );
  if (piers > 0) {
    add(
      "ground",
      "piers",
      "Drill and fill the piers",
      [...pad, "site-walls"],
      atRate(piers / RATES.pierFt, limitedRig ? RATES.piersLimited : RATES.piers),
    );
    letter("hole-letter", "Pier holes seen by the soils engineer", ["piers"]);
  }
  add(
    "ground",
    "footings",
    "Basement footings",
    [...pad, "hole-letter", "site-walls"],
    basement > 0 ? GRADE_WEEKS.basement.footings : NONE,
  );
  add(
    "ground",
    "beams",
    "Grade beams",
    ["hole-letter", "footings", ...pad],
    atRate(of("GRADEBM"), RATES.gradeBeamFt),
  );
  letter("form-letter", "Form letter of the surveyor", [
    "beams",
    "footings",
    "site-walls",
    "hole-letter",
    ...pad,
  ]);
  letter("steel-letter", "Steel letter of the structural engineer, inspection", ["form-letter"]);
  add(
    "ground",
    "basement-walls",
    "Basement walls",
    ["steel-letter"],
    atRate(basement, RATES.basementWallFt2),
  );
  add(
    "ground",
    "waterproof",
    "Waterproofing and drain board",
    ["basement-walls"],
    atRate(of("WPROOF"), RATES.waterproofFt2),
  );
  add(
    "ground",
    "drains",
    "Drains",
    ["basement-walls", "steel-letter"],
    atRate(of("DRAIN-WALL", "TIGHTLINE", "SWALE"), RATES.drainFt),
  );
  add(
    "ground",
    "services",
    "Utility trench and services",
    ["pad-letter"],
    atRate(of("UTIL"), RATES.trenchFt),
  );
  if (of("WPROOF") > 0)
    letter("drain-seen", "Drains and waterproofing seen before they are covered", ["waterproof", "drains"]);
  add(
    "ground",
    "slab",
    "Slab",
    ["steel-letter", "basement-walls", "drains", "wall-cure"],
    slabFt2 > 0 ? GRADE_WEEKS[grade].slab : NONE,
  );
  add(
    "ground",
    "raised",
    "Raised floor",
    ["steel-letter", "basement-walls", "slab"],
    raised > 0 ? GRADE_WEEKS[grade].floor : NONE,
  );
  if (basement > 0)
    letter("floor-seen", "Floor braces the walls: seen before backfill", [
      "raised",
      "slab",
      "basement-walls",
    ]);
  add(
    "ground",
    "backfill",
    "Backfill behind the basement walls",
    ["floor-seen", "drain-seen"],
    atRate(of("BACKFILL"), RATES.backfillCompactedYd3),
  );
  add(
    "house",
    "house",
    "House from the frame to the keys",
    list.filter((a) => a.phase === "ground").map((a) => a.id),
    HOUSE_WEEKS[grade],
  );
  return list;
}

const NONE: Weeks = [0, 0, 0];

function days([low, likely, high]: Weeks): Weeks {
  return [low / WORKDAYS_A_WEEK, likely / WORKDAYS_A_WEEK, high / WORKDAYS_A_WEEK];
}

/** Weeks for a quantity at a rate per day: the fastest rate gives the shortest time. */
function atRate(quantity: number, [slow, likely, fast]: Weeks): Weeks {
  return days([quantity / fast, quantity / likely, quantity / slow]);
}

function plus(a: Weeks, b: Weeks): Weeks {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

function slower(a: Weeks, b: Weeks): Weeks {
  return [Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.max(a[2], b[2])];
}

function withLead(faceFt2: number): Weeks {
  if (faceFt2 <= 0) return NONE;
  return plus(GRADE_WEEKS.shoringLead, atRate(faceFt2, RATES.shoringFt2));
}

/** Loads a day: trucks × whole trips in the hauling hours, no more than the street or the city allows. */
export function haulWeeks(
  looseYd3: number,
  {
    truckLooseYd3,
    truckPayloadTons,
    looseDensityLbPerYd3,
    roundTripMin,
    hoursPerDay,
    trucks,
    loadsPerDayCap,
    postedWeightTons,
  }: StudyRequest["haul"],
): Weeks {
  const payloadTons =
    postedWeightTons === null
      ? truckPayloadTons
      : Math.min(truckPayloadTons, Math.max(LEAST_PAYLOAD_TONS, postedWeightTons - EMPTY_TRUCK_TONS));
  const loadYd3 = Math.min(truckLooseYd3, (payloadTons * 2000) / looseDensityLbPerYd3);
  const byTrucks = trucks * Math.max(1, Math.floor((hoursPerDay * 60) / roundTripMin));
  const cap = loadsPerDayCap ?? Number.POSITIVE_INFINITY;
  const [few, likely, many] = STREET_LOADS_A_DAY;
  const loads = Math.ceil(looseYd3 / loadYd3);
  const perDay = (street: number) => Math.min(cap, byTrucks, street);
  return atRate(loads, [perDay(few), perDay(likely), perDay(many)]);
}

/** A ten-wheel truck without its load; from memory, order of magnitude. */
const EMPTY_TRUCK_TONS = 11.5;
/** Below this a smaller truck comes instead. From memory. */
const LEAST_PAYLOAD_TONS = 5;
