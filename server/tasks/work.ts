/** What the service asks of its worker threads. Everything here crosses a thread boundary as plain data. */

import type { Problem } from "../../analysis/assumptions.js";
import type { CostBook } from "../../analysis/book/book.js";
import type { RequestInput } from "../../analysis/request/index.js";
import type { SurveyFiles } from "../../analysis/survey/survey.js";
import type { StudyDocument, StudyFrame } from "../study-document.js";
import type { Summary } from "../summary.js";
import type { SurveyCheck } from "../survey-check.js";

/** A request with the survey it speaks of: parts sent inside the JSON in `input`, uploaded ones in `files`. */
export interface Submission {
  readonly input: RequestInput;
  readonly files: SurveyFiles;
}

export interface StudyTask extends Submission {
  readonly book: CostBook;
  readonly frame: StudyFrame;
  /** Of a variant: the study it varies. */
  readonly before: StudyDocument | null;
}

/** Documents of a study, compressed in the thread that made them. */
export type DocumentKind = "study" | "pictures" | "report" | "share" | "thumbnail";
export type Documents = Readonly<Record<DocumentKind, Uint8Array>>;
/** Of the pages among them: the hashes of their styles, for the content security policy. */
export type PageStyles = Readonly<Record<"report" | "share", string>>;

export type StudyMade =
  | {
      readonly ok: true;
      readonly summary: Summary;
      readonly used: Readonly<Record<string, unknown>>;
      readonly documents: Documents;
      readonly styles: PageStyles;
    }
  | { readonly ok: false; readonly problems: readonly Problem[] };

export type CheckMade =
  | { readonly ok: true; readonly check: SurveyCheck }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** The steps of a study, as the caller of a job sees them counted. */
export const STUDY_STEPS = 9;

/** Thrown when a task ran out of its time or memory. */
export class TooHeavy extends Error {}

/** Thrown when more work waits than this machine takes. */
export class TooBusy extends Error {}

/** The machine room: worker threads in the service, the same functions at once in tests. */
export interface Workshop {
  readonly study: (task: StudyTask, onStep?: (step: string) => void) => Promise<StudyMade>;
  readonly check: (submission: Submission) => Promise<CheckMade>;
  /**
   * Makes the threads ready before they are needed; work that comes takes its thread at once or at the next step. Ends when
   * all are ready or have given way, and whatever goes wrong.
   */
  readonly warmUp: (book: CostBook) => Promise<void>;
  /** Share of the threads at work, 0 to 1. */
  readonly load: () => { readonly threads: number; readonly waiting: number };
  readonly close: () => Promise<void>;
}
