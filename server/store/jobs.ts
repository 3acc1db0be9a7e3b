/** Studies that are worked on after the answer: the job's row is what the caller polls. */
import type { RequestInput } from "../../analysis/request/index.js";
import type { ProblemDocument } from "../errors.js";
import type { Database, Query } from "./database.js";
import type { Contact } from "./studies.js";
import { insertSurvey, type PackedSurvey } from "./surveys.js";

/** OGC API – Processes – Part 1 (18-062r2), statusCode. */
export type JobStatus = "accepted" | "running" | "successful" | "failed" | "dismissed";

export interface JobRow {
  readonly id: string;
  readonly createdAt: string;
  readonly status: JobStatus;
  readonly message: string;
  readonly stepsDone: number;
  readonly stepsTotal: number;
  readonly surveyId: string;
  readonly request: RequestInput;
  readonly contact: Contact | null;
  readonly parentId: string | null;
  readonly studyId: string;
  readonly token: string;
  readonly problem: ProblemDocument | null;
}

export interface NewJob {
  readonly id: string;
  readonly stepsTotal: number;
  readonly survey: { readonly id: string; readonly packed: PackedSurvey | null };
  readonly request: RequestInput;
  readonly contact: Contact | null;
  readonly parentId: string | null;
  /** Chosen before the work starts, so that running it twice writes one study. */
  readonly studyId: string;
  readonly token: string;
}

const COLUMNS = `id, created_at as "createdAt", status, message, steps_done as "stepsDone", steps_total as "stepsTotal",
  survey_id as "surveyId", request, contact, parent_id as "parentId", study_id as "studyId", token, problem`;

export function jobsIn(db: Database) {
  return {
    /** `enqueue` runs in the same transaction: either row and work are there or neither. */
    add: (job: NewJob, enqueue: (query: Query) => Promise<void>) =>
      db.transaction(async (query) => {
        if (job.survey.packed) await insertSurvey(query, job.survey.id, job.survey.packed, false);
        await query(
          `insert into jobs (id, steps_total, survey_id, request, contact, parent_id, study_id, token)
           values ($1, $2, $3, $4::jsonb, $5::jsonb, $6, $7, $8)`,
          [
            job.id,
            job.stepsTotal,
            job.survey.id,
            JSON.stringify(job.request),
            job.contact && JSON.stringify(job.contact),
            job.parentId,
            job.studyId,
            job.token,
          ],
        );
        await enqueue(query);
      }),

    byId: async (id: string): Promise<JobRow | undefined> => {
      const [row] = await db.query<Omit<JobRow, "createdAt"> & { createdAt: Date }>(
        `select ${COLUMNS} from jobs where id = $1`,
        [id],
      );
      return row && { ...row, createdAt: row.createdAt.toISOString() };
    },

    /** False when the job was dismissed or has ended: then nothing more is to be done. */
    start: async (id: string): Promise<boolean> =>
      (
        await db.query(
          "update jobs set status = 'running', steps_done = 0 where id = $1 and status in ('accepted', 'running') returning id",
          [id],
        )
      ).length > 0,

    step: async (id: string, message: string, stepsDone: number) => {
      await db.query("update jobs set message = $2, steps_done = $3 where id = $1 and status = 'running'", [
        id,
        message,
        stepsDone,
      ]);
    },

    finish: async (id: string) => {
      await db.query(
        "update jobs set status = 'successful', message = 'Done', steps_done = steps_total where id = $1",
        [id],
      );
    },

    fail: async (id: string, problem: ProblemDocument) => {
      await db.query("update jobs set status = 'failed', message = $2, problem = $3::jsonb where id = $1", [
        id,
        problem.title,
        JSON.stringify(problem),
      ]);
    },

    countOpen: async (): Promise<number> => {
      const [row] = await db.query<{ open: number }>(
        `select (select count(*) from jobs where status in ('accepted', 'running'))::int
              + (select count(*) from parcels where status in ('accepted', 'running'))::int as open`,
      );
      return row!.open;
    },

    /** `fruitless`: those that ended without a study hold a contact nobody can delete by its study. */
    removeOlderThan: async (days: { readonly fruitless: number; readonly any: number | null }) => {
      await db.query(
        `delete from jobs where created_at < now() - make_interval(days =>
           case when status in ('failed', 'dismissed') then $1::int else $2::int end)`,
        [days.fruitless, days.any ?? 100_000],
      );
    },

    /** False when it has ended already. */
    dismiss: async (id: string): Promise<boolean> =>
      (
        await db.query(
          "update jobs set status = 'dismissed', message = 'Dismissed' where id = $1 and status in ('accepted', 'running') returning id",
          [id],
        )
      ).length > 0,
  };
}
