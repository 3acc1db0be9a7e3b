/** Starts the workers of this process. */
import { availableParallelism } from "node:os";
import type { Deps } from "../deps.js";
import { workParcelJob } from "./parcel-jobs.js";
import type { QueuedJob, QueueName } from "./queue.js";
import { workStudyJob } from "./study-jobs.js";
import { workWebhookJob } from "./webhook-jobs.js";

/** `onError` hears of what broke on our side; the queue tries it again. */
export async function startWorking(deps: Deps, onError: (error: unknown) => void): Promise<void> {
  const threads = deps.config.threads ?? Math.max(1, availableParallelism());
  const work = (name: QueueName, workers: number, handler: (job: QueuedJob) => Promise<void>) =>
    deps.queue.work(name, workers, async (job) => {
      try {
        await handler(job);
      } catch (error) {
        onError(error);
        throw error;
      }
    });
  await work("study", threads, (job) => workStudyJob(deps, job));
  // One more than there are threads: while one writes its result, the next is computing.
  await work("parcel", threads + 1, (job) => workParcelJob(deps, job));
  await work("webhook", 1, (job) => workWebhookJob(deps, job));
}
