/** A job as its caller sees it. */
import type { AnswerOf, jobSchema } from "./schemas/answers.js";
import type { JobRow } from "./store/jobs.js";
import { linksOf } from "./study-document.js";

export function jobAnswer(job: JobRow): AnswerOf<typeof jobSchema> {
  const self = `/v1/jobs/${job.id}`;
  const done = job.status === "successful";
  return {
    id: job.id,
    status: job.status,
    progress: Math.round((100 * job.stepsDone) / job.stepsTotal),
    message: job.message,
    createdAt: job.createdAt,
    studyId: done ? job.studyId : null,
    problem: job.problem,
    links: {
      self,
      events: `${self}/events`,
      study: done ? `/v1/studies/${job.studyId}` : null,
      report: done ? `/v1/studies/${job.studyId}/report` : null,
      share: done ? linksOf(job.studyId, job.token).share : null,
    },
  };
}
