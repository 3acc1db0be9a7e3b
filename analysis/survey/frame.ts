/** One frame for both files: axes, units, origin. */
import type { Point, Ring } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { feetPerUnit, type LengthUnit } from "../units.js";
import { CLEARLY_BETTER, compareReadings, FEET_PER_METRE, type Meeting, type Reading } from "./meet.js";
import type { IntakeNotes } from "./notes.js";
import { orderInWords } from "./point-columns.js";
import type { PointTable } from "./point-table.js";
import type { BoundarySource, TopoSource } from "./sources.js";
import { type Closure, type Frame, toLocal } from "./survey.js";

export interface SettledFrame {
  readonly frame: Frame;
  /** Lot corners in local feet, in the order given. */
  readonly ring: Ring;
  /** Shots in local feet, elevations in feet. */
  readonly table: PointTable;
  readonly columns: Readonly<Record<string, number>> | null;
  readonly columnsBecause: string;
  readonly closure: Closure | null;
  /** Survey coordinates of the request (access point, constraints) to local feet. */
  readonly toLocal: (at: Point) => Point;
}

interface Sources {
  readonly topo: TopoSource;
  readonly boundary: BoundarySource;
  readonly request: StudyRequest;
}

/** Below this cover the two files do not meet. */
const MEETS = 0.02;
/** A reading that covers this much of the lot is believed when the plain one does not meet at all. */
const CONVINCING = 0.5;
/** Origins are put on round coordinates so that local feet stay readable. */
const ORIGIN_STEP = 100;

/** Decides axes and units, with the reason in the notes where something was guessed or corrected. Null with a problem when the files contradict each other. */
export function settleFrame({ topo, boundary, request }: Sources, notes: IntakeNotes): SettledFrame | null {
  const { survey } = request;
  const topoUnit = survey.unit ?? topo.said.unit;
  const boundaryUnit = survey.unit ?? boundary.said.unit;
  const meeting = compareReadings({
    topo: topo.points,
    ring: boundary.ring,
    topoAxes: topo.said.axes,
    boundaryAxes: boundary.said.axes,
    unitsOpen: survey.unit === undefined && (topoUnit === null || boundaryUnit === null),
  });
  const reading = chooseReading(meeting, topo, notes);
  if (!reading) {
    notes.problems.push(notMeeting(meeting, topo, boundary));
    return null;
  }
  const units = settleUnits({ topoUnit, boundaryUnit, reading, topo, request }, notes);
  const ring = boundary.ring.map(([x, y]): Point => (reading.swapBoundary ? [y, x] : [x, y]));
  const frame: Frame = {
    originEasting: roundDown(Math.min(...ring.map(([x]) => x))),
    originNorthing: roundDown(Math.min(...ring.map(([, y]) => y))),
    unit: units.boundary,
    verticalUnit: units.vertical,
    feetPerUnit: feetPerUnit(units.boundary),
    verticalFeetPerUnit: feetPerUnit(units.vertical),
    crs: survey.crs ?? "local",
    proj4: null,
  };
  const inFrame = (at: Point) => toLocal(frame, at);
  return {
    frame,
    ring: ring.map(inFrame),
    table: tableInFeet(topo.points, reading.swapTopo, units.topoScale, frame),
    columns: topo.columns && reading.swapTopo ? swappedColumns(topo.columns) : topo.columns,
    columnsBecause: columnsInWords(topo, meeting, reading),
    closure: closureOf(boundary, frame.feetPerUnit),
    toLocal: inFrame,
  };
}

function chooseReading(
  { plain, allowed, best, rivalCovered }: Meeting,
  topo: TopoSource,
  notes: IntakeNotes,
): Reading | null {
  if (allowed !== plain) {
    notes.warnings.push({
      code: "mirrored-axes",
      message: `${allowed.swapTopo ? "The topo" : "The boundary"} meets the other file only with easting and northing the other way round from ${allowed.swapTopo && topo.said.axes === "guessed" ? "the trade's usual order" : "their names"}, and was read so (${percent(allowed.covered)} of the lot's box covered, against ${percent(plain.covered)}).`,
      remedy:
        "Compare the picture with the survey drawing; a lot must not come out mirrored. Name the columns northing and easting, or give survey.columns.",
    });
    return allowed;
  }
  if (plain.covered >= MEETS) {
    if (topo.said.axes === "guessed" && plain.covered - rivalCovered < CLEARLY_BETTER)
      notes.warnings.push({
        code: "columns-guessed",
        message: `The topo has no header, and the lot meets it whichever of the two coordinate columns is northing; the order ${orderInWords(topo.columns ?? {})} was taken.`,
        remedy: "Compare the picture with the survey drawing. Name the columns, or give survey.columns.",
      });
    return plain;
  }
  return best.topoScale !== 1 && !best.swapTopo && !best.swapBoundary && best.covered >= CONVINCING
    ? best
    : null;
}

