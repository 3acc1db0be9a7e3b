/** The last builder's pages: findings, assumptions, cautions. */
import type { Source } from "./report-parts.js";
import { table } from "./report-parts.js";
import { SEVERITY_WORDS } from "./words.js";

const ORDER = ["stop", "concern", "watch", "info"] as const;
const BASIS_WORDS = {
  survey: "from the survey",
  "rule given": "from what you typed",
  assumed: "nobody said; taken as unknown or assumed",
} as const;

export function findingsPage({ study, format }: Source) {
  const name = new Map(study.schemes.map((s) => [s.id, s.name]));
  const groups = ORDER.flatMap((severity) => {
    const found = study.findings.filter((f) => f.severity === severity);
    if (found.length === 0) return [];
    return [
      {
        ...SEVERITY_WORDS[severity],
        severity,
        count: found.length,
        findings: found.map((f) => ({
          code: f.code,
          title: f.title,
          detail: f.detail,
          measured: measured(f.measured, f.unit, format),
          threshold: f.threshold === null ? undefined : measured(f.threshold, shortUnit(f.unit), format),
          basis: BASIS_WORDS[f.basis],
          affects:
            f.affects.length > 0 && f.affects.length < study.schemes.length
              ? f.affects.map((id) => name.get(id) ?? id).join(", ")
              : undefined,
          next: f.next,
          who: f.who,
          source: f.source,
        })),
      },
    ];
  });
  return groups.length > 0 ? { groups, flipsIf: study.recommendation.flipsIf } : undefined;
}

function measured(value: number | string | null, unit: string, format: Source["format"]): string {
  if (value === null) return "not measured";
  if (typeof value === "string") return value;
  if (unit === "USD") return format.money(value);
  const doubt = Math.abs(value) >= 1000 ? 50 : Math.abs(value) >= 100 ? 1 : 0.1;
  return `${format.number(value, doubt).replace(/\.0$/, "")}${unit ? ` ${unit}` : ""}`;
}

/** The unit without the words that say what was measured: "ft of cut" is "ft". */
function shortUnit(unit: string): string {
  return /^(ft|ft²|in|%|yd³)\b|^%/.test(unit) ? unit.split(/[ ,]/)[0]! : unit;
}

export function assumptionsPage({ study, format }: Source) {
  return table(
    "What was assumed",
    ["What", "Value", "Where it comes from", "How to change it"],
    study.assumptions.map((a) => [
      a.name,
      assumed(typeof a.value === "number" ? format.given(a.value) : a.value, a.unit),
      a.origin,
      a.changeWith ?? "fixed",
    ]),
  );
}

function assumed(value: string, unit: string): string {
  if (unit === "ft/ft") return `${value} to 1`;
  if (unit === "×") return `× ${value}`;
  return unit ? `${value} ${unit}` : value;
}

/** Dangers of the ground works and limits of this look; those of the chosen structure are added. */
export function cautionsPage({ chosen }: Source) {
  const cautions = new Set<string>([
    "This is a first look from two drawings. Nobody has stood on the land. Nothing may be dug, built or staked from it.",
    "Lines are as typed or drawn in the files. Only a licensed land surveyor can say where a lot line is.",
    "Whether a hill moves is for a soils engineer or geologist to say, on the ground.",
    "Local codes and officials decide; published model codes are named only to show where a number comes from.",
    "Open pits and trenches bury people. Anything 5 ft deep or more needs a protective system unless it stands in solid rock, and over 20 ft a registered engineer designs it (29 CFR 1926.652).",
    "Open pier holes kill. They are covered, marked and fenced or filled the same day; nobody enters one.",
    "Before any digging, call the free utility locating service (811 in the United States).",
    "Concrete hides mistakes. Three people write before it is poured: the surveyor that the forms are in the right place, the soils engineer that the ground is what the report promised, the structural engineer that the steel is right.",
    ...(chosen?.structure.cautions ?? []),
  ]);
  return [...cautions];
}
