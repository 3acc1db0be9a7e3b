/** The comparison as a table: one row a parcel, blank where unknown. */
import { type Cell, csv } from "./csv.js";
import { rank } from "./ranking.js";
import type { ParcelRow } from "./store/comparisons.js";

const HEADER = [
  ...[
    "ref",
    "name",
    "status",
    "rank",
    "verdict",
    "scheme",
    "premium_p10_usd",
    "premium_p50_usd",
    "premium_p90_usd",
  ],
  ...["asking_usd", "all_in_p10_usd", "all_in_p50_usd", "all_in_p90_usd", "buildable_ft2", "lot_ft2"],
  ...[
    "average_slope_pct",
    "slope_under_house_pct",
    "truckloads",
    "months",
    "coverage_pct",
    "flags",
    "assumed",
  ],
  ...["study_id", "problem", "remedy"],
];

export function comparisonTable(parcels: readonly ParcelRow[]): string {
  const order = new Map(rank(parcels).order.map((ref, i) => [ref, i + 1]));
  const rows = parcels.map(({ ref, name, status, studyId, problem, summary: s }): Cell[] => [
    ref,
    name,
    status,
    order.get(ref),
    s?.verdictCode,
    s?.schemeName,
    s?.premiumUsd?.p10,
    s?.premiumUsd?.p50,
    s?.premiumUsd?.p90,
    s?.askingUsd,
    s?.allInUsd?.p10,
    s?.allInUsd?.p50,
    s?.allInUsd?.p90,
    s?.buildableFt2,
    s?.areaFt2,
    s?.averageSlopePct,
    s?.slopeUnderPadPct,
    s?.truckloads,
    s?.monthsTotal,
    s?.coveragePct,
    s?.flags.join(" "),
    s?.assumed.length,
    studyId,
    problem?.detail,
    problem?.errors[0]?.remedy,
  ]);
  return csv([HEADER, ...rows]);
}
