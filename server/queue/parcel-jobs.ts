/** Works off the parcels of comparisons. A bad parcel fails alone, with its problem. */
import type { Deps } from "../deps.js";
import { HttpProblem } from "../errors.js";
import { makeAndKeep } from "../study-service.js";
import { isAnswer, problemOf } from "./job-problem.js";
import type { QueuedJob } from "./queue.js";
import { announce } from "./webhook-jobs.js";

type JobDeps = Pick<Deps, "store" | "workshop" | "book" | "queue">;

/** Safe to run twice: the study's id travels with the job, and its result is written once. */
export async function workParcelJob(deps: JobDeps, { data, lastTry }: QueuedJob): Promise<void> {
  const { store } = deps;
  const [id, position] = [String(data.comparison), Number(data.position)];
  const parcel = await store.comparisons.start(id, position);
  if (!parcel) return endOf(deps, id);
  try {
    const submission =
      parcel.surveyId === null ? undefined : await store.surveys.submission(parcel.surveyId, parcel.request);
    if (!submission) throw new HttpProblem("not-found", "The survey was deleted before the work began.");
    const { frame, summary } = await makeAndKeep(deps, {
      submission,
      surveyId: parcel.surveyId,
      comparisonId: id,
      frame: {
        id: String(data.study),
        token: String(data.token),
        createdAt: String(data.createdAt),
        parent: null,
        ref: parcel.ref,
      },
    });
    await store.comparisons.finish(id, position, frame.id, summary);
  } catch (error) {
    // Deleted while it was computed: there is no place for the result any more, and nobody to tell.
    if (!(await store.comparisons.byId(id))) return;
    if (!lastTry && !isAnswer(error)) throw error;
    await store.comparisons.fail(id, position, problemOf(error, `/v1/comparisons/${id}`));
  }
  await endOf(deps, id);
}

async function endOf(deps: JobDeps, id: string): Promise<void> {
  if (!(await deps.store.comparisons.finishIfEnded(id))) return;
  const comparison = await deps.store.comparisons.byId(id);
  if (comparison?.webhook) await announce(deps, id);
}
