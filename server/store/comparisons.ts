/** Comparisons and their parcels. A parcel's row is the whole state of its work, so that a restart loses nothing. */
import type { RequestInput } from "../../analysis/request/index.js";
import type { ProblemDocument } from "../errors.js";
import type { Summary } from "../summary.js";
import type { Database, Query } from "./database.js";
import { forgetAnswers } from "./idempotency.js";
import type { JobStatus } from "./jobs.js";
import { insertSurvey, type PackedSurvey, removeSurveys } from "./surveys.js";

/** Where to say that a comparison has ended, and what the message is signed with. */
export interface Webhook {
  readonly url: string;
  readonly secret: string;
}

export interface ComparisonRow {
  readonly id: string;
  readonly token: string;
  readonly createdAt: string;
  readonly finishedAt: string | null;
  readonly name: string;
  readonly defaults: Partial<RequestInput>;
  readonly webhook: Webhook | null;
  readonly dismissed: boolean;
}

export interface ParcelRow {
  readonly position: number;
  readonly ref: string;
  readonly name: string;
  /** Defaults and the parcel's own request laid over each other, without surveys. */
  readonly request: RequestInput;
  readonly surveyId: string | null;
  readonly status: JobStatus;
  readonly studyId: string | null;
  readonly problem: ProblemDocument | null;
  readonly summary: Summary | null;
}

export interface NewParcel {
  readonly ref: string;
  readonly name: string;
  readonly request: RequestInput;
  readonly survey: { readonly id: string; readonly packed: PackedSurvey | null } | null;
  /** Of a parcel that is refused before any work. */
  readonly problem: ProblemDocument | null;
}

export interface Counts {
  readonly total: number;
  readonly done: number;
  readonly failed: number;
  readonly dismissed: number;
  readonly running: number;
}

export interface ListedComparison extends Pick<Counts, "total" | "done" | "failed"> {
  readonly id: string;
  readonly name: string;
  readonly createdAt: string;
}

const COLUMNS = `id, token, created_at as "createdAt", finished_at as "finishedAt", name, defaults, webhook, dismissed`;
const PARCEL_COLUMNS = `position, ref, name, request, survey_id as "surveyId", status, study_id as "studyId", problem, summary`;

type Stored = Omit<ComparisonRow, "createdAt" | "finishedAt"> & { createdAt: Date; finishedAt: Date | null };

