/** Whether a car, and a loaded truck or a fire engine, gets up a lane: two answers. */
import { measure } from "../measure.js";
import type { StudyRequest } from "../request/request.js";
import {
  BACKING_OUT_FT,
  DEAD_END_FT,
  FIRE_ENGINE_PCT,
  FIRE_ENGINE_WIDTH_FT,
  LOADED_TRUCK_PCT,
  TRUCK_INSIDE_RADIUS_FT,
  TRUCK_TIGHT_TURN_DEG,
  TRUCK_WIDTH_FT,
} from "./drive-rules.js";

/** Grades are told to a tenth. */
const ROUNDING_PCT = 0.05;

export interface LaneFacts {
  readonly lengthFt: number;
  readonly maxGradePct: number;
  readonly widthFt: number;
  /** Most the lane turns in one sweep tighter than a truck's turn, degrees. */
  readonly tightTurnDeg: number;
  readonly fallsToGarage: boolean;
  readonly turning: { readonly useful: boolean; readonly required: boolean; readonly found: boolean };
}

interface Answer {
  readonly ok: boolean;
  readonly because: string;
}

/** Useful where backing out to the street is too long a way, required (where the fire code is adopted) on long dead ends. */
export function needsTurnaround(lengthFt: number): { readonly useful: boolean; readonly required: boolean } {
  return { useful: lengthFt > BACKING_OUT_FT, required: lengthFt > DEAD_END_FT };
}

export function judgeCar(
  { maxGradePct, lengthFt, fallsToGarage, turning }: LaneFacts,
  { rules }: StudyRequest,
): Answer {
  const parts = [
    `at most ${pct(maxGradePct)} steep over ${feet(lengthFt)}, limit ${pct(rules.driveway.maxGradePct)}`,
  ];
  if (turning.found) parts.push("a car can turn before the garage");
  else if (turning.useful)
    parts.push(`no room to turn was found before the garage: a driver backs out ${feet(lengthFt)}`);
  else parts.push("short enough to back out to the street");
  if (fallsToGarage)
    parts.push("it falls toward the garage door, which asks for a trench drain with a way out");
  return { ok: true, because: parts.join("; ") };
}

/** A loaded concrete truck gets up, and what a fire department is likely to ask beyond that. */
export function judgeHeavyVehicle({
  maxGradePct,
  lengthFt,
  widthFt,
  tightTurnDeg,
  turning,
}: LaneFacts): Answer {
  const short: string[] = [];
  if (maxGradePct > LOADED_TRUCK_PCT + ROUNDING_PCT)
    short.push(`${pct(maxGradePct)} is steeper than the ${pct(LOADED_TRUCK_PCT)} a loaded truck climbs`);
  if (widthFt < TRUCK_WIDTH_FT)
    short.push(`${feet(widthFt)} is narrower than the ${feet(TRUCK_WIDTH_FT)} a truck needs`);
  if (tightTurnDeg > TRUCK_TIGHT_TURN_DEG)
    short.push(
      `it turns ${Math.round(tightTurnDeg)}° in one sweep tighter than the ${feet(TRUCK_INSIDE_RADIUS_FT)} inside radius of a truck`,
    );
  const asked: string[] = [];
  if (maxGradePct > FIRE_ENGINE_PCT + ROUNDING_PCT)
    asked.push(`${pct(maxGradePct)} against ${pct(FIRE_ENGINE_PCT)}`);
  if (lengthFt > DEAD_END_FT) {
    if (widthFt < FIRE_ENGINE_WIDTH_FT)
      asked.push(`${feet(widthFt)} wide against ${feet(FIRE_ENGINE_WIDTH_FT)}`);
    asked.push(
      `a turnaround for an engine, as the drive is longer than ${feet(DEAD_END_FT)}${turning.found ? " (the one drawn is for cars)" : ""}`,
    );
  }
  const fire = asked.length > 0 ? `; ask the fire department about ${asked.join(", ")}` : "";
  const fits = `at most ${pct(maxGradePct)} steep and ${feet(widthFt)} wide`;
  return { ok: short.length === 0, because: `${short.length === 0 ? fits : short.join("; ")}${fire}` };
}

function pct(value: number): string {
  return `${Number(value.toFixed(1))} %`;
}

function feet(value: number): string {
  return measure(value, "ft", 1);
}
