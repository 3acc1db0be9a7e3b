/** Studies with their documents, stages and notes. */
import type { RequestInput } from "../../analysis/request/index.js";
import { HttpProblem, problemDocument } from "../errors.js";
import type { StudyFrame } from "../study-document.js";
import type { Summary } from "../summary.js";
import type { DocumentKind, Documents, PageStyles } from "../tasks/work.js";
import { fromBase64, toBase64 } from "./bytes.js";
import type { Database, Query } from "./database.js";
import { forgetAnswers } from "./idempotency.js";
import { insertSurvey, type PackedSurvey, removeSurveys } from "./surveys.js";

/** Where a lead stands, in the builder's words. */
export const STAGES = ["new", "reading", "talking", "walked", "offering", "ours", "passed"] as const;
export type Stage = (typeof STAGES)[number];

export interface Contact {
  readonly name?: string | undefined;
  readonly email?: string | undefined;
  readonly phone?: string | undefined;
  readonly message?: string | undefined;
}

export interface StudyRow {
  readonly id: string;
  readonly token: string;
  readonly createdAt: string;
  readonly name: string;
  readonly surveyId: string;
  readonly parentId: string | null;
  readonly comparisonId: string | null;
  /** As sent, without the survey. */
  readonly request: RequestInput;
  readonly contact: Contact | null;
  readonly stage: Stage;
  readonly summary: Summary;
  readonly used: Readonly<Record<string, unknown>>;
}

export interface NewStudy {
  readonly frame: StudyFrame;
  readonly name: string;
  readonly request: RequestInput;
  readonly contact: Contact | null;
  readonly comparisonId: string | null;
  readonly summary: Summary;
  readonly used: Readonly<Record<string, unknown>>;
  readonly documents: Documents;
  readonly styles: PageStyles;
  /** A survey to be kept with it, or the id of one kept already. */
  readonly survey: { readonly id: string; readonly packed: PackedSurvey | null };
}

export interface Page {
  readonly gzip: Uint8Array;
  /** The hashes of its styles; null where they were not kept. */
  readonly styles: string | null;
}

const DELETED = problemDocument(
  new HttpProblem("not-found", "The study of this parcel was deleted."),
  "/v1/comparisons",
);

/** What the list may be ordered by. Every expression is ours; callers choose a name. */
export const SORTS = {
  newest: { by: "extract(epoch from created_at)", descending: true },
  oldest: { by: "extract(epoch from created_at)", descending: false },
  premium: { by: "(summary->'premiumUsd'->>'p50')::float8", descending: false },
  buildable: { by: "(summary->>'buildableFt2')::float8", descending: true },
  slope: { by: "(summary->>'averageSlopePct')::float8", descending: false },
  truckloads: { by: "(summary->>'truckloads')::float8", descending: false },
} as const;
export type Sort = keyof typeof SORTS;

export interface StudyList {
  readonly stage?: Stage | undefined;
  readonly verdict?: string | undefined;
  /** Words that must all occur in the name, the contact or the notes. */
  readonly search?: string | undefined;
  readonly sort: Sort;
  readonly limit: number;
  /** The last row of the page before. */
  readonly after?: { readonly key: number; readonly id: string } | undefined;
}

const COLUMNS = `id, token, created_at as "createdAt", name, survey_id as "surveyId", parent_id as "parentId",
  comparison_id as "comparisonId", request, contact, stage, summary, used`;

type Stored = Omit<StudyRow, "createdAt"> & { readonly createdAt: Date };
const asRow = (row: Stored): StudyRow => ({ ...row, createdAt: row.createdAt.toISOString() });

/** Sorts last in either direction: lots whose value is unknown must not lead the list. */
const UNKNOWN = 1e300;

