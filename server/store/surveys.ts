/** Surveys as they were sent: uploaded files, and the parts of a JSON request that are surveys themselves. */
import { promisify } from "node:util";
import { gunzip, gzip } from "node:zlib";
import type { RequestInput } from "../../analysis/request/index.js";
import type { SurveyFiles } from "../../analysis/survey/survey.js";
import type { Submission } from "../tasks/work.js";
import { fromBase64, toBase64 } from "./bytes.js";
import type { Database, Query } from "./database.js";
import { forgetAnswers } from "./idempotency.js";

const pack = promisify(gzip) as (data: Uint8Array | string, options: { level: number }) => Promise<Buffer>;
const unpack = promisify(gunzip) as (data: Uint8Array) => Promise<Buffer>;

export const INLINE_PARTS = ["topo", "boundary", "constraints", "breaklines"] as const;
const INLINE = "inline";

/** Files ready to be written, compressed. */
export interface PackedSurvey {
  readonly parts: readonly { readonly part: string; readonly name: string; readonly gzip: Uint8Array }[];
  /** The request without its surveys. */
  readonly request: RequestInput;
}

/** Takes the surveys out of a submission; the database then keeps request and survey apart, so that variants share one survey. */
export async function packSurvey({ input, files }: Submission): Promise<PackedSurvey> {
  const request: Record<string, unknown> = { ...input };
  const inline: Record<string, unknown> = {};
  for (const part of INLINE_PARTS) {
    if (request[part] !== undefined) inline[part] = request[part];
    delete request[part];
  }
  const parts = await Promise.all(
    Object.entries(files).map(async ([part, file]) => ({
      part,
      name: file.name,
      gzip: await pack(file.bytes, { level: 4 }),
    })),
  );
  if (Object.keys(inline).length > 0)
    parts.push({ part: INLINE, name: "request", gzip: await pack(JSON.stringify(inline), { level: 4 }) });
  return { parts, request: request as RequestInput };
}

export async function insertSurvey(
  query: Query,
  id: string,
  { parts }: PackedSurvey,
  kept: boolean,
): Promise<void> {
  await query("insert into surveys (id, kept) values ($1, $2)", [id, kept]);
  for (const { part, name, gzip: bytes } of parts)
    await query(
      "insert into survey_files (survey_id, part, name, gzip) values ($1, $2, $3, decode($4, 'base64'))",
      [id, part, name, toBase64(bytes)],
    );
}

/** Takes away those nothing uses and nobody asked to keep. */
export async function removeSurveys(query: Query, ids: readonly string[]): Promise<void> {
  await query(
    `delete from surveys where id = any($1::uuid[]) and not kept
       and not exists (select 1 from studies where survey_id = surveys.id)
       and not exists (select 1 from parcels where survey_id = surveys.id)
       and not exists (select 1 from jobs where survey_id = surveys.id)`,
    [ids],
  );
}

export function surveysIn(db: Database) {
  return {
    /** `kept`: stays until retention takes it. Otherwise it goes soon, unless a study comes to use it. */
    add: (id: string, packed: PackedSurvey, kept: boolean) =>
      db.transaction((query) => insertSurvey(query, id, packed, kept)),

    exists: async (id: string) => (await db.query("select 1 from surveys where id = $1", [id])).length > 0,

    /** The submission a request makes with a kept survey; undefined when there is none. */
    submission: async (id: string, request: RequestInput): Promise<Submission | undefined> => {
      const rows = await db.query<{ part: string; name: string; gzip: string }>(
        "select part, name, encode(gzip, 'base64') as gzip from survey_files where survey_id = $1 order by part",
        [id],
      );
      if (rows.length === 0) return undefined;
      const files: Record<string, { name: string; bytes: Uint8Array }> = {};
      let inline: Partial<RequestInput> = {};
      for (const { part, name, gzip: bytes } of rows) {
        const content = await unpack(fromBase64(bytes));
        if (part === INLINE) inline = JSON.parse(content.toString("utf8"));
        else files[part] = { name, bytes: content };
      }
      return { input: { ...inline, ...request }, files: files as SurveyFiles };
    },

    /** Takes back that it was to be kept: it goes now, or with the last study that uses it. False when there is none. */
    letGo: (id: string): Promise<boolean> =>
      db.transaction(async (query) => {
        const rows = await query("update surveys set kept = false where id = $1 and kept returning id", [id]);
        await forgetAnswers(query, [`/v1/surveys/${id}`]);
        await removeSurveys(query, [id]);
        return rows.length > 0;
      }),

    /** Takes away surveys nothing uses: those nobody asked to keep after some days, the others after more. */
    removeUnused: async (days: { readonly passing: number; readonly kept: number | null }) => {
      await db.query(
        `delete from surveys where not exists (select 1 from studies where survey_id = surveys.id)
           and not exists (select 1 from parcels where survey_id = surveys.id)
           and not exists (select 1 from jobs where survey_id = surveys.id and status in ('accepted', 'running'))
           and created_at < now() - make_interval(days => case when kept then $1::int else $2::int end)`,
        [days.kept ?? 100_000, days.passing],
      );
    },
  };
}
