/** The workshop on worker threads: as many studies at once as there are processors. */
import { setTimeout as sleep } from "node:timers/promises";
import { MessageChannel, type MessagePort } from "node:worker_threads";
import { Piscina } from "piscina";
import { threadModule } from "../root.js";
import { type CheckMade, type StudyMade, TooBusy, TooHeavy, type Workshop } from "./work.js";

interface PoolLimits {
  readonly threads: number;
  /** How many of them stay when there is nothing to do, and are warmed up. */
  readonly kept: number;
  readonly studySeconds: number;
}

/** Memory of a study thread; its effects measured on one-acre lots. */
export const THREAD_LIMITS = {
  /**
   * A study of a million points peaks near 500 MB; past this the thread is ended instead of the process. With half of it a
   * thread holds 60 MB less, but V8 collects so early and so often that studies take two fifths longer.
   */
  maxOldGenerationSizeMb: 2048,
  /** Most of what a study makes is short-lived. More room saves no time that can be told from noise: with 64 a thread holds some 60 MB more. With 16, studies take a twentieth longer. */
  maxYoungGenerationSizeMb: 24,
} as const;
/** Waiting studies beyond this are refused with 503 instead of piling up. */
const WAITING_PER_THREAD = 32;
const CHECK_SECONDS = 30;
/** Nobody asked for so long: time to warm up. */
const QUIET_MS = 500;
const WARM_UP = "warmUp";

type LoadBalancer = NonNullable<NonNullable<ConstructorParameters<typeof Piscina>[0]>["loadBalancer"]>;

export function openThreadPool(
  { threads, kept, studySeconds }: PoolLimits,
  onError: (error: unknown) => void,
): Workshop {
  let closing = false;
  const { url, execArgv } = threadModule("tasks/worker");
  const pool = new Piscina({
    filename: url,
    execArgv,
    minThreads: kept,
    maxThreads: threads,
    maxQueue: threads * WAITING_PER_THREAD,
    idleTimeout: 60_000,
    loadBalancer: practisedFirst(),
    // geotiff brings a module that takes any thread without workerData for one it started itself.
    workerData: {},
    resourceLimits: THREAD_LIMITS,
  });

  // A thread that breaks without a task ends alone, not the process; the next task starts another.
  pool.on("error", onError);

  /** Number of real tasks that have not ended, for threads that are warming up to see. */
  const inHand = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  const quiet = async () => {
    do await sleep(QUIET_MS);
    while (Atomics.load(inHand, 0) > 0 && !closing);
  };

  const run = async <T>(
    name: string,
    payload: object,
    seconds: number,
    transferList: MessagePort[] = [],
  ): Promise<T> => {
    const limit = new AbortController();
    const timer = setTimeout(() => limit.abort(), seconds * 1000);
    Atomics.add(inHand, 0, 1);
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
      Atomics.sub(inHand, 0, 1);
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
    warmUp: async (book) => {
      // One after the other: work that comes finds the rest free.
      for (let ready = 0; ready < kept; ) {
        await quiet();
        if (closing) return;
        const gaveWay = await pool.run({ book, inHand }, { name: WARM_UP }).then((done) => !done, onError);
        if (!gaveWay) ready++;
      }
    },
    load: () => ({ threads: pool.threads.length, waiting: pool.queueSize }),
    close: () => {
      // What is warming up ends; what is real is finished.
      closing = true;
      Atomics.add(inHand, 0, 1);
      return pool.close({ force: false });
    },
  };
}

/** Of the free threads work goes to the one that has done most, a warm-up to the one that has done least. */
function practisedFirst(): LoadBalancer {
  const done = new Map<number, number>();
  const tasks = ({ id }: { readonly id: number }) => done.get(id) ?? 0;
  return ({ name }, threads) => {
    const free = threads.filter(({ currentUsage, terminating }) => currentUsage === 0 && !terminating);
    const better = name === WARM_UP ? -1 : 1;
    const [thread = null] = free.sort((a, b) => better * (tasks(b) - tasks(a)));
    if (thread) done.set(thread.id, tasks(thread) + 1);
    return thread;
  };
}
