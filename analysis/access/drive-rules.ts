/** What a lane must keep to, beyond what the request says. */
import type { Assumption } from "../assumptions.js";
import { measure } from "../measure.js";
import type { StudyRequest } from "../request/request.js";

/** Nearly level before the garage door: San Bernardino County Code 15.04.230 asks 5 % over 20 ft. */
export const APRON_FT = 20;
export const APRON_GRADE = 0.05;
/** Of it, straight out of the door before the wheels turn. Common practice, no source. */
export const STRAIGHT_OUT_FT = 8;
/** A lane meets the street within this angle of square. Common practice, no source. */
export const MOST_SKEW_DEG = 45;
/** At the street a car stands to wait: 5 to 8 % over the first 20 to 25 ft. Common practice, no source. */
export const THROAT_FT = 20;
export const THROAT_GRADE = 0.08;
/** Shorter drives are apron and throat in one, at the throat's grade: the same code's exception for drives of 30 ft. */
export const SHORT_DRIVE_FT = 30;
/** Vertical curve: a foot of lane for each percent of change. Common practice, no source. */
export const BEND_PER_FT = 0.01;
/** Beside the pavement, each side. Common practice, no source. */
export const SHOULDER_FT = 1;
/** Deeper cuts or higher fills at the centre line are not lanes but trenches and bridges. Judgement. */
export const DEEPEST_FT = 10;
/** Dead ends longer than this need a place to turn: International Fire Code D103.4, where adopted. */
export const DEAD_END_FT = 150;
/** Longest way a driver backs out to the street. Common practice, no source. */
export const BACKING_OUT_FT = 60;
/** Climb of a loaded concrete truck. Common practice, no source. */
export const LOADED_TRUCK_PCT = 15;
/** International Fire Code D103.2: more only as the fire chief approves. */
export const FIRE_ENGINE_PCT = 10;
/** International Fire Code 503.2.1, from memory. */
export const FIRE_ENGINE_WIDTH_FT = 20;
export const TRUCK_WIDTH_FT = 12;
/** IRC R311.7.5: tallest riser 7¾ in, shortest tread 10 in. */
export const RISER_FT = 7.75 / 12;
export const TREAD_FT = 10 / 12;

/** Rise lost while the grade changes between one limit and another at `BEND_PER_FT`, ft. */
export function riseLostFt(from: number, to: number): number {
  return (to - from) ** 2 / (2 * BEND_PER_FT);
}

/**
 * Shortest straight lane that climbs (or falls) so much: throat and apron at their own limits, the rest at the grade
 * limit, the changes of grade bent as rounded as the rules ask. L = throat + apron + (rise − their rise + rise lost) ÷ limit.
 */
export function shortestRunFt(riseFt: number, maxGradePct: number): number {
  const rise = Math.abs(riseFt);
  if (rise <= SHORT_DRIVE_FT * THROAT_GRADE) return rise / THROAT_GRADE;
  const limit = maxGradePct / 100;
  const throat = Math.min(limit, THROAT_GRADE);
  const apron = Math.min(limit, APRON_GRADE);
  const endsFt = THROAT_FT * throat + APRON_FT * apron;
  const lost = riseLostFt(throat, limit) + riseLostFt(apron, limit);
  return Math.max(SHORT_DRIVE_FT, THROAT_FT + APRON_FT + (rise - endsFt + lost) / limit);
}

/** Numbers of one lot's lane, feet and rise per foot. */
export interface DriveRules {
  readonly limit: number;
  /** At the street and before the door, no more than the limit. */
  readonly throatGrade: number;
  readonly apronGrade: number;
  readonly widthFt: number;
  readonly halfBedFt: number;
  /** Tightest centre line. */
  readonly radiusFt: number;
  readonly cutBatter: number;
  readonly fillBatter: number;
  /** Tallest wall the rules allow beside the drive. */
  readonly tallestWallFt: number;
}

export function driveRules({ rules }: StudyRequest, maxGradePct = rules.driveway.maxGradePct): DriveRules {
  const { widthFt, minInsideRadiusFt } = rules.driveway;
  return {
    limit: maxGradePct / 100,
    throatGrade: Math.min(maxGradePct / 100, THROAT_GRADE),
    apronGrade: Math.min(maxGradePct / 100, APRON_GRADE),
    widthFt,
    halfBedFt: widthFt / 2 + SHOULDER_FT,
    radiusFt: minInsideRadiusFt + widthFt / 2,
    cutBatter: rules.cutBatter,
    fillBatter: rules.fillBatter,
    tallestWallFt: rules.maxSiteWallFt,
  };
}

/** Largest centre-line grade for a limit kept at the inside edge of a curve, where the same rise has less length: limit·(R − w/2)/R. */
export function centreLimit(limit: number, radiusFt: number, widthFt: number): number {
  return radiusFt === Infinity ? limit : (limit * (radiusFt - widthFt / 2)) / radiusFt;
}

const PRACTICE = "common practice, no source";
export const assumptions: readonly Assumption[] = [
  { name: "Nearly level run before the garage door", value: APRON_FT, unit: "ft", origin: PRACTICE },
  {
    name: "Steepest grade of that run",
    value: 100 * APRON_GRADE,
    unit: "%",
    origin: "San Bernardino County Code 15.04.230",
  },
  { name: "Milder run where the driveway meets the street", value: THROAT_FT, unit: "ft", origin: PRACTICE },
  {
    name: "Steepest grade of that run at the street",
    value: 100 * THROAT_GRADE,
    unit: "%",
    origin: PRACTICE,
  },
  {
    name: "Length of driveway for each percent its grade changes",
    value: 1 / (100 * BEND_PER_FT),
    unit: "ft",
    origin: PRACTICE,
  },
  {
    name: "Deepest cut or highest fill at the middle of a driveway",
    value: DEEPEST_FT,
    unit: "ft",
    origin: "judgement",
  },
  {
    name: "Dead end beyond which a turnaround is asked for",
    value: DEAD_END_FT,
    unit: "ft",
    origin: "International Fire Code D103.4, where adopted",
  },
  { name: "Steepest grade for a loaded truck", value: LOADED_TRUCK_PCT, unit: "%", origin: PRACTICE },
  {
    name: "Steepest grade of a fire engine's road",
    value: FIRE_ENGINE_PCT,
    unit: "%",
    origin: "International Fire Code D103.2, where adopted; more as the fire chief approves",
  },
  {
    name: "Wheelbase and steering of a loaded truck",
    value: `${measure(20, "ft")}, 31.8°`,
    unit: "",
    origin: "AASHTO design vehicle SU-30, from memory",
  },
  {
    name: "Wheelbase and steering of a fire engine",
    value: `${measure(19, "ft")}, 37°`,
    unit: "",
    origin: "common practice, from memory; ask the fire department for its own",
  },
];
