/** Studies made, kept and found: what the routes and the queue share. */

import type { Problem } from "../analysis/assumptions.js";
import type { CostBook } from "../analysis/book/book.js";
import { checkOverrides } from "../analysis/book/index.js";
import type { RequestInput } from "../analysis/request/index.js";
import { checkPads, understandRequest } from "../analysis/request/index.js";
import type { Deps } from "./deps.js";
import { HttpProblem, summary } from "./errors.js";
import { newId } from "./ids.js";
import { unpacked } from "./send-document.js";
import type { Contact } from "./store/studies.js";
import { type PackedSurvey, packSurvey } from "./store/surveys.js";
import type { StudyDocument, StudyFrame } from "./study-document.js";
import { type StudyMade, type Submission, TooBusy, TooHeavy } from "./tasks/work.js";

export interface StudyOrder {
  readonly submission: Submission;
  readonly frame: StudyFrame;
  readonly comparisonId?: string;
  /** The id of its survey, when that is kept already. */
  readonly surveyId: string | null;
  /** When it is not part of the request any more. */
  readonly contact?: Contact | null;
  readonly defaultsName?: string;
}

type MakingDeps = Pick<Deps, "store" | "workshop" | "book">;

/**
 * Makes a study and keeps it. Nothing is kept of a lot that is refused.
 * @throws {HttpProblem} 422 with what stands against the survey or the request, 503 when busy.
 */
export async function makeAndKeep(
  deps: MakingDeps,
  { submission, frame, comparisonId, contact: givenContact, defaultsName, surveyId }: StudyOrder,
  onStep?: (step: string) => void,
): Promise<StudyMade & { ok: true; frame: StudyFrame }> {
  const book = await bookFor(deps, submission.input);
  const before = frame.parent === null ? null : await readStudy(deps, frame.parent);
  const made = await runStudy(deps, { ...withoutContact(submission), book, frame, before }, onStep);
  const packed: PackedSurvey = surveyId
    ? { parts: [], request: withoutSurvey(submission.input) }
    : await packSurvey(submission);
  const { contact, ...request } = packed.request;
  await deps.store.studies.add({
    frame,
    name: submission.input.name?.trim() || "Unnamed lot",
    request,
    contact: givenContact ?? contactOf(contact),
    comparisonId: comparisonId ?? null,
    summary: made.summary,
    used: defaultsName === undefined ? made.used : { ...made.used, defaults: defaultsName },
    documents: made.documents,
    styles: made.styles,
    survey: surveyId ? { id: surveyId, packed: null } : { id: newId(), packed },
  });
  return { ...made, frame };
}

/** The document of a study; null when it was deleted. */
export async function readStudy({ store }: Pick<Deps, "store">, id: string): Promise<StudyDocument | null> {
  const gzip = await store.studies.document(id, "study");
  return gzip ? (JSON.parse(await unpacked(gzip)) as StudyDocument) : null;
}

async function runStudy(
  { workshop }: MakingDeps,
  task: Parameters<MakingDeps["workshop"]["study"]>[0],
  onStep?: (step: string) => void,
): Promise<StudyMade & { ok: true }> {
  const made = await orProblem(() => workshop.study(task, onStep));
  if (!made.ok) throw surveyRefused(made.problems);
  return made;
}

/** Runs work in the workshop; its limits become problems the caller can act on. */
export async function orProblem<T>(work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof TooHeavy)
      throw new HttpProblem("study-too-heavy", error.message, {
        errors: [
          {
            where: "topo",
            message: error.message,
            remedy: "Send only the shots on the lot and some 100 ft around it; keep breaklines.",
          },
        ],
      });
    if (error instanceof TooBusy)
      throw new HttpProblem("busy", "More studies are waiting than this machine takes.", {
        headers: { "retry-after": "20" },
      });
    throw error;
  }
}

export function surveyRefused(problems: readonly Problem[]): HttpProblem {
  return new HttpProblem("survey-refused", summary(problems), { errors: problems });
}

/** The cost book a request names, or the default. @throws {HttpProblem} 422 when it is unknown, or a price names no item. */
export async function bookFor(
  { store, book }: Pick<MakingDeps, "store" | "book">,
  input: RequestInput,
): Promise<CostBook> {
  const named = input.costs?.book;
  const chosen = named === undefined || named === book.id ? book : await store.books.get(named);
  if (!chosen)
    throw new HttpProblem("bad-values", `There is no cost book "${named}".`, {
      errors: [
        {
          code: "book-unknown",
          where: "costs.book",
          message: `There is no cost book "${named}".`,
          remedy: "Leave it out to take the default book, or ask the builder for the name of theirs.",
        },
      ],
    });
  const { request } = understandRequest(input);
  const problems = [...checkOverrides(chosen, request), ...checkPads(request)];
  if (problems.length > 0) throw new HttpProblem("bad-values", summary(problems), { errors: problems });
  return chosen;
}

/** Contacts are the builder's business: they never reach the analysis or the study. */
function withoutContact({ input, files }: Submission): Submission {
  const { contact: _contact, ...rest } = input;
  return { input: rest, files };
}

function withoutSurvey(input: RequestInput): RequestInput {
  const { topo: _t, boundary: _b, constraints: _c, breaklines: _l, ...rest } = input;
  return rest;
}

export function contactOf(contact: RequestInput["contact"]): Contact | null {
  return contact && Object.values(contact).some((value) => value) ? contact : null;
}
