/** The flat summary of a study: what a list, a comparison and a table show. Null where unknown, never 0. */

import type { Percentiles } from "../analysis/chance/percentiles.js";
import type { Severity } from "../analysis/findings/finding.js";
import type { SchemeResult, StudyResult } from "../analysis/study/result.js";
import { roundTo, stepFor } from "../analysis/written-number.js";

export interface Summary {
  readonly verdictCode: StudyResult["recommendation"]["verdictCode"];
  /** Codes of the findings that are a concern or a stop. */
  readonly flags: readonly string[];
  readonly worstFinding: {
    readonly code: string;
    readonly severity: Severity;
    readonly title: string;
  } | null;
  readonly schemeId: string | null;
  readonly schemeName: string | null;
  readonly premiumUsd: Percentiles | null;
  readonly totalUsd: Percentiles | null;
  /** Asking price plus premium, when an asking price was given. */
  readonly allInUsd: Percentiles | null;
  readonly askingUsd: number | null;
  readonly areaFt2: number;
  readonly averageSlopePct: number;
  readonly buildableFt2: number;
  readonly slopeUnderPadPct: number | null;
  /** Of the whole job: pad, basement, drive and piers, out and in; the middle of its range. */
  readonly truckloads: number | null;
  readonly monthsTotal: number | null;
  readonly coveragePct: number;
  /** Dotted request paths whose value is a default of ours. */
  readonly assumed: readonly string[];
}

const RANK: Readonly<Record<Severity, number>> = { stop: 3, concern: 2, watch: 1, info: 0 };

export function summarise(study: StudyResult): Summary {
  const best = recommended(study);
  const worst = [...study.findings].sort((a, b) => RANK[b.severity] - RANK[a.severity])[0];
  const asking = study.request.offer.askingUsd;
  const premium = best?.cost.hillsidePremiumUsd ?? null;
  return {
    verdictCode: study.recommendation.verdictCode,
    flags: study.findings.filter((f) => RANK[f.severity] >= RANK.concern).map((f) => f.code),
    worstFinding: worst ? { code: worst.code, severity: worst.severity, title: worst.title } : null,
    schemeId: best?.id ?? null,
    schemeName: best?.name ?? null,
    premiumUsd: premium && { p10: premium.p10, p50: premium.p50, p90: premium.p90 },
    totalUsd: best ? { p10: best.cost.p10Usd, p50: best.cost.p50Usd, p90: best.cost.p90Usd } : null,
    allInUsd:
      premium && asking !== null
        ? { p10: asking + premium.p10, p50: asking + premium.p50, p90: asking + premium.p90 }
        : null,
    askingUsd: asking,
    areaFt2: study.lot.areaFt2,
    averageSlopePct: study.terrain.averageSlope.pct,
    buildableFt2: study.buildable.areaFt2,
    slopeUnderPadPct: best?.slopeUnderHousePct.mean ?? null,
    truckloads: best ? printedLoads(best.cost.hauledLoads) : null,
    monthsTotal: best?.schedule.totalMonths[1] ?? null,
    coveragePct: study.survey.coveragePct,
    assumed: study.request.assumed,
  };
}

/** As page one of the report prints them: rounded to what their range supports. */
function printedLoads({ p10, p50, p90 }: SchemeResult["cost"]["hauledLoads"]): number {
  return roundTo(p50, stepFor(Math.max(1, (p90 - p10) / 4)));
}

/** The scheme the study leads with; with fixed pads and no recommendation, the first. */
export function recommended(
  study: Pick<StudyResult, "schemes" | "recommendation">,
): SchemeResult | undefined {
  const { schemeId } = study.recommendation;
  return study.schemes.find((s) => s.id === schemeId);
}
