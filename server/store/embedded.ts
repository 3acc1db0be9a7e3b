/** The embedded database, in a thread of its own: a query must not hold up the answers. */
import { mkdir } from "node:fs/promises";
import { Worker } from "node:worker_threads";
import lockfile from "proper-lockfile";
import { threadModule } from "../root.js";
import type { Database, Query, Row } from "./database.js";
import type { Asked, Question, Reply, ThreadData } from "./embedded-thread.js";

/**
 * Opens the embedded database in a folder, or in memory when `folder` is null.
 * @throws {Error} when another process holds the folder, some seconds later: two would lose rows silently.
 */
export async function openEmbedded(
  folder: string | null,
  waitSeconds: number = LOCK_WAIT_SECONDS,
): Promise<Database> {
  const release = folder === null ? async () => {} : await lockFolder(folder, waitSeconds);
  const { ask, end } = startThread({ folder });
  const queryIn =
    (transaction: number | null): Query =>
    async <T>(sql: string, values: readonly unknown[] = []) =>
      (await ask({ call: "query", sql, values, transaction })) as T[];
  await ask({ call: "query", sql: "select 1", values: [], transaction: null }).catch(
    async (error: unknown) => {
      await release();
      throw error;
    },
  );
  let transactions = 0;
  return {
    kind: "embedded",
    query: queryIn(null),
    script: (sql) => ask({ call: "script", sql }),
    transaction: async (work) => {
      const transaction = ++transactions;
      await ask({ call: "begin", transaction });
      let result: Awaited<ReturnType<typeof work>>;
      try {
        result = await work(queryIn(transaction));
      } catch (error) {
        await ask({ call: "rollback", transaction }).catch(() => {});
        throw error;
      }
      await ask({ call: "commit", transaction });
      return result;
    },
    close: async () => {
      await ask({ call: "close" });
      await end();
      await release();
    },
  };
}

/** A lock that was not renewed for so long belonged to a process that was killed. */
const LOCK_STALE_MS = 10_000;
/** Long enough to tell: the next start after a kill takes over by itself. */
const LOCK_WAIT_SECONDS = 12;

async function lockFolder(folder: string, waitSeconds: number): Promise<() => Promise<void>> {
  await mkdir(folder, { recursive: true });
  const retries = { retries: waitSeconds, factor: 1, minTimeout: 1000, maxTimeout: 1000 };
  const options = { realpath: true, stale: LOCK_STALE_MS, update: LOCK_STALE_MS / 4, retries };
  return lockfile.lock(folder, options).catch((cause) => {
    throw new Error(
      `Another process uses the data folder ${folder}. Stop it, or choose another with LOTBRIEF_DATA.`,
      { cause },
    );
  });
}

interface Waiting {
  readonly resolve: (rows: Row[]) => void;
  readonly reject: (error: unknown) => void;
}

function startThread(data: ThreadData) {
  const { url, execArgv } = threadModule("store/embedded-thread");
  const thread = new Worker(new URL(url), { execArgv, workerData: data });
  const waiting = new Map<number, Waiting>();
  let broken: Error | null = null;
  const breakWith = (error: Error) => {
    broken ??= error;
    for (const { reject } of waiting.values()) reject(error);
    waiting.clear();
  };
  thread.on("error", (cause) => breakWith(new Error("The embedded database broke.", { cause })));
  thread.on("exit", () => breakWith(new Error("The embedded database is closed.")));
  thread.on("message", (reply: Reply) => {
    const one = waiting.get(reply.id);
    waiting.delete(reply.id);
    if ("rows" in reply) one?.resolve(reply.rows);
    else one?.reject(reply.error);
  });
  let questions = 0;
  return {
    ask: (asked: Asked): Promise<Row[]> =>
      new Promise((resolve, reject) => {
        if (broken) return reject(broken);
        const id = ++questions;
        waiting.set(id, { resolve, reject });
        thread.postMessage({ ...asked, id } satisfies Question);
      }),
    end: async () => {
      await thread.terminate();
    },
  };
}
