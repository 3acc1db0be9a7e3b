/** A study turned into the words and pictures of its report. Nothing is computed here that the study does not say. */
import type { Pictures } from "../../analysis/pictures/pictures.js";
import type { StudyResult } from "../../analysis/study/result.js";
import { sharedPatterns } from "../drawings/shared-patterns.js";
import { accessPage, waterPage } from "./access-water-pages.js";
import { assumptionsPage, cautionsPage, findingsPage } from "./back-pages.js";
import { chosenPage } from "./chosen-page.js";
import { costPage } from "./cost-page.js";
import { type Display, makeFormat } from "./format.js";
import { GLOSSARY } from "./glossary.js";
import { buildablePage, groundPage, surveyPage } from "./ground-pages.js";
import { monthsPage } from "./months-page.js";
import { pageOne } from "./page-one.js";
import { type ReportStudy, type Source, schemePicture } from "./report-parts.js";
import { schemesPage } from "./schemes-page.js";
import { structurePage } from "./structure-page.js";
import { changesBetween, whatIfForm } from "./what-if.js";
import { dateInWords } from "./words.js";

export interface ReportInput {
  readonly study: ReportStudy;
  readonly pictures: Pictures;
  readonly display?: Display;
  /** The study this one was varied from: its differences are marked. */
  readonly before?: StudyResult;
  /** Where the form that varies this study is sent; without it the page holds no form. */
  readonly variantAction?: string;
}

export function viewReport({ study, pictures, display, before, variantAction }: ReportInput) {
  const chosen =
    study.schemes.find((scheme) => scheme.id === study.recommendation.schemeId) ??
    study.schemes.find((s) => s.feasible) ??
    study.schemes[0];
  const source: Source = {
    study,
    pictures,
    format: makeFormat(display ?? study.request.display, pictures.measured),
    chosen,
    chosenPicture: schemePicture(pictures, chosen?.id),
  };
  const pages = {
    survey: surveyPage(source),
    ground: groundPage(source),
    buildable: buildablePage(source),
    schemes: schemesPage(source),
    chosen: chosenPage(source),
    access: accessPage(source),
    water: waterPage(source),
    structure: structurePage(source),
    cost: costPage(source),
    months: monthsPage(source),
    findings: findingsPage(source),
    assumptions: assumptionsPage(source),
    cautions: cautionsPage(source),
  };
  return {
    id: study.id,
    name: study.name,
    date: dateInWords(study.createdAt),
    version: study.version,
    patterns: sharedPatterns(),
    pageOne: pageOne(source),
    changes: before && changesBetween(before, study, source.format),
    whatIf:
      variantAction === undefined
        ? undefined
        : { action: variantAction, fields: whatIfForm(study.request, source.format) },
    ...pages,
    glossary: GLOSSARY,
    contents: contentsOf(pages, chosen?.id === study.recommendation.schemeId),
  };
}

const HEADINGS = {
  survey: "The survey",
  ground: "The ground",
  buildable: "What is left to build on",
  schemes: "Ways to build",
  chosen: "The chosen way",
  access: "The way in",
  water: "Water",
  structure: "What holds the house",
  cost: "Money",
  months: "Months",
  findings: "What to ask, and whom",
  assumptions: "What was assumed",
  method: "How it was worked out",
  cautions: "Cautions",
  glossary: "Words",
} as const;

/** Numbered in the order of the job; pages without content are left out. */
function contentsOf(pages: Partial<Record<keyof typeof HEADINGS, unknown>>, recommended: boolean) {
  const headings = recommended ? HEADINGS : { ...HEADINGS, chosen: "The way shown" };
  const always = new Set(["method", "glossary"]);
  const ids = (Object.keys(HEADINGS) as (keyof typeof HEADINGS)[]).filter(
    (id) => always.has(id) || pages[id] !== undefined,
  );
  return Object.fromEntries(ids.map((id, i) => [id, { id, number: i + 1, heading: headings[id] }]));
}
