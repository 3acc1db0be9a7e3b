/** The whole job on one screen: from two surveys to what the land allows. */
import { Drives, surveyReach } from "./access/index.js";
import { listQuantities } from "./bill/index.js";
import type { CostBook } from "./book/book.js";
import { checkOverrides, likelyPrices } from "./book/current-prices.js";
import { type MoneyDraws, priceSchemes } from "./cost/index.js";
import { planDrainage, routeLotWater } from "./drainage/index.js";
import { collectFindings, recommend } from "./findings/index.js";
import { checkLineNumbers, findBuildable } from "./lot/index.js";
import { makePictures } from "./pictures/index.js";
// by name: the index would load the schemas with their library into every thread that studies
import { checkPads } from "./request/check-pads.js";
import type { RequestInput } from "./request/index.js";
import { understandRequest } from "./request/understand.js";
import { planSchedules } from "./schedule/index.js";
import { proposeReachable, settleGarages } from "./schemes/index.js";
import { chooseStructure } from "./structure/index.js";
import type { StudyOutcome } from "./study/result.js";
import { stageAssumptions, writeResult } from "./study/write-result.js";
import { readSurvey, type SurveyFiles } from "./survey/index.js";
import { buildTerrain } from "./terrain/index.js";

export type { StudyOutcome } from "./study/result.js";

export interface StudyInput {
  /** As validated by `requestSchema`. */
  readonly input: RequestInput;
  readonly files: SurveyFiles;
  readonly book: CostBook;
  /** Draws of earlier studies, to be met again where prices and seed are the same. Changes no number. */
  readonly moneyDraws?: MoneyDraws | undefined;
  /** Told the name of each step as it begins. */
  readonly onStep?: (step: string) => void;
}

/** Studies one lot. The same input gives the same outcome, byte for byte. Bad surveys are returned as problems, never thrown. */
export async function studyLot({
  input,
  files,
  book,
  moneyDraws,
  onStep = () => {},
}: StudyInput): Promise<StudyOutcome> {
  const { request, assumptions } = understandRequest(input);
  const unknownPrices = checkOverrides(book, request);
  const refused = [...unknownPrices, ...checkPads(request)];
  if (refused.length > 0) return { ok: false, problems: refused };

  onStep("Reading the survey");
  const reading = await readSurvey({ input, request, files });
  if (!reading.ok) return reading;
  const noSuchLines = checkLineNumbers(reading.survey, request);
  if (noSuchLines.length > 0) return { ok: false, problems: noSuchLines };

  onStep("Shaping the ground");
  const shaped = buildTerrain(reading.survey, request);
  if (!shaped.ok) return shaped;
  const { survey, terrain } = shaped;

  onStep("Taking setbacks and steep ground away");
  const lot = findBuildable(survey, terrain, request);
  const site = { request, survey, terrain, lot };

  onStep("Looking for a way in and for water");
  const reach = surveyReach(site);
  const water = routeLotWater(site);

  onStep("Trying the ways to build");
  const prices = likelyPrices(book, request);
  const drives = new Drives(site, reach);
  const reached = proposeReachable(site, { reach, prices }, drives);

  onStep("Drawing the driveway, the drains and the foundation");
  const drafts = settleGarages(site, { reach, prices }, reached, drives).map(({ design, access }) => {
    const drainage = planDrainage(site, water, design, access);
    const structure = chooseStructure(site, design, access, drainage);
    return {
      design,
      access,
      drainage,
      structure,
      quantities: listQuantities(site, { design, access, drainage, structure }),
    };
  });

  onStep("Adding up money and months");
  const times = planSchedules(site, drafts);
  const costs = priceSchemes(site, drafts, times, book, moneyDraws);
  const schemes = drafts.map((draft, i) => ({ ...draft, cost: costs[i]!, schedule: times[i]!.schedule }));

  onStep("Weighing what it means");
  const findings = collectFindings({ site, water, schemes });
  const recommendation = recommend({ site, water, schemes, findings });
  const pictures = makePictures({ site, water, reach, schemes });
  const { study, measured } = writeResult({
    site,
    water,
    schemes,
    findings,
    recommendation,
    assumptions: [...assumptions, ...stageAssumptions],
  });
  return { ok: true, study, pictures: { ...pictures, measured } };
}
