/** From a submission to everything that is kept of a study. Runs in a worker thread. */
import { createHash } from "node:crypto";
import { gzipSync } from "node:zlib";
import type { Pictures } from "../../analysis/pictures/pictures.js";
import type { StudyOutcome, StudyResult } from "../../analysis/study/result.js";
import type { StudyInput } from "../../analysis/study.js";
import type { renderPages } from "../../templates/render-report.js";
import { styleHashes } from "../security.js";
import { type Provenance, type StudyDocument, studyDocument } from "../study-document.js";
import { summarise } from "../summary.js";
import type { StudyMade, StudyTask } from "./work.js";

/** The parts a test may replace. */
export interface StudyTools {
  readonly studyLot: (input: StudyInput) => Promise<StudyOutcome>;
  readonly renderPages: typeof renderPages;
  readonly thumbnail: (study: StudyDocument, pictures: Pictures) => string;
}

export async function makeStudy(
  { input, files, book, frame, before }: StudyTask,
  tools: StudyTools,
  onStep: (step: string) => void,
): Promise<StudyMade> {
  const outcome = await tools.studyLot({ input, files, book, onStep });
  if (!outcome.ok) return outcome;

  onStep("Writing the report");
  const provenance = provenanceOf(outcome.study, book);
  const document = studyDocument(frame, outcome.study, provenance);
  const view = { study: document, pictures: outcome.pictures, ...(before ? { before } : {}) };
  const pages = tools.renderPages(view, `${document.links.share}/variants`);
  const report = pages.report;
  const share = withScript(pages.share);
  return {
    ok: true,
    summary: summarise(outcome.study),
    used: { ...provenance },
    documents: {
      study: pack(JSON.stringify(document)),
      pictures: pack(JSON.stringify(outcome.pictures)),
      report: pack(report),
      share: pack(share),
      thumbnail: pack(tools.thumbnail(document, outcome.pictures)),
    },
    styles: { report: styleHashes(report), share: styleHashes(share) },
  };
}

/** Only the page behind the link asks "what if" and has a script: a saved report stays one file that needs nothing. */
function withScript(html: string): string {
  return html.replace("</head>", '<script src="/assets/what-if.js" defer></script></head>');
}

function provenanceOf(study: StudyResult, book: StudyTask["book"]): Provenance {
  return {
    engineVersion: study.version,
    costBook: book.id,
    costBookHash: hash(book),
    rulesHash: hash([study.request.rules, study.request.soil, study.request.haul, study.request.costs]),
  };
}

/** Twelve hexadecimal digits tell books and rules apart; nobody needs to defend them against forgery. */
function hash(value: unknown): string {
  return createHash("sha256").update(JSON.stringify(value)).digest("hex").slice(0, 12);
}

/** Level 4: half the time of the default for a few percent more bytes. */
function pack(text: string): Uint8Array {
  return gzipSync(text, { level: 4 });
}
