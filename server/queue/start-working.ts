/** Starts the workers of this process. */
import { availableParallelism } from "node:os";
import type { Deps } from "../deps.js";
import { workStudyJob } from "./study-jobs.js";

export async function startWorking(deps: Deps, _onError: (error: unknown) => void): Promise<void> {
  const workers = deps.config.threads ?? Math.max(1, availableParallelism());
  await deps.queue.work("study", workers, (job) => workStudyJob(deps, job));
}
