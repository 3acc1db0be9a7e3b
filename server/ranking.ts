/** The order of the lots of a comparison: by one number that is named, never by a hidden score. */
import type { ParcelRow } from "./store/comparisons.js";
import type { Summary } from "./summary.js";

export const RANKING_KEYS = {
  "premiumUsd.p50": {
    of: (s: Summary) => s.premiumUsd?.p50 ?? null,
    less: true,
    words: "middle of the extra cost against a flat lot",
  },
  "allInUsd.p50": {
    of: (s: Summary) => s.allInUsd?.p50 ?? null,
    less: true,
    words: "asking price plus the middle of the extra cost",
  },
  buildableFt2: { of: (s: Summary) => s.buildableFt2, less: false, words: "ground left to build on" },
  slopeUnderPadPct: { of: (s: Summary) => s.slopeUnderPadPct, less: true, words: "slope under the house" },
  truckloads: { of: (s: Summary) => s.truckloads, less: true, words: "truckloads" },
} as const;
export type RankingKey = keyof typeof RANKING_KEYS;

export interface Ranking {
  readonly key: RankingKey;
  /** References, best first; equal values keep the order they were sent in. */
  readonly order: readonly string[];
  readonly unrankable: readonly { readonly ref: string; readonly reason: string }[];
}

/** All-in price where every ranked lot has an asking price, otherwise the extra cost. */
export function defaultKey(parcels: readonly ParcelRow[]): RankingKey {
  const known = parcels.flatMap(({ summary }) => (summary ? [summary] : []));
  return known.length > 0 && known.every((s) => s.askingUsd !== null) ? "allInUsd.p50" : "premiumUsd.p50";
}

export function rank(parcels: readonly ParcelRow[], key: RankingKey = defaultKey(parcels)): Ranking {
  const { of, less, words } = RANKING_KEYS[key];
  const rankable: { ref: string; value: number }[] = [];
  const unrankable: { ref: string; reason: string }[] = [];
  for (const { ref, status, summary, problem } of parcels) {
    const value = summary === null ? null : of(summary);
    if (summary === null)
      unrankable.push({
        ref,
        reason: status === "failed" ? (problem?.title ?? "failed") : `not studied: ${status}`,
      });
    else if (summary.verdictCode === "cannot-tell")
      unrankable.push({ ref, reason: "cannot be told from its survey" });
    else if (value === null)
      unrankable.push({
        ref,
        reason:
          summary.verdictCode === "no-room"
            ? "no house of this size fits the rules given"
            : `no value for: ${words}`,
      });
    else rankable.push({ ref, value });
  }
  // The sort is stable, so equal values stay in the order they were sent in.
  rankable.sort((a, b) => (less ? a.value - b.value : b.value - a.value));
  return { key, order: rankable.map(({ ref }) => ref), unrankable };
}
