/** Takes away what is past its time. */
import type { Deps } from "./deps.js";
import { forgetComparison, forgetStudy } from "./forget.js";
import type { Database } from "./store/database.js";

const EVERY_MS = 60 * 60_000;
/** Surveys a form carried and no study came to use. */
const PASSING_SURVEY_DAYS = 2;
const IDEMPOTENCY_DAYS = 7;
const FRUITLESS_JOB_DAYS = 7;

/**
 * One round. Several processes may do it at once: what is deleted stays deleted.
 * @param stopping asked before each step that may be one of many: the rest is left to the next round
 */
export async function tidyUp(
  deps: Pick<Deps, "store" | "config" | "queue">,
  stopping: () => boolean = () => false,
): Promise<void> {
  const { store, config } = deps;
  const { retentionDays } = config;
  if (retentionDays > 0) {
    for (const id of await store.comparisons.idsOlderThan(retentionDays))
      if (!stopping()) await forgetComparison(deps, id);
    for (const id of await store.studies.idsOlderThan(retentionDays))
      if (!stopping()) await forgetStudy(deps, id);
  }
  if (stopping()) return;
  await store.jobs.removeOlderThan({
    fruitless: FRUITLESS_JOB_DAYS,
    any: retentionDays > 0 ? retentionDays : null,
  });
  await store.surveys.removeUnused({
    passing: PASSING_SURVEY_DAYS,
    kept: retentionDays > 0 ? retentionDays : null,
  });
  await store.idempotency.forgetOlderThan(IDEMPOTENCY_DAYS);
  if (store.db.kind === "embedded") await freeDeleted(store.db, stopping);
}

/**
 * A server does this by itself; the embedded database would keep the place of every deleted row. Table by table:
 * answers go on in between.
 */
async function freeDeleted(db: Database, stopping: () => boolean): Promise<void> {
  const tables = await db.query<{ name: string }>(
    `select format('%I.%I', schemaname, tablename) as name from pg_tables where schemaname in ('public', 'queue')`,
  );
  for (const { name } of tables) if (!stopping()) await db.script(`vacuum ${name}`);
}

/** @returns how to stop; then no more is asked of the database. */
export function startHousekeeping(
  deps: Pick<Deps, "store" | "config" | "queue">,
  onError: (error: unknown) => void,
): () => Promise<void> {
  let stopping = false;
  const tidy = () => tidyUp(deps, () => stopping).catch(onError);
  let round = tidy();
  const timer = setInterval(() => {
    round = tidy();
  }, EVERY_MS);
  timer.unref();
  return async () => {
    stopping = true;
    clearInterval(timer);
    await round;
  };
}