function percent(share: number): string {
  return `${Math.round(share * 100)} %`;
}

function notMeeting({ best }: Meeting, topo: TopoSource, boundary: BoundarySource) {
  const swapped = best.covered >= CONVINCING && (best.swapTopo || best.swapBoundary);
  const range = (values: Iterable<number>) => {
    let [low, high] = [Infinity, -Infinity];
    for (const v of values) [low, high] = [Math.min(low, v), Math.max(high, v)];
    return `${low.toFixed(1)} to ${high.toFixed(1)}`;
  };
  const ranges = `Topo: eastings ${range(topo.points.easting)}, northings ${range(topo.points.northing)}. Boundary: eastings ${range(boundary.ring.map(([x]) => x))}, northings ${range(boundary.ring.map(([, y]) => y))}.`;
  return swapped
    ? {
        code: "axes-exchanged",
        where: best.swapTopo ? "topo" : "boundary",
        message: `Topo and boundary meet only when northing and easting of one of them are exchanged, but both say which is which. ${ranges}`,
        remedy:
          "Find out which file is wrong and correct its header, or give survey.columns or survey.boundaryColumns.",
      }
    : {
        code: "topo-misses-lot",
        where: "topo",
        message: `The ground shots do not reach the lot. ${ranges}`,
        remedy: "Send both files in one coordinate system and unit; look for cut-off leading digits.",
      };
}

interface UnitEvidence {
  readonly topoUnit: LengthUnit | null;
  readonly boundaryUnit: LengthUnit | null;
  readonly reading: Reading;
  readonly topo: TopoSource;
  readonly request: StudyRequest;
}

function settleUnits({ topoUnit, boundaryUnit, reading, topo, request }: UnitEvidence, notes: IntakeNotes) {
  const known = topoUnit ?? boundaryUnit;
  const boundary =
    boundaryUnit ?? (reading.topoScale === 1 ? known : null) ?? (reading.topoScale < 1 ? "m" : "ft");
  const topoIn = reading.topoScale === 1 ? (topoUnit ?? boundary) : reading.topoScale > 1 ? "m" : "ft";
  if (reading.topoScale !== 1)
    notes.warnings.push({
      code: reading.topoScale > 1 ? "topo-in-metres" : "boundary-in-metres",
      message:
        `Topo and boundary meet only when the ${reading.topoScale > 1 ? "topo" : "boundary"} is taken for metres and the other for feet: coordinates differ by the factor ${FEET_PER_METRE.toFixed(2)}. ${reading.topoScale > 1 ? "Its elevations were taken for metres too." : ""}`.trim(),
      remedy: "Send both files in one unit and state it in survey.unit.",
    });
  else if (known === null)
    notes.warnings.push({
      code: "unit-assumed",
      message: "The unit was not stated; feet were assumed.",
      remedy: "Give survey.unit: ft, us-ft or m.",
    });
  return {
    boundary,
    topoScale: feetPerUnit(topoIn) / feetPerUnit(boundary),
    vertical: request.survey.verticalUnit ?? topo.said.verticalUnit ?? topoIn,
  };
}

function roundDown(value: number): number {
  return Math.floor(value / ORIGIN_STEP) * ORIGIN_STEP;
}

function tableInFeet(points: PointTable, swap: boolean, scale: number, frame: Frame): PointTable {
  const xs = swap ? points.northing : points.easting;
  const ys = swap ? points.easting : points.northing;
  return {
    ...points,
    easting: xs.map((x) => (x * scale - frame.originEasting) * frame.feetPerUnit),
    northing: ys.map((y) => (y * scale - frame.originNorthing) * frame.feetPerUnit),
    elevation:
      frame.verticalFeetPerUnit === 1
        ? points.elevation
        : points.elevation.map((z) => z * frame.verticalFeetPerUnit),
  };
}

function swappedColumns(columns: Readonly<Record<string, number>>): Record<string, number> {
  return { ...columns, northing: columns.easting!, easting: columns.northing! };
}

function columnsInWords(topo: TopoSource, meeting: Meeting, reading: Reading): string {
  if (topo.said.axes !== "guessed" || !topo.columns) return topo.columnsBecause;
  const order = orderInWords(reading.swapTopo ? swappedColumns(topo.columns) : topo.columns);
  const told = reading.covered - meeting.rivalCovered >= CLEARLY_BETTER;
  return `${topo.columnsBecause}; read as ${order}${told ? `, because only so the shots cover the lot (${percent(reading.covered)} of its box, ${percent(meeting.rivalCovered)} the other way)` : ", the trade's usual order"}`;
}

function closureOf({ traverse }: BoundarySource, feet: number): Closure | null {
  if (!traverse) return null;
  const { misclosure, length, adjusted } = traverse;
  return {
    misclosureFt: misclosure * feet,
    precision: misclosure > 0 ? Math.round(length / misclosure) : Number.MAX_SAFE_INTEGER,
    adjusted,
  };
}