export function comparisonsIn(db: Database) {
  const { query } = db;
  return {
    add: (
      comparison: { id: string; token: string; name: string; defaults: object; webhook: Webhook | null },
      parcels: readonly NewParcel[],
      /** Queues the work in the same transaction: either both are there or neither. */
      enqueue: (query: Query) => Promise<void>,
    ) =>
      db.transaction(async (inTransaction) => {
        await inTransaction(
          "insert into comparisons (id, token, name, defaults, webhook) values ($1, $2, $3, $4::jsonb, $5::jsonb)",
          [
            comparison.id,
            comparison.token,
            comparison.name,
            JSON.stringify(comparison.defaults),
            comparison.webhook && JSON.stringify(comparison.webhook),
          ],
        );
        for (const [position, parcel] of parcels.entries()) {
          if (parcel.survey?.packed)
            await insertSurvey(inTransaction, parcel.survey.id, parcel.survey.packed, false);
          await inTransaction(
            `insert into parcels (comparison_id, position, ref, name, request, survey_id, status, problem)
             values ($1, $2, $3, $4, $5::jsonb, $6, $7, $8::jsonb)`,
            [
              comparison.id,
              position,
              parcel.ref,
              parcel.name,
              JSON.stringify(parcel.request),
              parcel.survey?.id ?? null,
              parcel.problem ? "failed" : "accepted",
              parcel.problem && JSON.stringify(parcel.problem),
            ],
          );
        }
        await enqueue(inTransaction);
      }),

    byId: async (id: string): Promise<ComparisonRow | undefined> => {
      const [row] = await query<Stored>(`select ${COLUMNS} from comparisons where id = $1`, [id]);
      return (
        row && {
          ...row,
          createdAt: row.createdAt.toISOString(),
          finishedAt: row.finishedAt?.toISOString() ?? null,
        }
      );
    },

    /** The newest first, with how far each is. */
    newest: async (limit: number): Promise<ListedComparison[]> =>
      (
        await query<Omit<ListedComparison, "createdAt"> & { createdAt: Date }>(
          `select c.id, c.name, c.created_at as "createdAt", count(*)::int as total,
                  count(*) filter (where p.status = 'successful')::int as done,
                  count(*) filter (where p.status = 'failed')::int as failed
             from (select id, name, created_at from comparisons order by created_at desc, id limit $1) as c
             join parcels as p on p.comparison_id = c.id
            group by c.id, c.name, c.created_at order by c.created_at desc, c.id`,
          [limit],
        )
      ).map((row) => ({ ...row, createdAt: row.createdAt.toISOString() })),

    parcels: (id: string): Promise<ParcelRow[]> =>
      query<ParcelRow>(`select ${PARCEL_COLUMNS} from parcels where comparison_id = $1 order by position`, [
        id,
      ]),

    counts: async (id: string): Promise<Counts> => {
      const [row] = await query<Counts>(
        `select count(*)::int as total,
                count(*) filter (where status = 'successful')::int as done,
                count(*) filter (where status = 'failed')::int as failed,
                count(*) filter (where status = 'dismissed')::int as dismissed,
                count(*) filter (where status = 'running')::int as running
           from parcels where comparison_id = $1`,
        [id],
      );
      return row!;
    },

    /** The parcel, now running; undefined when it was dismissed or has ended. */
    start: async (id: string, position: number): Promise<ParcelRow | undefined> =>
      (
        await query<ParcelRow>(
          `update parcels set status = 'running' where comparison_id = $1 and position = $2
             and status in ('accepted', 'running') returning ${PARCEL_COLUMNS}`,
          [id, position],
        )
      )[0],

    finish: async (id: string, position: number, studyId: string, summary: Summary) => {
      await query(
        `update parcels set status = 'successful', study_id = $3, summary = $4::jsonb, problem = null
           where comparison_id = $1 and position = $2`,
        [id, position, studyId, JSON.stringify(summary)],
      );
    },

    fail: async (id: string, position: number, problem: ProblemDocument) => {
      await query(
        "update parcels set status = 'failed', problem = $3::jsonb where comparison_id = $1 and position = $2",
        [id, position, JSON.stringify(problem)],
      );
    },

    /** Positions that are to run again. */
    retryFailed: async (
      id: string,
      enqueue: (query: Query, positions: readonly number[]) => Promise<void>,
    ): Promise<number[]> =>
      db.transaction(async (inTransaction) => {
        await inTransaction("update comparisons set finished_at = null where id = $1", [id]);
        const rows = await inTransaction<{ position: number }>(
          `update parcels set status = 'accepted', problem = null
             where comparison_id = $1 and status = 'failed' and survey_id is not null returning position`,
          [id],
        );
        const positions = rows.map(({ position }) => position).sort((a, b) => a - b);
        await enqueue(inTransaction, positions);
        return positions;
      }),

    dismiss: (id: string) =>
      db.transaction(async (inTransaction) => {
        await inTransaction("update comparisons set dismissed = true where id = $1", [id]);
        await inTransaction(
          "update parcels set status = 'dismissed' where comparison_id = $1 and status = 'accepted'",
          [id],
        );
      }),

    /** True for the one caller that found the last parcel ended: it may tell the world. */
    finishIfEnded: async (id: string): Promise<boolean> =>
      (
        await query(
          `update comparisons set finished_at = now() where id = $1 and finished_at is null
             and not exists (select 1 from parcels where comparison_id = $1 and status in ('accepted', 'running'))
           returning id`,
          [id],
        )
      ).length > 0,

    /** For good: parcels, studies, reports, kept answers, and the surveys nothing else uses. */
    remove: (id: string, forgetWork: (query: Query) => Promise<void>): Promise<boolean> =>
      db.transaction(async (inTransaction) => {
        const surveys = await inTransaction<{ id: string }>(
          "select distinct survey_id as id from parcels where comparison_id = $1 and survey_id is not null",
          [id],
        );
        const studies = await inTransaction<{ id: string }>(
          "select id from studies where comparison_id = $1",
          [id],
        );
        const rows = await inTransaction("delete from comparisons where id = $1 returning id", [id]);
        await forgetAnswers(inTransaction, [
          `/v1/comparisons/${id}`,
          ...studies.map((study) => `/v1/studies/${study.id}`),
        ]);
        await forgetWork(inTransaction);
        await removeSurveys(
          inTransaction,
          surveys.map((survey) => survey.id),
        );
        return rows.length > 0;
      }),

    idsOlderThan: async (days: number): Promise<string[]> =>
      (
        await query<{ id: string }>(
          "select id from comparisons where created_at < now() - make_interval(days => $1)",
          [days],
        )
      ).map(({ id }) => id),
  };
}
