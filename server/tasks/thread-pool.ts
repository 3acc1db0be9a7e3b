/** The workshop on worker threads: as many studies at once as there are processors. */
import { MessageChannel, type MessagePort } from "node:worker_threads";
import { Piscina } from "piscina";
import { threadModule } from "../root.js";
import { type CheckMade, type StudyMade, TooBusy, TooHeavy, type Workshop } from "./work.js";

interface PoolLimits {
  readonly threads: number;
  readonly studySeconds: number;
}

/** A study of a million points peaks near 500 MB; past this the thread is ended instead of the process. */
const THREAD_MEMORY_MB = 2048;
/** Most of what a study makes is short-lived: room for it spares an eighth of the time (measured on one-acre lots). */
const THREAD_NURSERY_MB = 64;
/** Waiting studies beyond this are refused with 503 instead of piling up. */
const WAITING_PER_THREAD = 32;
const CHECK_SECONDS = 30;

export function openThreadPool(
  { threads, studySeconds }: PoolLimits,
  onError: (error: unknown) => void,
): Workshop {
  const { url, execArgv } = threadModule("tasks/worker");
  const pool = new Piscina({
    filename: url,
    execArgv,
    minThreads: 1,
    maxThreads: threads,
    maxQueue: threads * WAITING_PER_THREAD,
    idleTimeout: 60_000,
    // geotiff brings a module that takes any thread without workerData for one it started itself.
    workerData: {},
    resourceLimits: { maxOldGenerationSizeMb: THREAD_MEMORY_MB, maxYoungGenerationSizeMb: THREAD_NURSERY_MB },
  });

  // A thread that breaks without a task ends alone, not the process; the next task starts another.
  pool.on("error", onError);

  const run = async <T>(
    name: string,
    payload: object,
    seconds: number,
    transferList: MessagePort[] = [],
  ): Promise<T> => {
    const limit = new AbortController();
    const timer = setTimeout(() => limit.abort(), seconds * 1000);
    try {
      return await pool.run(payload, { name, signal: limit.signal, transferList });
    } catch (error) {
      if (limit.signal.aborted)
        throw new TooHeavy(`It was stopped after ${seconds} seconds.`, { cause: error });
      const { code, message } = error as NodeJS.ErrnoException;
      if (code === "ERR_WORKER_OUT_OF_MEMORY")
        throw new TooHeavy("It needed more memory than a thread may use.", { cause: error });
      if (message === "Task queue is at limit") throw new TooBusy(message, { cause: error });
      throw error;
    } finally {
      clearTimeout(timer);
    }
  };

  return {
    study: async (task, onStep) => {
      if (!onStep) return run<StudyMade>("study", { task, steps: null }, studySeconds);
      const { port1, port2 } = new MessageChannel();
      port1.on("message", onStep);
      try {
        return await run<StudyMade>("study", { task, steps: port2 }, studySeconds, [port2]);
      } finally {
        port1.close();
      }
    },
    check: (task) => run<CheckMade>("check", { task }, Math.min(CHECK_SECONDS, studySeconds)),
    load: () => ({ threads: pool.threads.length, waiting: pool.queueSize }),
    close: () => pool.close({ force: false }),
  };
}
