/** Starts the workers of this process. */
import { availableParallelism } from "node:os";
import type { Deps } from "../deps.js";
import { workParcelJob } from "./parcel-jobs.js";
import { workStudyJob } from "./study-jobs.js";
import { workWebhookJob } from "./webhook-jobs.js";

export async function startWorking(deps: Deps): Promise<void> {
  const workers = deps.config.threads ?? Math.max(1, availableParallelism());
  await deps.queue.work("study", workers, (job) => workStudyJob(deps, job));
  // One more than there are threads: while one writes its result, the next is computing.
  await deps.queue.work("parcel", workers + 1, (job) => workParcelJob(deps, job));
  await deps.queue.work("webhook", 1, (job) => workWebhookJob(deps, job));
}
