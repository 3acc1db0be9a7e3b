/** Answers a submission: with the study at once, or with a job where the caller would rather not wait. */

import type { RequestInput } from "../analysis/request/index.js";
import type { SurveyFiles } from "../analysis/survey/survey.js";
import type { Deps } from "./deps.js";
import { HttpProblem } from "./errors.js";
import { isId, newId, newToken } from "./ids.js";
import { jobAnswer } from "./job-answer.js";
import { unpacked } from "./send-document.js";
import type { Contact, StudyRow } from "./store/studies.js";
import { INLINE_PARTS, packSurvey } from "./store/surveys.js";
import { contactOf, makeAndKeep } from "./study-service.js";
import { STUDY_STEPS, type Submission } from "./tasks/work.js";

export interface Answer {
  readonly status: 201 | 202;
  readonly location: string;
  /** JSON text: the study, or the job. */
  readonly body: string;
  readonly token: string;
  readonly studyId: string;
  readonly jobId: string | null;
}

type AnswerDeps = Pick<Deps, "store" | "workshop" | "book" | "queue">;

export interface Asked {
  readonly submission: Submission;
  /** The study this is a variant of: its survey is shared. */
  readonly parent?: StudyRow;
  /** Answer 202 and work afterwards. */
  readonly later: boolean;
  /** When it is not part of the request. */
  readonly contact?: Contact | null;
  /** Name of the builder's saved defaults that were laid over the request. */
  readonly defaultsName?: string;
}

/** @throws {HttpProblem} when the survey or the request cannot be used; then nothing is kept. */
export async function answerStudy(
  deps: AnswerDeps,
  { submission: given, parent, later, contact, defaultsName }: Asked,
): Promise<Answer> {
  const { submission, surveyId } = parent
    ? { submission: given, surveyId: parent.surveyId }
    : await withKeptSurvey(deps, given);
  needTopo(submission);
  const [studyId, token] = [newId(), newToken()];
  if (later) {
    const packed = await packSurvey(submission);
    const { contact: sent, ...request } = packed.request;
    const jobId = newId();
    const job = {
      id: jobId,
      stepsTotal: STUDY_STEPS,
      survey: surveyId ? { id: surveyId, packed: null } : { id: newId(), packed },
      request,
      contact: contact ?? contactOf(sent),
      parentId: parent?.id ?? null,
      studyId,
      token,
    };
    await deps.store.jobs.add(job, (query) => deps.queue.send("study", [{ job: jobId }], query));
    deps.queue.wake("study");
    const body = JSON.stringify(jobAnswer((await deps.store.jobs.byId(jobId))!));
    return { status: 202, location: `/v1/jobs/${jobId}`, body, token, studyId, jobId };
  }
  const frame = {
    id: studyId,
    token,
    createdAt: new Date().toISOString(),
    parent: parent?.id ?? null,
    ref: submission.input.ref ?? null,
  };
  const made = await makeAndKeep(deps, {
    submission,
    frame,
    surveyId,
    contact: contact ?? null,
    ...(defaultsName === undefined ? {} : { defaultsName }),
  });
  return {
    status: 201,
    location: `/v1/studies/${studyId}`,
    body: await unpacked(made.documents.study),
    token,
    studyId,
    jobId: null,
  };
}

/** The submission with the survey its `surveyId` names, and that id when the survey is used as it is. */
export async function withKeptSurvey(
  { store }: Pick<Deps, "store">,
  given: Submission,
): Promise<{ submission: Submission; surveyId: string | null }> {
  const { surveyId, ...input } = given.input;
  if (surveyId === undefined) return { submission: given, surveyId: null };
  const kept = isId(surveyId) ? await store.surveys.submission(surveyId, input) : undefined;
  if (!kept)
    throw new HttpProblem("bad-values", "There is no survey with this id.", {
      errors: [
        {
          code: "survey-unknown",
          where: "surveyId",
          message: "There is no survey with this id.",
          remedy: "Upload it with POST /v1/surveys, or send topo and boundary here.",
        },
      ],
    });
  // A file sent beside a kept survey takes the place of the kept one, and makes a survey of its own.
  const sentInline = INLINE_PARTS.filter((part) => input[part] !== undefined);
  const sentFiles = Object.keys(given.files);
  if (sentInline.length === 0 && sentFiles.length === 0) return { submission: kept, surveyId };
  const replaced = new Set<string>([...sentInline, ...sentFiles]);
  const keptInput = Object.fromEntries(
    Object.entries(kept.input).filter(([part]) => !sentFiles.includes(part)),
  ) as RequestInput;
  const keptFiles = Object.fromEntries(Object.entries(kept.files).filter(([part]) => !replaced.has(part)));
  return {
    submission: { input: { ...keptInput, ...input }, files: { ...keptFiles, ...given.files } as SurveyFiles },
    surveyId: null,
  };
}

/** True for the names of survey parts. */
export const isKeptPart = (name: string): boolean => (INLINE_PARTS as readonly string[]).includes(name);

export function needTopo({ input, files }: Submission): void {
  if (input.topo !== undefined || files.topo !== undefined) return;
  throw new HttpProblem("bad-values", "The topographic survey is missing.", {
    errors: [
      {
        code: "topo-missing",
        where: "topo",
        message: "The topographic survey is missing.",
        remedy:
          "Attach the surveyor's points as the file topo (-F topo=@topo.csv), or send `topo` in the JSON.",
      },
    ],
  });
}
