/** Lots side by side: the table, the ranges, who is beaten in everything, and what would turn the order. */

import { roundTo, stepFor } from "../analysis/written-number.js";
import { rangeChart } from "../templates/pages/range-chart.js";
import { makeFormat } from "../templates/view/format.js";
import { RANKING_KEYS, type RankingKey } from "./ranking.js";
import type { Summary } from "./summary.js";

export interface ComparedLot {
  readonly ref: string;
  readonly name: string;
  readonly summary: Summary;
  /** SVG of the small plan; null when it is not kept. */
  readonly plan: string | null;
  readonly report: string;
}

const format = makeFormat("us");
const usd = (value: number) => format.money(value);

interface Measure {
  readonly label: string;
  readonly of: (s: Summary) => number | null;
  readonly less: boolean;
  readonly write: (value: number, s: Summary) => string;
}

/** What "better in everything" is judged by, and the rows of the table in which best and worst are marked. */
const MEASURES: readonly Measure[] = [
  {
    label: "Extra cost against a flat lot",
    of: (s) => s.premiumUsd?.p50 ?? null,
    less: true,
    write: (value, s) => `${usd(value)} (${format.moneyRange(s.premiumUsd!.p10, s.premiumUsd!.p90)})`,
  },
  {
    label: "Asking price plus extra cost",
    of: (s) => s.allInUsd?.p50 ?? null,
    less: true,
    write: (value, s) => `${usd(value)} (${format.moneyRange(s.allInUsd!.p10, s.allInUsd!.p90)})`,
  },
  { label: "Ground left to build on", of: (s) => s.buildableFt2, less: false, write: (v) => format.area(v) },
  {
    label: "Slope under the house",
    of: (s) => s.slopeUnderPadPct,
    less: true,
    write: (v) => format.percent(v),
  },
  { label: "Truckloads", of: (s) => s.truckloads, less: true, write: (v) => format.count(v) },
  { label: "Months, all in all", of: (s) => s.monthsTotal, less: true, write: (v) => format.months(v) },
];

const VERDICT_WORDS: Readonly<Record<Summary["verdictCode"], string>> = {
  "good-fit": "takes this house in a fairly plain way",
  "hard-dear": "fits, but the hill costs",
  "specialist-first": "an engineer must answer first",
  "no-room": "no room by the rules given",
  "cannot-tell": "cannot tell from this survey",
};

export const verdictWords = (code: Summary["verdictCode"]): string => VERDICT_WORDS[code];

export function sideBySide(lots: readonly ComparedLot[], key: RankingKey) {
  const shown = lots.filter(({ summary }) => summary.verdictCode !== "cannot-tell");
  const dear = shown.filter(({ summary }) => summary.premiumUsd !== null);
  return {
    columns: lots.map(({ ref, name, summary, report, plan }) => ({
      ref,
      name,
      report,
      plan,
      verdict: verdictWords(summary.verdictCode),
      verdictCode: summary.verdictCode,
    })),
    rows: MEASURES.filter(({ of }) => lots.some(({ summary }) => of(summary) !== null)).map((measure) =>
      measureRow(measure, lots),
    ),
    worst: lots.map(({ summary }) => summary.worstFinding?.title ?? "none"),
    premiumChart:
      dear.length > 0
        ? rangeChart(
            "Extra cost against a flat lot",
            dear.map(({ name, summary }) => {
              const { p10, p50, p90 } = summary.premiumUsd!;
              return {
                name,
                low: p10,
                middle: p50,
                high: p90,
                words: `${usd(p50)}, ${format.moneyRange(p10, p90)}`,
              };
            }),
            usd,
          )
        : null,
    buildableChart: rangeChart(
      "Ground left to build on",
      lots.map(({ name, summary: { buildableFt2 } }) => ({
        name,
        low: 0,
        middle: buildableFt2,
        high: buildableFt2,
        words: format.area(buildableFt2),
      })),
      (value) => format.area(value),
    ),
    beaten: beaten(shown),
    turns: turns(shown, key),
    keyWords: RANKING_KEYS[key].words,
  };
}

/** Best and worst are marked by what is printed: a difference smaller than that is none. */
function measureRow({ label, of, less, write }: Measure, lots: readonly ComparedLot[]) {
  const cells = lots.map(({ summary }) => {
    const value = of(summary);
    return { value, text: value === null ? "not known" : write(value, summary) };
  });
  const known = cells
    .filter((cell): cell is { value: number; text: string } => cell.value !== null)
    .sort((a, b) => (less ? a.value - b.value : b.value - a.value));
  const [best, worst] = [known[0]?.text, known.at(-1)?.text];
  return {
    label,
    cells: cells.map(({ value, text }) => ({
      text,
      mark: value === null || best === worst ? "" : text === best ? "best" : text === worst ? "worst" : "",
    })),
  };
}

/** A lot is beaten when another is at least as good in every measure both have, and better in one. */
export function beaten(lots: readonly Pick<ComparedLot, "ref" | "name" | "summary">[]) {
  return lots.flatMap((lot) => {
    const by = lots
      .filter((other) => other !== lot && beats(other.summary, lot.summary))
      .map(({ name }) => name);
    return by.length > 0 ? [{ ref: lot.ref, name: lot.name, by }] : [];
  });
}

function beats(one: Summary, other: Summary): boolean {
  let better = false;
  let compared = 0;
  for (const { of, less } of MEASURES) {
    const [a, b] = [of(one), of(other)];
    if (b !== null && a === null) return false;
    if (a === null || b === null) continue;
    compared++;
    if (less ? a > b : a < b) return false;
    if (a !== b) better = true;
  }
  return better && compared >= 3;
}

/** For neighbours in the order: by how much the first leads, and what would turn them round. */
function turns(lots: readonly ComparedLot[], key: RankingKey): string[] {
  if (key !== "premiumUsd.p50" && key !== "allInUsd.p50") return [];
  const range = (s: Summary) => (key === "allInUsd.p50" ? s.allInUsd : s.premiumUsd);
  const ranked = lots
    .filter(({ summary }) => range(summary) !== null)
    .sort((a, b) => range(a.summary)!.p50 - range(b.summary)!.p50);
  return ranked.slice(1).map((second, i) => {
    const first = ranked[i]!;
    const [a, b] = [range(first.summary)!, range(second.summary)!];
    const lead = b.p50 - a.p50;
    // a lead far inside the doubt of both is no lead
    const step = stepFor((Math.min(a.p90 - a.p10, b.p90 - b.p10) || 1) / 20);
    const told = lead >= step / 2;
    const words = [
      told
        ? `${first.name} leads ${second.name} by about ${usd(roundTo(lead, step))}.`
        : `${first.name} and ${second.name} cost the same as far as these ranges tell.`,
    ];
    if (key === "allInUsd.p50" && told)
      words.push(`An asking price lower by that much would put ${second.name} first.`);
    words.push(
      b.p10 < a.p90
        ? "Their ranges overlap: what is still unknown under the ground could turn the order."
        : "Their ranges do not overlap: nothing these surveys leave open turns the order.",
    );
    return words.join(" ");
  });
}
