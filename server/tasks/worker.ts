/** The worker thread: one study or one check at a time. */
import type { MessagePort } from "node:worker_threads";
import { MoneyDraws } from "../../analysis/cost/index.js";
import { studyLot } from "../../analysis/study.js";
import { thumbnailPlan } from "../../templates/pages/thumbnail-plan.js";
import { renderPages } from "../../templates/render-report.js";
import { checkSurvey } from "./check-survey.js";
import { makeStudy } from "./make-study.js";
import type { CheckMade, StudyMade, StudyTask, Submission } from "./work.js";

/** Prices drawn once serve every study with the same cost book and seed. */
const moneyDraws = new MoneyDraws();

/** Called by the pool by name; `steps` hears the name of each step. */
export async function study({
  task,
  steps,
}: {
  task: StudyTask;
  steps: MessagePort | null;
}): Promise<StudyMade> {
  try {
    return await makeStudy(
      task,
      {
        studyLot: (input) => studyLot({ ...input, moneyDraws }),
        renderPages,
        thumbnail: (study, pictures) => thumbnailPlan(pictures, study.recommendation.schemeId),
      },
      (step) => steps?.postMessage(step),
    );
  } finally {
    steps?.close();
  }
}

export function check({ task }: { task: Submission }): Promise<CheckMade> {
  return checkSurvey(task);
}
