/** One frame for both files: system, axes, units, origin. */
import type { Point, Ring } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { feetPerUnit, type LengthUnit } from "../units.js";
import { chooseReading, columnsInWords, notMeeting, swappedColumns } from "./axes.js";
import { between, type Crs } from "./crs.js";
import { compareReadings, type Reading } from "./meet.js";
import type { IntakeNotes } from "./notes.js";
import type { PointTable } from "./point-table.js";
import type { BoundarySource, SourceLine, TopoSource } from "./sources.js";
import { type Closure, type Frame, toLocal } from "./survey.js";
import { inTopoSystem, planeOfStudy, systemsOfFiles } from "./systems-of-files.js";
import {
  localUnits,
  noteTwoFeet,
  noteUnitsAgainstFiles,
  type UnitsOfSurvey,
  unitsOfPlane,
} from "./units-of-survey.js";

export interface SettledFrame {
  readonly frame: Frame;
  /** Lot corners in local feet, in the order given. */
  readonly ring: Ring;
  /** Shots in local feet, elevations in feet. */
  readonly table: PointTable;
  /** Breaklines that came with the topo, in local feet. */
  readonly lines: readonly SourceLine[];
  readonly columns: Readonly<Record<string, number>> | null;
  readonly columnsBecause: string;
  readonly closure: Closure | null;
}

interface Sources {
  readonly topo: TopoSource;
  readonly boundary: BoundarySource;
  readonly request: StudyRequest;
}

/** Origins are put on round coordinates so that local feet stay readable. */
const ORIGIN_STEP = 100;

/** Decides system, axes and units, with the reason in the notes where something was guessed or corrected. Null with a problem when the files contradict each other. */
export function settleFrame({ topo, boundary, request }: Sources, notes: IntakeNotes): SettledFrame | null {
  const { survey } = request;
  const systems = systemsOfFiles({ topo, boundary, request }, notes);
  if (!systems) return null;
  const topoUnit = survey.unit ?? topo.said.unit;
  const boundaryUnit = survey.unit ?? boundary.said.unit;
  const given = inTopoSystem(boundary.ring, systems);
  const meeting = compareReadings({
    topo: topo.points,
    ring: given,
    topoAxes: topo.said.axes,
    boundaryAxes: boundary.said.axes,
    unitsOpen: !systems.topo && survey.unit === undefined && (topoUnit === null || boundaryUnit === null),
    topoScale:
      !systems.topo && topoUnit && boundaryUnit ? feetPerUnit(topoUnit) / feetPerUnit(boundaryUnit) : 1,
  });
  const reading = chooseReading(meeting, { topo, boundary }, notes);
  if (!reading) {
    notes.problems.push(notMeeting(meeting, topo, given));
    return null;
  }
  const swapped = given.map(([x, y]): Point => (reading.swapBoundary ? [y, x] : [x, y]));
  const plane = planeOfStudy(systems, swapped);
  const units = plane
    ? unitsOfPlane(plane, systems.topo!, topo, request, notes)
    : localUnits({ topoUnit, boundaryUnit, reading, topo, request }, notes);
  if (!units) return null;
  // a boundary in a system of its own may have another unit
  noteUnitsAgainstFiles(request, { topo, boundary: plane ? null : boundary }, units.vertical, notes);
  if (!plane && !survey.unit) noteTwoFeet(topo, boundary, swapped, notes);
  const toPlane = plane ? between(systems.topo!, plane) : (at: Point) => at;
  const ring = swapped.map(toPlane);
  const frame = frameAt(ring, plane, units);
  const place = placing(frame, units.topoScale, plane ? toPlane : null);
  return {
    frame,
    ring: ring.map((at) => toLocal(frame, at)),
    table: tableInFeet(topo.points, frame, reading, units.topoScale, plane ? toPlane : null),
    lines: topo.breaklines.map((line) =>
      line.map(([e, n, z]) => {
        const at = reading.swapTopo ? place(n, e) : place(e, n);
        return [...at, z * frame.verticalFeetPerUnit] as const;
      }),
    ),
    columns: topo.columns && reading.swapTopo ? swappedColumns(topo.columns) : topo.columns,
    columnsBecause: columnsInWords(topo, meeting, reading),
    closure: closureOf(boundary, units.plane),
  };
}

function frameAt(ring: Ring, plane: Crs | null, units: UnitsOfSurvey): Frame {
  return {
    originEasting: roundDown(Math.min(...ring.map(([x]) => x))),
    originNorthing: roundDown(Math.min(...ring.map(([, y]) => y))),
    unit: units.plane,
    verticalUnit: units.vertical,
    feetPerUnit: feetPerUnit(units.plane),
    verticalFeetPerUnit: feetPerUnit(units.vertical),
    crs: plane?.code ?? "local",
    proj4: plane?.proj4 ?? null,
  };
}

function roundDown(value: number): number {
  return Math.floor(value / ORIGIN_STEP) * ORIGIN_STEP;
}

/** A topo position in local feet. */
type Place = (easting: number, northing: number) => Point;

/** How positions of the topo come to local feet. */
function placing(
  { originEasting: e0, originNorthing: n0, feetPerUnit: feet }: Frame,
  scale: number,
  toPlane: ((at: Point) => Point) | null,
): Place {
  if (!toPlane) return (x, y) => [(x * scale - e0) * feet, (y * scale - n0) * feet];
  return (x, y) => {
    const [e, n] = toPlane([x, y]);
    return [(e - e0) * feet, (n - n0) * feet];
  };
}

/** The shots in local feet, in the columns they were read into: a million need no second copy. */
function tableInFeet(
  points: PointTable,
  { originEasting: e0, originNorthing: n0, feetPerUnit: feet, verticalFeetPerUnit }: Frame,
  { swapTopo }: Reading,
  scale: number,
  toPlane: ((at: Point) => Point) | null,
): PointTable {
  const { count, easting, northing, elevation } = points;
  for (let i = 0; i < count; i++) {
    const x = swapTopo ? northing[i]! : easting[i]!;
    const y = swapTopo ? easting[i]! : northing[i]!;
    if (toPlane) {
      const at = toPlane([x, y]);
      easting[i] = (at[0] - e0) * feet;
      northing[i] = (at[1] - n0) * feet;
    } else {
      easting[i] = (x * scale - e0) * feet;
      northing[i] = (y * scale - n0) * feet;
    }
    elevation[i]! *= verticalFeetPerUnit;
  }
  return points;
}

/** The calls were walked in the unit they say; where they say none, in that of the plane. */
function closureOf({ traverse, said }: BoundarySource, plane: LengthUnit): Closure | null {
  if (!traverse) return null;
  const { misclosure, length, adjusted } = traverse;
  return {
    misclosureFt: misclosure * feetPerUnit(said.unit ?? plane),
    precision: misclosure > 0 ? Math.round(length / misclosure) : Number.MAX_SAFE_INTEGER,
    adjusted,
  };
}
