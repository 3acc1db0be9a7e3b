/** The study as it is kept and answered: the analysis' result with id, token, time and links around it. */
import type { StudyResult } from "../analysis/study/result.js";

export const LAYER_NAMES = [
  "boundary",
  "contours",
  "slope-bands",
  "buildable",
  "schemes",
  "driveways",
  "drainage",
  "catchments",
  "walls",
] as const;
export type LayerName = (typeof LAYER_NAMES)[number];

/** Hashes that say whether two studies may be compared number by number. */
export interface Provenance {
  readonly engineVersion: string;
  readonly costBook: string;
  readonly costBookHash: string;
  readonly rulesHash: string;
}

export interface StudyFrame {
  readonly id: string;
  readonly token: string;
  readonly createdAt: string;
  readonly parent: string | null;
  readonly ref: string | null;
}

export interface StudyLinks {
  readonly self: string;
  readonly report: string;
  readonly share: string;
  readonly pdf: string;
  readonly layers: Readonly<Record<LayerName, string>>;
  readonly quantities: string;
  readonly stakes: string;
  readonly variants: string;
}

export interface StudyDocument extends StudyFrame, StudyResult {
  readonly provenance: Provenance;
  readonly links: StudyLinks;
}

export function linksOf(id: string, token: string): StudyLinks {
  const self = `/v1/studies/${id}`;
  return {
    self,
    report: `${self}/report`,
    share: `/r/${token}`,
    pdf: `${self}/report.pdf`,
    layers: Object.fromEntries(
      LAYER_NAMES.map((name) => [name, `${self}/layers/${name}`]),
    ) as StudyLinks["layers"],
    quantities: `${self}/quantities.csv`,
    stakes: `${self}/stakes.csv`,
    variants: `${self}/variants`,
  };
}

export function studyDocument(frame: StudyFrame, study: StudyResult, provenance: Provenance): StudyDocument {
  const { id, token, createdAt, parent, ref } = frame;
  return { id, token, createdAt, parent, ref, ...study, provenance, links: linksOf(id, token) };
}
