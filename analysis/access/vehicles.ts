/** Whether a car, a loaded truck and a fire engine get up a lane: three answers. */
import { measure, published } from "../measure.js";
import type { StudyRequest } from "../request/request.js";
import type { VehicleAnswer } from "./access.js";
import {
  BACKING_OUT_FT,
  DEAD_END_FT,
  FIRE_ENGINE_PCT,
  FIRE_ENGINE_WIDTH_FT,
  LOADED_TRUCK_PCT,
  SHOULDER_FT,
  TRUCK_WIDTH_FT,
} from "./drive-rules.js";
import type { Station } from "./lane-path.js";
import { type CentreLine, type Sweep, sweepAlong, type Vehicle } from "./swept-path.js";

/** AASHTO design vehicles P and SU-30: wheelbase, width, steering angle. From memory. */
export const CAR: Vehicle = { wheelbaseFt: 11, widthFt: 6, steeringDeg: 31.6 };
export const TRUCK: Vehicle = { wheelbaseFt: 20, widthFt: 8, steeringDeg: 31.8 };
/** A pumper; departments' own engines differ. Common practice, from memory. */
export const FIRE_ENGINE: Vehicle = { wheelbaseFt: 19, widthFt: 8.2, steeringDeg: 37 };
/** Clear of the tyres, each side, for a driver who does not keep the line. Judgement. */
const STEERING_ROOM_FT = 1;

/** Grades are told to a tenth. */
const ROUNDING_PCT = 0.05;

export interface LaneFacts {
  readonly lengthFt: number;
  readonly maxGradePct: number;
  readonly widthFt: number;
  readonly centreLine: CentreLine;
  readonly stations: readonly Station[];
  readonly fallsToGarage: boolean;
  readonly turning: { readonly useful: boolean; readonly required: boolean; readonly found: boolean };
}

/** Useful where backing out to the street is too long a way, required (where the fire code is adopted) on long dead ends. */
export function needsTurnaround(lengthFt: number): { readonly useful: boolean; readonly required: boolean } {
  return { useful: lengthFt > BACKING_OUT_FT, required: lengthFt > DEAD_END_FT };
}

export function judgeCar(facts: LaneFacts, { rules }: StudyRequest): VehicleAnswer {
  const { maxGradePct, lengthFt, fallsToGarage, turning } = facts;
  const swept = sweptBy(CAR, facts, "car");
  const parts = [
    `at most ${pct(maxGradePct)} steep over ${feet(lengthFt)}, limit ${pct(rules.driveway.maxGradePct)}`,
    ...swept.short,
    ...swept.wide,
  ];
  if (turning.found) parts.push("a car can turn before the garage");
  else if (turning.useful)
    parts.push(`no room to turn was found before the garage: a driver backs out ${feet(lengthFt)}`);
  else parts.push("short enough to back out to the street");
  if (fallsToGarage)
    parts.push("it falls toward the garage door, which asks for a trench drain with a way out");
  return { ok: swept.short.length === 0, because: parts.join("; "), ...swept.numbers };
}

/** A loaded concrete truck. */
export function judgeTruck(facts: LaneFacts): VehicleAnswer {
  const { maxGradePct, widthFt } = facts;
  const swept = sweptBy(TRUCK, facts, "single-unit truck");
  const short = [...swept.short];
  if (maxGradePct > LOADED_TRUCK_PCT + ROUNDING_PCT)
    short.push(`${pct(maxGradePct)} is steeper than the ${pct(LOADED_TRUCK_PCT)} a loaded truck climbs`);
  if (widthFt < TRUCK_WIDTH_FT)
    short.push(`${feet(widthFt)} is narrower than the ${feet(TRUCK_WIDTH_FT)} a truck needs`);
  const fits = [`at most ${pct(maxGradePct)} steep and ${feet(widthFt)} wide`, ...swept.wide];
  return { ok: short.length === 0, because: (short.length > 0 ? short : fits).join("; "), ...swept.numbers };
}

/** What a fire department is likely to ask, and whether an engine makes the turns. */
export function judgeFireEngine(facts: LaneFacts): VehicleAnswer {
  const { maxGradePct, lengthFt, widthFt, turning } = facts;
  const swept = sweptBy(FIRE_ENGINE, facts, "fire engine");
  const short = [...swept.short];
  if (maxGradePct > FIRE_ENGINE_PCT + ROUNDING_PCT)
    short.push(
      `${pct(maxGradePct)} steep against ${pct(FIRE_ENGINE_PCT)}, more only as the fire chief approves`,
    );
  if (lengthFt > DEAD_END_FT) {
    if (widthFt < FIRE_ENGINE_WIDTH_FT)
      short.push(`${feet(widthFt)} wide against ${published(FIRE_ENGINE_WIDTH_FT, "ft")}`);
    short.push(
      `longer than ${published(DEAD_END_FT, "ft")} without a turnaround for an engine${turning.found ? " (the one drawn is for cars)" : ""}`,
    );
  }
  const because =
    short.length === 0
      ? [`at most ${pct(maxGradePct)} steep`, ...swept.wide]
      : [
          ...short,
          lengthFt > DEAD_END_FT
            ? "ask the fire department before the drive is drawn"
            : `at under ${published(DEAD_END_FT, "ft")} an engine may work from the street: ask the fire department`,
        ];
  return { ok: short.length === 0, because: because.join("; "), ...swept.numbers };
}

/** Turns too tight and widths too great, in words and numbers. */
function sweptBy(vehicle: Vehicle, { centreLine, stations, widthFt }: LaneFacts, name: string) {
  const sweep = sweepAlong(centreLine, vehicle);
  const needFt = sweep.widestFt + 2 * STEERING_ROOM_FT;
  const wideningFt = Math.max(0, needFt - widthFt);
  const short: string[] = [];
  const wide: string[] = [];
  if (sweep.failsAtFt !== null)
    short.push(
      `the turn ${feet(sweep.failsAtFt)} from the street is too tight for a ${name}: its wheels would have to turn ${Math.ceil(sweep.steeringDeg)}°, they turn about ${Math.round(vehicle.steeringDeg)}°`,
    );
  else if (wideningFt > 0) {
    const where = `in the curve ${feet(sweep.widestAtFt)} from the street a ${name} sweeps ${measure(sweep.widestFt, "ft", 0.1)}`;
    if (wideningFt > 2 * SHOULDER_FT)
      short.push(`${where}: the drive must be about ${measure(needFt, "ft", 0.5)} wide there`);
    else wide.push(`${where} and uses the shoulder`);
  }
  const failing = sweep.failsAtFt ?? (short.length > 0 ? sweep.widestAtFt : null);
  return { short, wide, numbers: numbersOf(sweep, wideningFt, failing, stations) };
}

function numbersOf(
  { widestFt, failsAtFt }: Sweep,
  wideningFt: number,
  failing: number | null,
  stations: readonly Station[],
) {
  const at = failing === null ? null : stations.find(({ stationFt }) => stationFt >= failing - 1e-9);
  return {
    sweptFt: widestFt,
    wideningFt: failsAtFt === null ? wideningFt : null,
    failsAt: at?.at ?? null,
  };
}

function pct(value: number): string {
  return `${Number(value.toFixed(1))} %`;
}

function feet(value: number): string {
  return measure(value, "ft", 1);
}
