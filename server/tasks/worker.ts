/** The worker thread: one study or one check at a time. */
import type { MessagePort } from "node:worker_threads";
import type { CostBook } from "../../analysis/book/book.js";
import { MoneyDraws } from "../../analysis/cost/index.js";
import { studyLot } from "../../analysis/study.js";
import { thumbnailPlan } from "../../templates/pages/thumbnail-plan.js";
import { renderPages } from "../../templates/render-report.js";
import { checkSurvey } from "./check-survey.js";
import { makeStudy, type StudyTools } from "./make-study.js";
import { studyInvented } from "./warm-up.js";
import type { CheckMade, StudyMade, StudyTask, Submission } from "./work.js";

/** Prices drawn once serve every study with the same cost book and seed. */
const moneyDraws = new MoneyDraws();

/** The second study of a thread still takes twice the time of later ones. */
const STUDIES_TO_WARM_UP = 2;
/** Made in this thread so far. */
let studies = 0;

const tools: StudyTools = {
  studyLot: (input) => studyLot({ ...input, moneyDraws }),
  renderPages,
  thumbnail: (study, pictures) => thumbnailPlan(pictures, study.recommendation.schemeId),
};

/** Called by the pool by name; `steps` hears the name of each step. */
export async function study({
  task,
  steps,
}: {
  task: StudyTask;
  steps: MessagePort | null;
}): Promise<StudyMade> {
  try {
    const made = await makeStudy(task, tools, (step) => steps?.postMessage(step));
    if (made.ok) studies++;
    return made;
  } finally {
    steps?.close();
  }
}

export function check({ task }: { task: Submission }): Promise<CheckMade> {
  return checkSurvey(task);
}

/** @returns whether the thread is ready; false: it gave way because the service has real tasks in hand. */
export async function warmUp({ book, inHand }: { book: CostBook; inHand: Int32Array }): Promise<boolean> {
  const giveWay = () => Atomics.load(inHand, 0) > 0;
  while (studies < STUDIES_TO_WARM_UP) {
    if (!(await studyInvented(studies, book, tools, giveWay))) return false;
    studies++;
  }
  return true;
}
