/** The question "what if", and its answer: one study beside the study it was varied from. */
import type { StudyRequest } from "../../analysis/request/request.js";
import type { StudyResult } from "../../analysis/study/result.js";
import { type Format, months } from "./format.js";
import { table } from "./report-parts.js";
import { KIND_WORDS } from "./words.js";

export interface WhatIfField {
  /** Dotted path in the request, and the name of the form field. */
  readonly path: string;
  readonly name: string;
  /** The request's own unit, in which the form asks. */
  readonly unit?: "%" | "ft" | "ft²" | "in/h";
  readonly value: string;
  readonly min?: number;
  readonly max?: number;
  readonly step?: number;
  readonly options?: readonly { readonly value: string; readonly words: string; readonly chosen: boolean }[];
}

const BASEMENT_WORDS = {
  none: "no basement",
  daylight: "open on the downhill side",
  full: "in the ground on all sides",
  either: "try both",
} as const;

/** What a reader may change: values of the study's own request, in the request's units. */
function whatIfFields(request: StudyRequest): WhatIfField[] {
  const { rules, brief, soil, costs } = request;
  const setbacks = Object.entries(rules.setbacksFt).flatMap(([side, ft]): WhatIfField[] =>
    typeof ft === "number"
      ? [
          {
            path: `rules.setbacksFt.${side}`,
            name: side === "all" ? "Setback on all sides" : `Setback, ${side}`,
            unit: "ft",
            value: String(ft),
            min: 0,
            max: 500,
            step: 0.5,
          },
        ]
      : [],
  );
  return [
    {
      path: "rules.slopeLimitPct",
      name: "Steepest ground that counts",
      unit: "%",
      value: String(rules.slopeLimitPct),
      min: 1,
      max: 200,
      step: 1,
    },
    ...setbacks,
    {
      path: "brief.floorAreaFt2",
      name: "House floor area",
      unit: "ft²",
      value: String(brief.floorAreaFt2),
      min: 400,
      max: 20_000,
      step: 50,
    },
    {
      path: "brief.basement",
      name: "Basement",
      value: brief.basement,
      options: Object.entries(BASEMENT_WORDS).map(([value, words]) => ({
        value,
        words,
        chosen: value === brief.basement,
      })),
    },
    {
      path: "rules.rainfall.inPerHr10yr",
      name: "10-year rain",
      unit: "in/h",
      value: String(rules.rainfall.inPerHr10yr),
      min: 0.1,
      max: 30,
      step: 0.1,
    },
    {
      path: "soil.depthToRockFt",
      name: "Depth to rock (empty: unknown)",
      unit: "ft",
      value: soil.depthToRockFt === null ? "" : String(soil.depthToRockFt),
      min: 0,
      max: 200,
      step: 0.5,
    },
    {
      path: "costs.regionFactor",
      name: "Prices against coastal California",
      value: String(costs.regionFactor),
      min: 0.2,
      max: 3,
      step: 0.05,
    },
  ];
}

/** The form as a reader sees it: it asks in the request's units, and tells metric readers what stands there now. */
export function whatIfForm(request: StudyRequest, format: Format) {
  return whatIfFields(request).map((field) => {
    const asked = field.unit ? `${field.name}, ${field.unit}` : field.name;
    const now = format.metric && field.unit && field.unit !== "%" && field.value;
    return { ...field, label: now ? `${asked} (now ${format.withUnit(field.value, field.unit)})` : asked };
  });
}

/** What was changed, and what came of it; rows that stayed the same are left out. */
export function changesBetween(before: StudyResult, now: StudyResult, format: Format) {
  const rows = (request: StudyRequest) =>
    whatIfFields(request).map(
      ({ path, name, unit, value }): Row => [
        path,
        name,
        value && unit ? format.withUnit(value, unit) : value,
      ],
    );
  const asked = differing(rows(before.request), rows(now.request));
  const answered = differing(answers(before, format), answers(now, format));
  return {
    asked: table("What you changed", ["", "Before", "Now"], asked),
    answered: table("What came of it", ["", "Before", "Now"], answered),
    same: answered.length === 0,
  };
}

type Row = readonly [key: string, label: string, value: string];

function differing(before: readonly Row[], now: readonly Row[]): string[][] {
  const was = new Map(before.map(([key, , value]) => [key, value]));
  return now
    .filter(([key, , value]) => was.get(key) !== value)
    .map(([key, label, value]) => [label, was.get(key) || "not known", value || "not known"]);
}

function answers(study: StudyResult, format: Format): Row[] {
  const best = study.schemes.find((scheme) => scheme.id === study.recommendation.schemeId);
  const shown = (key: string, label: string, value: string | undefined): Row => [
    key,
    label,
    value ?? "no way fits",
  ];
  return [
    ["verdict", "Verdict", study.recommendation.verdict],
    ["left", "Ground left to build on", format.area(study.buildable.areaFt2)],
    shown("way", "Best way to build", best && `${best.name}: ${KIND_WORDS[best.kind]}`),
    shown("steep", "Steepness under the house", best && format.percent(best.slopeUnderHousePct.mean)),
    shown("loads", "Truckloads on the road", best && format.count(best.cost.hauledLoads.p50)),
    shown("premium", "Extra cost against flat land", best && format.money(best.cost.hillsidePremiumUsd.p50)),
    shown("total", "Whole job", best && format.money(best.cost.p50Usd)),
    shown("months", "Months until the frame can start", best && months(best.schedule.untilFrameMonths[1])),
  ];
}
