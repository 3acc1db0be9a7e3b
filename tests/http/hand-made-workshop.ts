/** A workshop without threads whose studies are the hand-made one of the report tests: for what has nothing to do with numbers. */
import { understandRequest } from "../../analysis/request/index.js";
import type { StudyOutcome } from "../../analysis/study/result.js";
import type { StudyInput } from "../../analysis/study.js";
import { readSurvey } from "../../analysis/survey/index.js";
import { checkSurvey } from "../../server/tasks/check-survey.js";
import { makeStudy } from "../../server/tasks/make-study.js";
import type { Workshop } from "../../server/tasks/work.js";
import { thumbnailPlan } from "../../templates/pages/thumbnail-plan.js";
import { renderPages } from "../../templates/render-report.js";
import { makeFixture } from "../report/fixtures.js";

/** Surveys are really read, so that bad ones are refused; the rest is the fixture under the request as understood. */
async function studyLot({ input, files, onStep }: StudyInput): Promise<StudyOutcome> {
  const { request } = understandRequest(input);
  onStep?.("Reading the survey");
  const reading = await readSurvey({ input, request, files });
  if (!reading.ok) return reading;
  const { study, pictures } = makeFixture();
  const { id: _id, token: _token, createdAt: _at, ...result } = study;
  onStep?.("Weighing what it means");
  return { ok: true, study: { ...result, name: request.name, request }, pictures };
}

export function handMadeWorkshop(replace: Partial<Workshop> = {}): Workshop {
  return {
    study: (task, onStep) =>
      makeStudy(
        task,
        {
          studyLot,
          renderPages,
          thumbnail: (study, pictures) => thumbnailPlan(pictures, study.recommendation.schemeId),
        },
        onStep ?? (() => {}),
      ),
    check: checkSurvey,
    warmUp: async () => {},
    load: () => ({ threads: 1, waiting: 0 }),
    close: async () => {},
    ...replace,
  };
}
