/** The last builder's pages: findings, assumptions, cautions. */
import type { Assumption } from "../../analysis/assumptions.js";
import type { Finding } from "../../analysis/findings/finding.js";
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
          detail: format.say(f.detail),
          measured: `${byAHair(f, format)}${amount(f.measured, f.unit, format)}`,
          threshold: f.threshold === null ? undefined : amount(f.threshold, shortUnit(f.unit), format),
          basis: BASIS_WORDS[f.basis],
          affects:
            f.affects.length > 0 && f.affects.length < study.schemes.length
              ? f.affects.map((id) => name.get(id) ?? id).join(", ")
              : undefined,
          next: format.say(f.next),
          who: f.who,
          source: format.say(f.source),
        })),
      },
    ];
  });
  return groups.length > 0 ? { groups, flipsIf: study.recommendation.flipsIf.map(format.say) } : undefined;
}

/** Where both numbers are written alike, on which side of the limit it lies. */
function byAHair({ measured, threshold, unit }: Finding, format: Source["format"]): string {
  if (typeof measured !== "number" || typeof threshold !== "number" || measured === threshold) return "";
  const written = (value: number) => amount(value, shortUnit(unit), format);
  if (written(measured) !== written(threshold)) return "";
  return measured > threshold ? "just over " : "just under ";
}

/** What was found, or what it was held against: "12.5 ft of cut". */
function amount(value: number | string | null, unit: string, format: Source["format"]): string {
  if (value === null) return "not measured";
  if (typeof value === "string") return format.say(value);
  if (unit === "USD") return format.money(value);
  const doubt = Math.abs(value) >= 1000 ? 50 : Math.abs(value) >= 100 ? 1 : 0.1;
  const [, base, rest = ""] = unit.match(/^(ft²|ft|yd³|cfs)(?![\w³])(.*)$/) ?? [];
  const words = format.say(base ? rest : unit);
  const number =
    base === "ft"
      ? format.length(value, doubt)
      : base === "ft²"
        ? format.area(value, doubt)
        : base === "yd³"
          ? format.volume(value, doubt)
          : base === "cfs"
            ? format.flow(value)
            : format.number(value, doubt);
  return `${number.replace(/\.0(?=\D|$)/, "")}${base || !unit ? "" : " "}${words}`;
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
      format.say(a.name),
      assumed(a, format),
      format.say(a.origin),
      a.changeWith ?? "fixed",
    ]),
  );
}

function assumed({ value, unit }: Assumption, format: Source["format"]): string {
  const text = typeof value === "number" ? format.given(value) : format.say(value);
  if (unit === "ft/ft") return `${text} to 1`;
  if (unit === "×") return `× ${text}`;
  return format.withUnit(text, unit);
}

/** Dangers of the ground works and limits of this look; those of the chosen structure are added. */
export function cautionsPage({ chosen, format }: Source) {
  const cautions = new Set<string>([
    "This is a first look from two drawings. Nobody has stood on the land. Nothing may be dug, built or staked from it.",
    "Lines are as typed or drawn in the files. Only a licensed land surveyor can say where a lot line is.",
    "Whether a hill moves is for a soils engineer or geologist to say, on the ground.",
    "Local codes and officials decide; published model codes are named only to show where a number comes from.",
    `Open pits and trenches bury people. Anything ${format.published(5)} deep or more needs a protective system unless it stands in solid rock, and over ${format.published(20)} a registered engineer designs it (29 CFR 1926.652).`,
    "Open pier holes kill. They are covered, marked and fenced or filled the same day; nobody enters one.",
    "Before any digging, call the free utility locating service (811 in the United States).",
    "Concrete hides mistakes. Three people write before it is poured: the surveyor that the forms are in the right place, the soils engineer that the ground is what the report promised, the structural engineer that the steel is right.",
    ...(chosen?.structure.cautions ?? []).map(format.say),
  ]);
  return [...cautions];
}
