/** Feet or metres, of the plane and of the heights. */

import { measure } from "../measure.js";
import type { StudyRequest } from "../request/request.js";
import { feetPerUnit, type LengthUnit, METRES_PER_FOOT, METRES_PER_US_SURVEY_FOOT } from "../units.js";
import type { Crs } from "./crs.js";
import { FEET_PER_METRE, type Reading } from "./meet.js";
import type { IntakeNotes } from "./notes.js";
import type { BoundarySource, TopoSource } from "./sources.js";

export interface UnitsOfSurvey {
  /** Unit of the plane the lot is in. */
  readonly plane: LengthUnit;
  readonly vertical: LengthUnit;
  /** Local topo coordinates are multiplied by this to be in the plane's unit. */
  readonly topoScale: number;
}

interface UnitEvidence {
  readonly topoUnit: LengthUnit | null;
  readonly boundaryUnit: LengthUnit | null;
  readonly reading: Reading;
  readonly topo: TopoSource;
  readonly request: StudyRequest;
}

/** Units of a survey in local coordinates; feet with a warning where nobody says. */
export function localUnits(
  { topoUnit, boundaryUnit, reading, topo, request }: UnitEvidence,
  notes: IntakeNotes,
): UnitsOfSurvey {
  const { topoScale } = reading;
  const known = topoUnit ?? boundaryUnit;
  const plane =
    topoScale === 1 ? (boundaryUnit ?? known ?? "ft") : (boundaryUnit ?? (topoScale < 1 ? "m" : "ft"));
  const topoIn = topoScale === 1 ? (topoUnit ?? plane) : topoScale > 1 ? "m" : "ft";
  const vertical = request.survey.verticalUnit ?? topo.said.verticalUnit ?? topoIn;
  if (topoScale !== 1) {
    const metres = topoScale > 1 ? "topo" : "boundary";
    const why =
      topoUnit && boundaryUnit
        ? `The ${metres} is in metres and the other file in feet, as they state.`
        : `Topo and boundary meet only when the ${metres} is taken for metres and the other for feet: their coordinates differ by the factor ${FEET_PER_METRE.toFixed(2)}.`;
    notes.warnings.push({
      code: `${metres}-in-metres`,
      message: `${why} The elevations were taken for ${vertical === "m" ? "metres" : "feet"}.`,
      remedy: "Send both files in one unit and state it in survey.unit.",
    });
  } else if (known === null)
    notes.warnings.push({
      code: "unit-assumed",
      message: "The unit was not stated; feet were assumed.",
      remedy: "Choose the unit of the files (survey.unit: ft, us-ft or m).",
    });
  return {
    plane,
    topoScale: feetPerUnit(topoIn) / feetPerUnit(plane),
    vertical,
  };
}

/** Units of a survey in a known system. Null with a problem when the stated unit contradicts it or heights beside degrees have none. */
export function unitsOfPlane(
  plane: Crs,
  topoSystem: Crs,
  topo: TopoSource,
  { survey }: StudyRequest,
  notes: IntakeNotes,
): UnitsOfSurvey | null {
  const unit = plane.unit as LengthUnit;
  if (survey.unit && topoSystem.unit !== "degree" && (survey.unit === "m") !== (unit === "m")) {
    notes.problems.push({
      code: "unit-against-crs",
      where: "request.survey.unit",
      message: `survey.unit says ${survey.unit}, but ${plane.code} (${plane.name}) is in ${unit}.`,
      remedy: "Correct the one or the other.",
    });
    return null;
  }
  if (survey.unit && topoSystem.unit !== "degree" && survey.unit !== unit)
    notes.warnings.push({
      code: "foot-against-crs",
      message: `survey.unit says ${survey.unit}, but ${plane.code} (${plane.name}) is in ${unit}; ${unit} was used.`,
      remedy: "Ask which foot the survey is in: far from the origin they lie feet apart.",
    });
  const vertical =
    survey.verticalUnit ??
    topo.said.verticalUnit ??
    survey.unit ??
    topo.said.unit ??
    (topoSystem.unit === "degree" ? null : unit);
  if (vertical) return { plane: unit, vertical, topoScale: 1 };
  notes.problems.push({
    code: "vertical-unit-needed",
    where: "request.survey.verticalUnit",
    message: "The positions are in degrees, and nothing says whether the elevations are feet or metres.",
    remedy: "Give survey.verticalUnit: ft, us-ft or m, or name the column elevation_ft or elevation_m.",
  });
  return null;
}

/** Warns where the request states metres and a file feet, or the reverse: the one wins, and a mistake makes every slope wrong. */
export function noteUnitsAgainstFiles(
  { survey }: StudyRequest,
  { topo, boundary }: { readonly topo: TopoSource; readonly boundary: BoundarySource | null },
  vertical: LengthUnit,
  notes: IntakeNotes,
): void {
  const compare = (
    field: string,
    asked: LengthUnit | undefined,
    what: string,
    said: LengthUnit | null,
    used: LengthUnit,
  ) => {
    if (asked === undefined || said === null || (asked === "m") === (said === "m")) return;
    notes.warnings.push({
      code: "unit-against-file",
      message: `${field} says ${asked}, but ${what} says ${said}; ${used} was used.`,
      remedy:
        "Correct the one or the other: feet taken for metres, or metres for feet, make every slope and area wrong.",
    });
  };
  compare("survey.unit", survey.unit, "the topo", topo.said.unit, survey.unit!);
  compare("survey.unit", survey.unit, "the boundary", boundary?.said.unit ?? null, survey.unit!);
  const [field, asked] = survey.verticalUnit
    ? (["survey.verticalUnit", survey.verticalUnit] as const)
    : (["survey.unit", survey.unit] as const);
  compare(field, asked, "the elevation column of the topo", topo.said.verticalUnit, vertical);
}

/** Places of the two feet that lie this far apart are worth a word. */
const FEET_APART_FT = 0.05;

/** Warns where one file states international and the other US survey feet: on large coordinates the same number is another place. */
export function noteTwoFeet(
  topo: TopoSource,
  boundary: BoundarySource,
  ring: readonly (readonly [number, number])[],
  notes: IntakeNotes,
): void {
  const feet = new Set([topo.said.unit, boundary.said.unit]);
  if (!feet.has("ft") || !feet.has("us-ft")) return;
  const farthest = Math.max(...ring.map(([x, y]) => Math.hypot(x, y)));
  const apartFt = farthest * (METRES_PER_US_SURVEY_FOOT / METRES_PER_FOOT - 1);
  if (apartFt > FEET_APART_FT)
    notes.warnings.push({
      code: "two-feet",
      message: `One file states US survey feet, the other international feet. Both were laid on each other number for number; were the statements right, they would lie ${measure(apartFt, "ft", 0.1)} apart.`,
      remedy: "Ask the surveyor which foot both are in, and state it in survey.unit.",
    });
}
