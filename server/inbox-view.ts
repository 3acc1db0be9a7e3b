/** The builder's list and a single lead, in words. */
import { makeFormat } from "../templates/view/format.js";
import { unpacked } from "./send-document.js";
import { verdictWords } from "./side-by-side.js";
import type { SavedDefaults } from "./store/books.js";
import type { ListedComparison } from "./store/comparisons.js";
import { type SORTS, STAGES, type Stage, type StudyRow } from "./store/studies.js";
import { linksOf } from "./study-document.js";
import type { Summary } from "./summary.js";

const format = makeFormat("us");

export const STAGE_WORDS: Readonly<Record<Stage, string>> = {
  new: "New",
  reading: "Being read",
  talking: "In talks",
  walked: "Lot walked",
  offering: "Offer out",
  ours: "Ours",
  passed: "Passed",
};
const SORT_WORDS: Readonly<Record<keyof typeof SORTS, string>> = {
  newest: "newest first",
  oldest: "oldest first",
  premium: "least extra cost",
  buildable: "most ground to build on",
  slope: "gentlest",
  truckloads: "fewest truckloads",
};
const VERDICTS: readonly Summary["verdictCode"][] = [
  "good-fit",
  "hard-dear",
  "specialist-first",
  "no-room",
  "cannot-tell",
];

const unknown = "not known";

interface InboxInput {
  readonly rows: readonly StudyRow[];
  readonly plans: ReadonlyMap<string, Uint8Array>;
  readonly query: {
    readonly stage?: Stage | undefined;
    readonly verdict?: string | undefined;
    readonly q?: string | undefined;
    readonly sort: keyof typeof SORTS;
  };
  readonly counts: Partial<Record<Stage, number>>;
  readonly comparisons: readonly ListedComparison[];
  readonly next: string | null;
  readonly now: Date;
}

export async function inboxView({ rows, plans, query, counts, comparisons, next, now }: InboxInput) {
  const kept = Object.entries({
    stage: query.stage,
    verdict: query.verdict,
    q: query.q,
    sort: query.sort,
  }).filter((pair): pair is [string, string] => pair[1] !== undefined);
  return {
    leads: await Promise.all(
      rows.map(async (row) => ({
        ...factsOf(row),
        plan: plans.has(row.id) ? await unpacked(plans.get(row.id)!) : null,
        age: ageInWords(row.createdAt, now),
      })),
    ),
    none: rows.length === 0,
    search: query.q ?? "",
    stages: [
      { value: "", label: "any stage", chosen: !query.stage },
      ...STAGES.map((value) => ({
        value,
        label: `${STAGE_WORDS[value]} (${counts[value] ?? 0})`,
        chosen: value === query.stage,
      })),
    ],
    verdicts: [
      { value: "", label: "any verdict", chosen: !query.verdict },
      ...VERDICTS.map((value) => ({ value, label: verdictWords(value), chosen: value === query.verdict })),
    ],
    sorts: Object.entries(SORT_WORDS).map(([value, label]) => ({
      value,
      label,
      chosen: value === query.sort,
    })),
    comparisons: comparisons.map(({ createdAt, ...rest }) => ({ ...rest, age: ageInWords(createdAt, now) })),
    next: next && `/inbox?${new URLSearchParams([...kept, ["cursor", next]])}`,
  };
}

interface LeadInput {
  readonly row: StudyRow;
  readonly history: readonly {
    readonly at: string;
    readonly stage: Stage | null;
    readonly note: string | null;
  }[];
  readonly plan: Uint8Array | undefined;
  readonly defaults: readonly SavedDefaults[];
  readonly books: readonly { readonly id: string; readonly name: string }[];
}

export async function leadView({ row, history, plan, defaults, books }: LeadInput) {
  const used = row.used as {
    costBook?: string;
    engineVersion?: string;
    defaults?: string;
    rulesHash?: string;
  };
  return {
    ...factsOf(row),
    plan: plan ? await unpacked(plan) : null,
    parent: row.parentId,
    flags: row.summary.flags,
    assumed: row.summary.assumed.length,
    used,
    links: linksOf(row.id, row.token),
    stages: STAGES.map((value) => ({ value, label: STAGE_WORDS[value], chosen: value === row.stage })),
    history: [...history]
      .reverse()
      .map(({ at, stage, note }) => ({ at: dayAndTime(at), stage: stage && STAGE_WORDS[stage], note })),
    defaults,
    books,
  };
}

function factsOf({ id, token, name, createdAt, stage, contact, summary: s }: StudyRow) {
  return {
    id,
    name,
    share: `/r/${token}`,
    createdAt: dayAndTime(createdAt),
    stage: STAGE_WORDS[stage],
    contact,
    verdictCode: s.verdictCode,
    verdict: verdictWords(s.verdictCode),
    slope: format.percent(s.averageSlopePct),
    area: format.area(s.areaFt2),
    buildable: format.area(s.buildableFt2),
    scheme: s.schemeName ?? "none",
    truckloads: s.truckloads === null ? unknown : format.count(s.truckloads),
    premium: s.premiumUsd === null ? unknown : format.money(s.premiumUsd.p50),
    premiumRange: s.premiumUsd === null ? "" : format.moneyRange(s.premiumUsd.p10, s.premiumUsd.p90),
    asking: s.askingUsd === null ? unknown : format.money(s.askingUsd),
    finding: s.worstFinding?.title ?? "none",
  };
}

const dayAndTime = (iso: string) => `${iso.slice(0, 10)} ${iso.slice(11, 16)} UTC`;

function ageInWords(iso: string, now: Date): string {
  const hours = Math.floor((now.getTime() - new Date(iso).getTime()) / 3_600_000);
  if (hours < 1) return "just now";
  if (hours < 48) return `${hours} h`;
  return `${Math.floor(hours / 24)} days`;
}
