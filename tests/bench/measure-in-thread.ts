/** Runs `measure-lot` in a thread with the memory limits of the service's study threads. Argument: the lot's number. */
import { Worker } from "node:worker_threads";
import { THREAD_LIMITS } from "../../server/tasks/thread-pool.js";

const thread = new Worker(new URL("./measure-lot.js", import.meta.url), {
  argv: process.argv.slice(2),
  resourceLimits: THREAD_LIMITS,
  // as for the service's own threads
  workerData: {},
});
thread.on("error", (error) => {
  throw error;
});