export function studiesIn(db: Database) {
  const one = async (where: string, value: string) => {
    const [row] = await db.query<Stored>(`select ${COLUMNS} from studies where ${where} = $1`, [value]);
    return row && asRow(row);
  };
  return {
    /** Returns false when the study is there already: a job that is run twice writes once. */
    add: (study: NewStudy): Promise<boolean> =>
      db.transaction(async (query) => {
        const { frame, survey } = study;
        const there = await query("select 1 from studies where id = $1", [frame.id]);
        if (there.length > 0) return false;
        if (survey.packed) await insertSurvey(query, survey.id, survey.packed, false);
        await query(
          `insert into studies (id, token, created_at, name, survey_id, parent_id, comparison_id, request, contact, summary, used)
           values ($1, $2, $3, $4, $5, $6, $7, $8::jsonb, $9::jsonb, $10::jsonb, $11::jsonb)`,
          [
            frame.id,
            frame.token,
            frame.createdAt,
            study.name,
            survey.id,
            frame.parent,
            study.comparisonId,
            JSON.stringify(study.request),
            study.contact && JSON.stringify(study.contact),
            JSON.stringify(study.summary),
            JSON.stringify(study.used),
          ],
        );
        for (const [kind, bytes] of Object.entries(study.documents))
          await query(
            "insert into documents (study_id, kind, gzip, styles) values ($1, $2, decode($3, 'base64'), $4)",
            [frame.id, kind, toBase64(bytes), study.styles[kind as keyof PageStyles] ?? null],
          );
        return true;
      }),

    byId: (id: string) => one("id", id),
    byToken: (token: string) => one("token", token),

    /** Compressed, as it was written. */
    document: async (id: string, kind: DocumentKind): Promise<Uint8Array | undefined> => {
      const [row] = await db.query<{ gzip: string }>(
        "select encode(gzip, 'base64') as gzip from documents where study_id = $1 and kind = $2",
        [id, kind],
      );
      return row && fromBase64(row.gzip);
    },

    /** The report of a study, by the study's id or by its share token: ready to send. */
    page: async (by: { readonly id: string } | { readonly token: string }): Promise<Page | undefined> => {
      const [kind, where, value] = "id" in by ? ["report", "id", by.id] : ["share", "token", by.token];
      const [row] = await db.query<{ gzip: string; styles: string | null }>(
        `select encode(gzip, 'base64') as gzip, styles from documents
           join studies on studies.id = study_id where kind = $1 and studies.${where} = $2`,
        [kind, value],
      );
      return row && { gzip: fromBase64(row.gzip), styles: row.styles };
    },

    /** Compressed documents of one kind, by study id. */
    documentsOf: async (ids: readonly string[], kind: DocumentKind): Promise<Map<string, Uint8Array>> => {
      const rows = await db.query<{ id: string; gzip: string }>(
        "select study_id as id, encode(gzip, 'base64') as gzip from documents where kind = $1 and study_id = any($2::uuid[])",
        [kind, ids],
      );
      return new Map(rows.map(({ id, gzip }) => [id, fromBase64(gzip)]));
    },

    byIds: async (ids: readonly string[]): Promise<StudyRow[]> =>
      (await db.query<Stored>(`select ${COLUMNS} from studies where id = any($1::uuid[])`, [ids])).map(asRow),

    list: async ({ stage, verdict, search, sort, limit, after }: StudyList) => {
      const { by, descending } = SORTS[sort];
      const key = `coalesce(${by}, ${descending ? -UNKNOWN : UNKNOWN})`;
      const values: unknown[] = [];
      const put = (value: unknown) => `$${values.push(value)}`;
      const where = ["comparison_id is null"];
      if (stage) where.push(`stage = ${put(stage)}`);
      if (verdict) where.push(`summary->>'verdictCode' = ${put(verdict)}`);
      for (const word of (search ?? "").split(/\s+/).filter(Boolean).slice(0, 8)) {
        const pattern = put(`%${word.replace(/[\\%_]/g, "\\$&")}%`);
        where.push(
          `(name ilike ${pattern} or contact::text ilike ${pattern}
            or exists (select 1 from notes where notes.study_id = studies.id and notes.note ilike ${pattern}))`,
        );
      }
      if (after) {
        const [atKey, atId] = [put(after.key), put(after.id)];
        const beyond = descending ? "<" : ">";
        where.push(`(${key}, id) ${beyond} (${atKey}::float8, ${atId}::uuid)`);
      }
      const order = descending ? "desc" : "asc";
      const rows = await db.query<Stored & { key: number }>(
        `select ${COLUMNS}, ${key}::float8 as key from studies where ${where.join(" and ")}
         order by ${key} ${order}, id ${order} limit ${put(limit + 1)}`,
        values,
      );
      const page = rows.slice(0, limit);
      const last = page.at(-1);
      return {
        rows: page.map(({ key: _key, ...row }) => asRow(row)),
        next: rows.length > limit && last ? { key: last.key, id: last.id } : null,
      };
    },

    countByStage: async (): Promise<Partial<Record<Stage, number>>> => {
      const rows = await db.query<{ stage: Stage; count: number }>(
        "select stage, count(*)::int as count from studies where comparison_id is null group by stage",
      );
      return Object.fromEntries(rows.map(({ stage, count }) => [stage, count]));
    },

    /** Moves a lead to a stage, writes a note, or both; the history keeps each. */
    note: (id: string, { stage, note }: { stage?: Stage | undefined; note?: string | undefined }) =>
      db.transaction(async (query) => {
        const [found] = await query("select 1 from studies where id = $1 for update", [id]);
        if (!found) return false;
        if (stage) await query("update studies set stage = $2 where id = $1", [id, stage]);
        await query("insert into notes (study_id, stage, note) values ($1, $2, $3)", [
          id,
          stage ?? null,
          note ?? null,
        ]);
        return true;
      }),

    history: async (id: string) =>
      (
        await db.query<{ at: Date; stage: Stage | null; note: string | null }>(
          "select at, stage, note from notes where study_id = $1 order by id",
          [id],
        )
      ).map((row) => ({ ...row, at: row.at.toISOString() })),

    /**
     * For good: study, report, contact, notes, kept answers, and the survey when nothing else uses it. In a comparison
     * a nameless row is left, that says so. `forgetWork` takes away what the queue knows of it.
     */
    remove: (
      id: string,
      forgetWork: (query: Query, jobs: readonly string[]) => Promise<void>,
    ): Promise<boolean> =>
      db.transaction(async (query) => {
        await query(
          `update parcels set status = 'failed', name = 'deleted', request = '{}', summary = null, survey_id = null,
             problem = $2::jsonb where study_id = $1`,
          [id, JSON.stringify(DELETED)],
        );
        const [row] = await query<{ surveyId: string }>(
          `delete from studies where id = $1 returning survey_id as "surveyId"`,
          [id],
        );
        if (!row) return false;
        const jobs = await query<{ id: string }>("delete from jobs where study_id = $1 returning id", [id]);
        await forgetAnswers(query, [`/v1/studies/${id}`, ...jobs.map((job) => `/v1/jobs/${job.id}`)]);
        await forgetWork(
          query,
          jobs.map((job) => job.id),
        );
        await removeSurveys(query, [row.surveyId]);
        return true;
      }),

    idsOlderThan: async (days: number): Promise<string[]> =>
      (
        await db.query<{ id: string }>(
          "select id from studies where created_at < now() - make_interval(days => $1)",
          [days],
        )
      ).map(({ id }) => id),
  };
}
