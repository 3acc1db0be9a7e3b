/** Shots sorted into ground and features by their descriptions. */
import type { StudyRequest } from "../request/request.js";
import { type CodeMeaning, descriptionReader } from "./descriptions.js";
import { type IntakeNotes, shown } from "./notes.js";
import type { PointTable } from "./point-table.js";
import type { GroundPoints, SurveyFeature } from "./survey.js";
import { trunkInches } from "./trunks.js";

export interface CodeTaken {
  readonly description: string;
  readonly takenFor: CodeMeaning["kind"];
  readonly ground: boolean;
  readonly count: number;
}

export interface SortedShots {
  readonly ground: GroundPoints;
  readonly features: readonly SurveyFeature[];
  /** What each description was taken for, most frequent first. */
  readonly codes: readonly CodeTaken[];
}

const MOST_NAMED = 500;
/** More features than this are lidar classes, not shots: only the first are drawn. */
const MOST_FEATURES = 5_000;
const MOST_CODES = 60;

/** Splits a table whose coordinates are already local feet. Shots that are not ground are listed as left out. */
export function sortShots(
  table: PointTable,
  codes: StudyRequest["survey"]["codes"],
  forced: ReadonlySet<number>,
  notes: IntakeNotes,
): SortedShots {
  const read = descriptionReader(codes);
  const meanings = table.words.map(read);
  const counts = new Uint32Array(table.words.length);
  const bare = read("");
  const isGround = new Uint8Array(table.count);
  const features: SurveyFeature[] = [];
  const { surfaceCount = table.count } = table;
  let groundCount = 0;
  for (let i = 0; i < table.count; i++) {
    const id = table.description[i]!;
    const meaning = id < 0 ? bare : meanings[id]!;
    if (id >= 0) counts[id]!++;
    const row = table.row[i]!;
    if ((meaning.ground && i < surfaceCount) || forced.has(row)) {
      isGround[i] = 1;
      groundCount++;
    } else if (notes.excluded.length < MOST_NAMED)
      notes.excluded.push({
        row,
        reason: meaning.ground ? "no corner of the surface" : `not ground: ${meaning.kind}`,
        ...(id < 0 ? {} : { evidence: shown(table.words[id]!) }),
      });
    if (meaning.kind !== "ground" && meaning.kind !== "ignored" && features.length < MOST_FEATURES)
      features.push(featureOf(table, i, meaning.kind));
  }
  const taken = meanings.map((meaning, id) => ({
    ...meaning,
    description: table.words[id]!,
    count: counts[id]!,
  }));
  noteCodes(taken, notes);
  return {
    ground: pick(table, isGround, groundCount),
    features,
    codes: taken
      .sort((a, b) => b.count - a.count)
      .slice(0, MOST_CODES)
      .map(({ description, kind, ground, count }) => ({
        description: shown(description),
        takenFor: kind,
        ground,
        count,
      })),
  };
}

function featureOf(table: PointTable, i: number, kind: SurveyFeature["kind"]): SurveyFeature {
  const description = table.words[table.description[i]!]!;
  const trunkIn = kind === "tree" ? trunkInches(description) : null;
  return {
    kind,
    at: [table.easting[i]!, table.northing[i]!],
    elevFt: table.elevation[i]!,
    description: shown(description),
    row: table.row[i]!,
    ...(trunkIn === null ? {} : { trunkIn }),
  };
}

type Counted = CodeMeaning & { readonly description: string; readonly count: number };

function noteCodes(taken: readonly Counted[], notes: IntakeNotes): void {
  const inWords = (codes: readonly Counted[]) => {
    const named = codes.slice(0, 8).map(({ description, count }) => `${shown(description)} (${count})`);
    return named.join(", ") + (codes.length > 8 ? ` and ${codes.length - 8} more` : "");
  };
  const unknown = taken.filter(({ known, count }) => !known && count > 0);
  if (unknown.length > 0)
    notes.warnings.push({
      code: "codes-unknown",
      message: `Descriptions not known here were taken for ground: ${inWords(unknown)}.`,
      remedy: "Say what they are in survey.codes.",
    });
  const left = taken.filter(({ ground, count }) => !ground && count > 0);
  if (left.length > 0)
    notes.warnings.push({
      code: "not-ground",
      message: `Not taken for ground: ${inWords(left)}.`,
      remedy: "If any of these lie on the ground, say so to who makes the study (survey.codes.ground).",
    });
}

/** The marked rows of a table as ground points: the columns of the table themselves where all are marked. */
function pick(
  table: Pick<PointTable, "count" | "easting" | "northing" | "elevation" | "row">,
  marks: Uint8Array,
  count: number,
): GroundPoints {
  if (count === table.count)
    return {
      count,
      eastFt: table.easting,
      northFt: table.northing,
      elevFt: table.elevation,
      row: table.row,
    };
  const ground = {
    count,
    eastFt: new Float64Array(count),
    northFt: new Float64Array(count),
    elevFt: new Float64Array(count),
    row: new Int32Array(count),
  };
  for (let i = 0, k = 0; i < table.count; i++) {
    if (!marks[i]) continue;
    ground.eastFt[k] = table.easting[i]!;
    ground.northFt[k] = table.northing[i]!;
    ground.elevFt[k] = table.elevation[i]!;
    ground.row[k++] = table.row[i]!;
  }
  return ground;
}

/** The kept ones of some ground points. */
export function keepMarked(ground: GroundPoints, keep: Uint8Array): GroundPoints {
  let count = 0;
  for (let i = 0; i < keep.length; i++) count += keep[i]!;
  if (count === ground.count) return ground;
  const { eastFt: easting, northFt: northing, elevFt: elevation, row } = ground;
  return pick({ count: ground.count, easting, northing, elevation, row }, keep, count);
}
