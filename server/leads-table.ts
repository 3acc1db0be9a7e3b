/** Leads as a table for a spreadsheet. */
import { type Cell, csv } from "./csv.js";
import type { StudyRow } from "./store/studies.js";

const HEADER = [
  ...[
    "id",
    "created_at",
    "name",
    "stage",
    "contact_name",
    "contact_email",
    "contact_phone",
    "message",
    "verdict",
    "worst_finding",
  ],
  ...[
    "scheme",
    "premium_p10_usd",
    "premium_p50_usd",
    "premium_p90_usd",
    "asking_usd",
    "lot_ft2",
    "buildable_ft2",
  ],
  ...["average_slope_pct", "truckloads", "months", "coverage_pct", "cost_book", "share"],
];

export function leadsTable(rows: readonly StudyRow[]): string {
  return csv([
    HEADER,
    ...rows.map(({ id, createdAt, name, stage, contact, summary: s, used, token }): Cell[] => [
      id,
      createdAt,
      name,
      stage,
      contact?.name,
      contact?.email,
      contact?.phone,
      contact?.message,
      s.verdictCode,
      s.worstFinding?.title,
      s.schemeName,
      s.premiumUsd?.p10,
      s.premiumUsd?.p50,
      s.premiumUsd?.p90,
      s.askingUsd,
      s.areaFt2,
      s.buildableFt2,
      s.averageSlopePct,
      s.truckloads,
      s.monthsTotal,
      s.coveragePct,
      String(used.costBook ?? ""),
      `/r/${token}`,
    ]),
  ]);
}
