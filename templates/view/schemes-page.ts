/** Builder's page on the ways to build, side by side. */

import type { SchemeResult } from "../../analysis/study/result.js";
import { volumeDoubtYd3 } from "../../analysis/written-number.js";
import { ranges } from "../drawings/bar-charts.js";
import { moneyShort, months } from "./format.js";
import { type Figure, figure, type Source, table } from "./report-parts.js";
import { schemeSections } from "./scheme-sections.js";
import { capital, FOUNDATION_WORDS, fitInWords, GARAGE_WORDS, sentences } from "./words.js";

export function schemesPage(source: Source) {
  const { study, format } = source;
  const { schemes } = study;
  if (schemes.length === 0) return undefined;
  const row = (head: string, cell: (scheme: SchemeResult) => string) => [head, ...schemes.map(cell)];
  const siteWall = (scheme: SchemeResult) =>
    Math.max(0, ...scheme.walls.filter((w) => w.kind === "site").map((w) => w.retainedFt));
  return {
    count: schemes.length,
    fitting: schemes.filter((scheme) => scheme.feasible).length,
    table: table(
      "Every way tried, same house and same rules",
      ["", ...schemes.map((scheme) => scheme.name)],
      [
        row("Fits the measured ground and the rules you gave", (s) => capital(fitInWords(s))),
        row("Steepness under the house", (s) => format.percent(s.slopeUnderHousePct.mean)),
        row("Cut, in the ground", (s) => format.volume(s.earthwork.bankCutYd3, volumeDoubtYd3(s.earthwork))),
        row("Fill, rolled in place", (s) =>
          format.volume(s.earthwork.compactedFillYd3, volumeDoubtYd3(s.earthwork)),
        ),
        row(
          "Truckloads on the road, whole job",
          (s) =>
            `${format.count(s.cost.hauledLoads.p50)} (${format.count(s.cost.hauledLoads.p10)} to ${format.count(s.cost.hauledLoads.p90)})`,
        ),
        row(
          "Deepest cut, highest fill",
          (s) => `${format.length(s.earthwork.maxCutFt, 0.5)}, ${format.length(s.earthwork.maxFillFt, 0.5)}`,
        ),
        row("Tallest wall outside the house", (s) =>
          siteWall(s) > 0 ? format.length(siteWall(s), 0.5) : "none",
        ),
        row("Basement wall holds", (s) =>
          s.basement ? format.length(s.basement.maxRetainedFt, 0.5) : "no basement",
        ),
        row("Driveway", (s) =>
          s.driveway
            ? `${format.length(s.driveway.lengthFt, 1)}, up to ${format.percent(s.driveway.maxGradePct)}`
            : "none within the limit",
        ),
        schemes.some((s) => s.garage === "detached") ? row("Garage", (s) => GARAGE_WORDS[s.garage]) : null,
        row("Likely foundation", (s) =>
          s.foundation.standing === "cannot-tell"
            ? "cannot tell"
            : capital(FOUNDATION_WORDS[s.foundation.kind]),
        ),
        row("Extra cost against flat land, US dollars", (s) => shortRange(s.cost.hillsidePremiumUsd)),
        row("Whole job, US dollars", (s) =>
          shortRange({ p10: s.cost.p10Usd, p50: s.cost.p50Usd, p90: s.cost.p90Usd }),
        ),
        row(
          "Months, offer to keys",
          (s) =>
            `${months(s.schedule.totalMonths[1])} (${months(s.schedule.totalMonths[0])} to ${months(s.schedule.totalMonths[2])})`,
        ),
      ],
    ),
    problems: schemes
      .filter((scheme) => scheme.problems.length > 0)
      .map((scheme) => ({
        name: scheme.name,
        feasible: scheme.feasible,
        problems: scheme.problems.map((problem) => sentences(format.say(problem))),
      })),
    premiums: premiumRanges(source),
    sections: schemeSections(source),
  };
}

/** "$520k ($310k to $890k)": the middle, and the range behind it. */
function shortRange({ p10, p50, p90 }: { p10: number; p50: number; p90: number }): string {
  return `${moneyShort(p50)} (${moneyShort(p10)} to ${moneyShort(p90)})`;
}

/** The premium of every way on one axis. */
function premiumRanges({ study, format }: Source): Figure {
  const rows = study.schemes.map((scheme) => {
    const { p10, p50, p90 } = scheme.cost.hillsidePremiumUsd;
    return {
      name: scheme.name,
      value: shortRange({ p10, p50, p90 }),
      low: p10,
      middle: p50,
      high: p90,
      quiet: fitInWords(scheme) !== "yes",
    };
  });
  const words = `${rows.map((row) => `${row.name}: ${row.value}`).join("; ")}.`;
  return figure(
    ranges(
      { id: "premiums", title: "What the hill adds, each way to build", words },
      rows,
      format.moneyTick,
      true,
    ),
    "US dollars. The bar runs from one chance in ten below to one chance in ten above; the stroke is the middle. Pale bars break a rule you gave or have no driveway; a driveway that was not found is not in their cost.",
  );
}
