/** A comparison as its caller sees it. */
import { type RankingKey, rank } from "./ranking.js";
import type { AnswerOf } from "./schemas/answers.js";
import type { comparisonSchema } from "./schemas/comparison.js";
import type { ComparisonRow, Counts, ParcelRow } from "./store/comparisons.js";
import type { JobStatus } from "./store/jobs.js";

/** OGC API – Processes vocabulary: failed only when every parcel failed. */
export function comparisonStatus({ dismissed }: Pick<ComparisonRow, "dismissed">, counts: Counts): JobStatus {
  const ended = counts.done + counts.failed + counts.dismissed;
  if (ended < counts.total)
    return counts.running > 0 || counts.done + counts.failed > 0 ? "running" : "accepted";
  if (dismissed && counts.dismissed > 0) return "dismissed";
  return counts.done > 0 ? "successful" : "failed";
}

export function countsOf(parcels: readonly ParcelRow[]): Counts {
  const of = (status: JobStatus) => parcels.filter((p) => p.status === status).length;
  return {
    total: parcels.length,
    done: of("successful"),
    failed: of("failed"),
    dismissed: of("dismissed"),
    running: of("running"),
  };
}

export function comparisonAnswer(
  comparison: ComparisonRow,
  parcels: readonly ParcelRow[],
  key?: RankingKey,
): AnswerOf<typeof comparisonSchema> {
  const counts = countsOf(parcels);
  const self = `/v1/comparisons/${comparison.id}`;
  return {
    id: comparison.id,
    name: comparison.name,
    createdAt: comparison.createdAt,
    finishedAt: comparison.finishedAt,
    status: comparisonStatus(comparison, counts),
    progress: { done: counts.done, failed: counts.failed, total: counts.total },
    parcels: parcels.map(({ ref, name, status, studyId, problem, summary, request, surveyId }) => ({
      ref,
      name,
      status,
      studyId,
      surveyId,
      problem,
      summary,
      request: { ...request },
    })),
    ranking: rank(parcels, key),
    failures: failureCounts(parcels),
    links: {
      self,
      events: `${self}/events`,
      report: `${self}/report`,
      table: `${self}/table.csv`,
      retry: `${self}/retry`,
    },
  };
}

/** How often each kind of problem occurred: a thousand parcels are not read one by one. */
function failureCounts(parcels: readonly ParcelRow[]): Record<string, number> {
  const counts: Record<string, number> = {};
  for (const { problem } of parcels) {
    if (!problem) continue;
    const code = problem.errors[0]?.code ?? problem.type.replace("/problems/", "");
    counts[code] = (counts[code] ?? 0) + 1;
  }
  return counts;
}
