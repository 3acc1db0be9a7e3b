/** Work that outlives the answer: kept in the database by pg-boss, so that a restart picks up where it stopped. */
import PgBoss from "pg-boss";
import type { Database, Query } from "../store/database.js";

export const QUEUES = ["study", "parcel", "webhook"] as const;
export type QueueName = (typeof QUEUES)[number];

export interface QueuedJob {
  readonly id: string;
  readonly data: Readonly<Record<string, string | number>>;
  /** What fails now is not tried again. */
  readonly lastTry: boolean;
}

export interface Queue {
  /** Queues jobs, inside a transaction of the caller's; `wake` after it has ended. */
  readonly send: (
    name: QueueName,
    jobs: readonly QueuedJob["data"][],
    query: Query,
    /** Of each job: the higher is worked first. */
    priorities?: readonly number[],
  ) => Promise<void>;
  /** Takes away every job that names this, whatever its state. */
  readonly forget: (
    named: "job" | "comparison" | "study",
    ids: readonly string[],
    query: Query,
  ) => Promise<void>;
  /** Makes this process look at once instead of at its next poll. */
  readonly wake: (name: QueueName) => void;
  /** Starts working; each handler gets one job at a time. A handler that throws is tried again. */
  readonly work: (
    name: QueueName,
    workers: number,
    handler: (job: QueuedJob) => Promise<void>,
  ) => Promise<void>;
  readonly stop: () => Promise<void>;
}

/** A job whose process was killed is given to another when it should have ended this long ago. */
const GRACE_SECONDS = 20;
/** How often jobs of killed processes are looked for. */
const LOOK_AFTER_KILLED_SECONDS = 30;
const TRIES: Readonly<Record<QueueName, { retryLimit: number; retryDelay: number }>> = {
  study: { retryLimit: 2, retryDelay: 5 },
  parcel: { retryLimit: 2, retryDelay: 5 },
  webhook: { retryLimit: 6, retryDelay: 30 },
};

export async function openQueue(
  db: Database,
  { studySeconds, onError }: { studySeconds: number; onError: (error: Error) => void },
): Promise<Queue> {
  const expireInSeconds = studySeconds + GRACE_SECONDS;
  const boss = new PgBoss({
    db: { executeSql: async (text, values) => ({ rows: await runSql(db, text, values) }) },
    schema: "queue",
    schedule: false,
    maintenanceIntervalSeconds: LOOK_AFTER_KILLED_SECONDS,
  });
  boss.on("error", onError);
  await boss.start();
  for (const name of QUEUES)
    await boss.createQueue(name, {
      name,
      policy: "standard",
      ...TRIES[name],
      retryBackoff: name === "webhook",
      expireInSeconds,
    });
  // The embedded database has one process: whatever it finds at work was at work in one that was killed.
  if (db.kind === "embedded")
    await db.query(
      "update queue.job set state = 'retry', start_after = now() where state = 'active' and retry_count <= retry_limit",
    );
  const workerIds = new Map<QueueName, string[]>();
  return {
    send: async (name, jobs, query, priorities = []) => {
      if (jobs.length === 0) return;
      await boss.insert(
        jobs.map((data, i) => ({
          name,
          data,
          priority: priorities[i] ?? 0,
          ...TRIES[name],
          expireInSeconds,
        })),
        { db: { executeSql: async (text, values) => ({ rows: await query(text, values) }) } },
      );
    },
    forget: async (named, ids, query) => {
      for (const table of ["queue.job", "queue.archive"])
        await query(`delete from ${table} where data->>$1 = any($2::text[])`, [named, ids]);
    },
    wake: (name) => {
      for (const id of workerIds.get(name) ?? []) boss.notifyWorker(id);
    },
    work: async (name, workers, handler) => {
      for (let i = 0; i < workers; i++) {
        const ids = workerIds.get(name) ?? [];
        // One job at a time: with more, a killed process would repeat what it had finished.
        const id = await boss.work<QueuedJob["data"]>(
          name,
          { batchSize: 1, pollingIntervalSeconds: 1, includeMetadata: true },
          async ([job]) => {
            if (!job) return;
            try {
              await handler({ id: job.id, data: job.data, lastTry: job.retryCount >= job.retryLimit });
            } finally {
              // Look for the next job at once instead of at the next poll.
              setImmediate(() => boss.notifyWorker(id));
            }
          },
        );
        workerIds.set(name, [...ids, id]);
      }
    },
    stop: () => boss.stop({ graceful: true, wait: true, timeout: 30_000, close: false }),
  };
}

/** pg-boss sends several statements at once where it has no values; the embedded database takes those apart. */
async function runSql(
  db: Database,
  text: string,
  values: unknown[] | undefined,
): Promise<Record<string, unknown>[]> {
  if (values && values.length > 0) return db.query(text, values);
  if (db.kind === "postgresql") return db.query(text);
  return db.script(text);
}
