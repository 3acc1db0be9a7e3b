/** Works off the studies that were asked for with Prefer: respond-async. */
import type { Deps } from "../deps.js";
import { HttpProblem } from "../errors.js";
import { makeAndKeep } from "../study-service.js";
import { isAnswer, problemOf } from "./job-problem.js";
import type { QueuedJob } from "./queue.js";

type JobDeps = Pick<Deps, "store" | "workshop" | "book">;

/** Safe to run twice: a job that has ended is left alone, and its study is written once. */
export async function workStudyJob(deps: JobDeps, { data, lastTry }: QueuedJob): Promise<void> {
  const id = String(data.job);
  const job = await deps.store.jobs.byId(id);
  if (!job || !(await deps.store.jobs.start(id))) return;
  let steps = 0;
  try {
    const submission = await deps.store.surveys.submission(job.surveyId, job.request);
    if (!submission) throw new HttpProblem("not-found", "The survey was deleted before the work began.");
    await makeAndKeep(
      deps,
      {
        submission,
        surveyId: job.surveyId,
        contact: job.contact,
        frame: {
          id: job.studyId,
          token: job.token,
          createdAt: job.createdAt,
          parent: job.parentId,
          ref: job.request.ref ?? null,
        },
      },
      (step) => {
        const done = steps++;
        deps.store.jobs.step(id, step, done).catch(() => {});
      },
    );
    await deps.store.jobs.finish(id);
  } catch (error) {
    if (!lastTry && !isAnswer(error)) throw error;
    await deps.store.jobs.fail(id, problemOf(error, `/v1/jobs/${id}`));
  }
}
