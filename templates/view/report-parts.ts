/** The few shapes every page of the report is made of. */
import type { Pictures, SchemePicture } from "../../analysis/pictures/pictures.js";
import type { SchemeResult, StudyResult } from "../../analysis/study/result.js";
import { areaSample, type LegendEntry } from "../drawings/legend.js";
import type { Picture } from "../drawings/svg.js";
import type { Format } from "./format.js";

export interface ReportStudy extends StudyResult {
  readonly id: string;
  readonly createdAt: string;
  readonly token: string;
}

/** What every page is written from. */
export interface Source {
  readonly study: ReportStudy;
  readonly pictures: Pictures;
  readonly format: Format;
  /** The scheme described in detail: the recommended one, or the first where none is. */
  readonly chosen: SchemeResult | undefined;
  readonly chosenPicture: SchemePicture | undefined;
}

export interface Table {
  readonly caption: string;
  /** False for lists of facts, which need no column names. */
  readonly titled: boolean;
  /** Kept on one printed page. */
  readonly short: boolean;
  readonly columns: readonly string[];
  readonly rows: readonly {
    readonly head: string;
    readonly cells: readonly string[];
  }[];
}

export interface Figure {
  readonly picture: Picture;
  /** Units, scale, what is left out. */
  readonly note: string;
  readonly legend: readonly LegendEntry[];
}

export function figure(picture: Picture, note: string, legend: readonly LegendEntry[] = []): Figure {
  return { picture, note, legend };
}

const SHORT_ROWS = 14;

/** A table, or undefined when it would have no rows. */
export function table(
  caption: string,
  columns: readonly string[],
  rows: readonly (readonly string[] | null)[],
): Table | undefined {
  const kept = rows.filter((row) => row !== null).map(([head, ...cells]) => ({ head: head!, cells }));
  return kept.length > 0
    ? {
        caption,
        short: kept.length <= SHORT_ROWS,
        titled: columns.length > 2 || columns[0] !== "",
        columns,
        rows: kept,
      }
    : undefined;
}

export function schemePicture(pictures: Pictures, id: string | undefined): SchemePicture | undefined {
  return pictures.schemes.find((scheme) => scheme.id === id);
}

/** Below this share the gaps between shots and lot line are too thin to see on a plan. */
const SEEN_GAP_PCT = 0.5;

/** The legend's entry for ground nobody surveyed, where there is enough of it to see. */
export function unsurveyedEntry({ study }: Pick<Source, "study">): LegendEntry[] {
  return study.survey.coveragePct > 100 - SEEN_GAP_PCT
    ? []
    : [{ sample: areaSample("not-surveyed", "unsurveyed"), words: "not surveyed" }];
}

/** Behind a way's name in a chart: the recommended one is chosen; where none is, the one the pages are about is shown. */
export function markOf(id: string, study: Source["study"], chosen: Source["chosen"]): string {
  if (id !== chosen?.id) return "";
  return id === study.recommendation.schemeId ? ", chosen" : ", shown";
}
