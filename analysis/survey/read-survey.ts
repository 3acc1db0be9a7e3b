/** Intake: from what was sent to one survey in local feet, or to problems a surveyor's assistant can act on. */
import type { Point } from "../geometry/plane.js";
import type { RequestInput, StudyRequest } from "../request/index.js";
import { readBoundary } from "./boundary.js";
import { settleLotLine } from "./boundary-ring.js";
import { toldColumns } from "./column-names.js";
import { dropDuplicates } from "./duplicates.js";
import { settleFrame } from "./frame.js";
import { jsonOf } from "./json-file.js";
import { readConstraints, treeAreas } from "./no-build.js";
import { emptyNotes, type IntakeNotes } from "./notes.js";
import { checkEnough, checkReach } from "./reach.js";
import { gridOfShots } from "./shot-grid.js";
import { keepMarked, sortShots } from "./sort-shots.js";
import { medianSpacingFt } from "./spacing.js";
import { dropSpikes } from "./spikes.js";
import { type SurveyFiles, type SurveyReading, toLocal } from "./survey.js";
import { readTopo } from "./topo.js";
import { describeAccuracy } from "./vertical-accuracy.js";
import { dropUnmeasured } from "./zero-elevations.js";

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
  if (!topo || !boundary) return refused(notes);

  const settled = settleFrame({ topo, boundary, request }, notes);
  if (!settled) return refused(notes);
  const { frame, ring, table } = settled;
  const inFeet = (at: Point) => toLocal(frame, at);
  const lot = settleLotLine({ ring, edge: boundary.edge, row: boundary.row }, notes);
  if (!lot) return refused(notes);

  const forced = new Set(request.survey.keepRows ?? []);
  const sorted = sortShots(table, request.survey.codes, forced, notes);
  const keep = new Uint8Array(sorted.ground.count).fill(1);
  dropUnmeasured(sorted.ground, keep, forced, notes);
  dropDuplicates(sorted.ground, keep, forced, notes);
  const shotGrid = gridOfShots(sorted.ground);
  dropSpikes(sorted.ground, shotGrid, keep, forced, notes);
  const ground = keepMarked(sorted.ground, keep);
  if (!checkEnough(ground, notes) || !checkReach(ground, lot.boundary, notes)) return refused(notes);

  const constraints = constraintsSource(input, files, notes);
  const given = constraints === undefined ? [] : readConstraints(constraints, inFeet, notes);
  if (notes.problems.length > 0) return refused(notes);
  noteUnstated(request, notes);
  const accuracy = describeAccuracy(request);
  return {
    ok: true,
    survey: {
      frame,
      ground,
      features: sorted.features,
      boundary: lot.boundary,
      inputEdge: lot.inputEdge,
      closure: settled.closure,
      noBuild: [...given, ...treeAreas(sorted.features)],
      constraintsGiven: constraints !== undefined,
      breaklines: [],
      accessPoint: request.access.point ? inFeet(request.access.point) : null,
      summary: {
        pointsRead: topo.pointsRead,
        pointsUsed: ground.count,
        excluded: notes.excluded.sort((a, b) => a.row - b.row),
        unit: frame.unit,
        verticalUnit: frame.verticalUnit,
        crs: frame.crs,
        columns: settled.columns,
        columnsBecause: settled.columnsBecause,
        format: topo.format,
        medianSpacingFt: medianSpacingFt(sorted.ground, shotGrid, keep),
        coveragePct: 0,
        verticalAccuracyFt: accuracy.sigmaFt,
        verticalAccuracyOrigin: accuracy.origin,
        date: request.survey.date ?? null,
        datum: request.survey.datum ?? null,
        basisOfBearings: request.survey.basisOfBearings ?? null,
        warnings: notes.warnings,
        codes: sorted.codes,
      },
    },
  };
}

function refused(notes: IntakeNotes): SurveyReading {
  return { ok: false, problems: notes.problems };
}

/** The constraints as JSON; undefined when none were sent. */
function constraintsSource(input: RequestInput, files: SurveyFiles, notes: IntakeNotes): unknown {
  return files.constraints ? jsonOf(files.constraints.bytes, "constraints", notes) : input.constraints;
}

function noteUnstated({ survey }: StudyRequest, notes: IntakeNotes): void {
  if (!survey.datum)
    notes.warnings.push({
      code: "datum-not-stated",
      message: "The height datum was not stated.",
      remedy: "Give survey.datum: the vertical datum and the bench mark.",
    });
  if (!survey.date)
    notes.warnings.push({
      code: "date-not-stated",
      message: "The date of the field work was not stated.",
      remedy: "Give survey.date.",
    });
}
