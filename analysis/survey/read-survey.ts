/** Intake: from what was sent to one survey in local feet, or to problems a surveyor's assistant can act on. */
import type { Point, Ring } from "../geometry/plane.js";
import { measure } from "../measure.js";
import type { RequestInput, StudyRequest } from "../request/index.js";
import { readBoundary } from "./boundary.js";
import { settleLotLine } from "./boundary-ring.js";
import { breaklinesOfTable, readBreaklines } from "./breaklines.js";
import { toldColumns } from "./column-names.js";
import { settleFrame } from "./frame.js";
import { settleGround } from "./ground.js";
import { jsonOf } from "./json-file.js";
import { noteOffLot, readConstraints, treeAreas } from "./no-build.js";
import { emptyNotes, type IntakeNotes } from "./notes.js";
import { loadProjections } from "./projections.js";
import { checkCount, farFromLot, isWithin } from "./reach.js";
import { soundLines } from "./sound-lines.js";
import type { FrameSaid } from "./sources.js";
import { facesInFeet } from "./surface-faces.js";
import { type SurveyFiles, type SurveyReading, toLocal } from "./survey.js";
import { readTopo } from "./topo.js";
import { describeAccuracy } from "./vertical-accuracy.js";

export interface SurveyInput {
  /** As validated by `requestSchema`. */
  readonly input: RequestInput;
  /** The same with defaults filled in. */
  readonly request: StudyRequest;
  /** Files win over what stands in `input`. */
  readonly files: SurveyFiles;
}

/**
 * Reads topo, boundary, constraints and breaklines. Bad input comes back as problems, never as an exception; whatever
 * was left out, guessed or assumed is in `summary`. Coverage is 0 here: the terrain stage measures it.
 */
export async function readSurvey({ input, request, files }: SurveyInput): Promise<SurveyReading> {
  const notes = emptyNotes();
  const topo = await readTopo(
    {
      file: files.topo,
      inline: input.topo,
      told: request.survey.columns && toldColumns(request.survey.columns),
    },
    notes,
  );
  const boundary = readBoundary({ file: files.boundary, inline: input.boundary, request }, notes);
  if (!topo || !boundary || !checkCount(topo.points.count, notes)) return refused(notes);

  if (namesSystem(request, topo.said, boundary.said)) await loadProjections();
  const settled = settleFrame({ topo, boundary, request }, notes);
  if (!settled) return refused(notes);
  const { frame, ring, table } = settled;
  const inFeet = (at: Point) => toLocal(frame, at);
  const lot = settleLotLine({ ring, edge: boundary.edge, row: boundary.row }, notes);
  if (!lot) return refused(notes);

  const shots = settleGround(table, lot.boundary, request, notes);
  if (!shots) return refused(notes);

  const constraints = sourceOf("constraints", input, files, notes);
  const given =
    constraints === undefined || constraints === null ? [] : readConstraints(constraints, inFeet, notes);
  noteOffLot(given, lot.boundary, notes);
  const breaks = sourceOf("breaklines", input, files, notes);
  const drawn = [
    ...settled.lines,
    ...(breaks === undefined || breaks === null
      ? []
      : readBreaklines(
          { source: breaks, toLocal: inFeet, verticalFeetPerUnit: frame.verticalFeetPerUnit, table },
          notes,
        )),
  ];
  const breaklines = [
    ...breaklinesOfTable(table, request.survey.codes, shots.lostRows),
    ...soundLines(drawn, shots.ground, lot.boundary, notes),
  ];
  const accessPoint = request.access.point ? inFeet(request.access.point) : null;
  if (accessPoint) checkAccessPoint(accessPoint, lot.boundary, notes);
  if (notes.problems.length > 0) return refused(notes);
  noteUnstated(request, notes);
  const accuracy = describeAccuracy(request, topo.heightsFrom, frame.verticalFeetPerUnit);
  return {
    ok: true,
    survey: {
      frame,
      ground: shots.ground,
      features: shots.features,
      boundary: lot.boundary,
      inputEdge: lot.inputEdge,
      closure: settled.closure,
      noBuild: [...given, ...treeAreas(shots.features)],
      constraintsGiven: constraints !== undefined,
      breaklines,
      ...(topo.faces ? { faces: facesInFeet(topo.faces, table) } : {}),
      leftOut: shots.leftOut,
      accessPoint,
      summary: {
        pointsRead: topo.pointsRead,
        pointsUsed: shots.ground.count,
        excluded: notes.excluded.sort((a, b) => a.row - b.row),
        unit: frame.unit,
        verticalUnit: frame.verticalUnit,
        crs: frame.crs,
        columns: settled.columns,
        columnsBecause: settled.columnsBecause,
        format: topo.format,
        medianSpacingFt: shots.medianSpacingFt,
        coveragePct: 0,
        verticalAccuracyFt: accuracy.sigmaFt,
        verticalAccuracyOrigin: accuracy.origin,
        date: request.survey.date ?? null,
        datum: request.survey.datum ?? null,
        basisOfBearings: request.survey.basisOfBearings ?? null,
        warnings: notes.warnings,
        codes: shots.codes,
      },
    },
  };
}

function namesSystem({ survey: { crs, boundaryCrs } }: StudyRequest, ...said: readonly FrameSaid[]): boolean {
  return (
    crs !== undefined || boundaryCrs !== undefined || said.some((file) => file.crs !== null || file.degrees)
  );
}

function refused(notes: IntakeNotes): SurveyReading {
  return { ok: false, problems: notes.problems };
}

/** A GeoJSON part of the input, from its file or from the request; undefined when it was not sent. */
function sourceOf(
  part: "constraints" | "breaklines",
  input: RequestInput,
  files: SurveyFiles,
  notes: IntakeNotes,
): unknown {
  const file = files[part];
  if (!file) return input[part];
  if (input[part] !== undefined)
    notes.problems.push({
      code: `${part}-twice`,
      where: part,
      message: `The ${part} came as a file and inside the request.`,
      remedy: "Send one of them.",
    });
  return jsonOf(file.bytes, part, notes);
}

function checkAccessPoint([east, north]: Point, boundary: Ring, notes: IntakeNotes): void {
  const { within, awayFt } = farFromLot(boundary);
  if (!isWithin(within, east, north))
    notes.problems.push({
      code: "access-point-far",
      where: "request.access.point",
      message: `The point where a car comes in lies ${measure(Math.round(awayFt(east, north)), "ft")} from the lot.`,
      remedy: "Give it in survey coordinates: [easting, northing].",
    });
}

function noteUnstated({ survey }: StudyRequest, notes: IntakeNotes): void {
  if (!survey.datum)
    notes.warnings.push({
      code: "datum-not-stated",
      message: "The height datum was not stated.",
      remedy: "Ask the surveyor for the vertical datum and the bench mark (survey.datum).",
    });
  if (!survey.date)
    notes.warnings.push({
      code: "date-not-stated",
      message: "The date of the field work was not stated.",
      remedy: "Ask the surveyor for the day of the field work (survey.date).",
    });
}
