/** Builder's page on money. */
import type { Percentiles } from "../../analysis/chance/percentiles.js";
import { volumeDoubtYd3 } from "../../analysis/written-number.js";
import { ranges } from "../drawings/bar-charts.js";
import { money, moneyRange, moneyShort } from "./format.js";
import { quantityInWords, traceInWords } from "./quantity-words.js";
import { figure, markOf, type Source, table } from "./report-parts.js";
import { fitInWords, sentences } from "./words.js";

const MOST_DRIVERS = 8;
/** An item that the hill moves by less is not worth a row. */
const LEAST_SHOWN_USD = 500;

/** Items whose amount goes with the pad's dirt: told no finer here than where the pad is told. */
const PAD_DIRT: ReadonlySet<string> = new Set(["EXCAV", "FILL", "HAUL", "DUMP", "IMPORT"]);

export function costPage({ study, format, chosen }: Source) {
  if (!chosen) return undefined;
  const c = chosen.cost;
  const doubtYd3 = volumeDoubtYd3(chosen.earthwork);
  const rows = [
    {
      name: "Same house on flat land",
      value: `${moneyShort(c.flatLotUsd.p10)} to ${moneyShort(c.flatLotUsd.p90)}`,
      low: c.flatLotUsd.p10,
      middle: c.flatLotUsd.p50,
      high: c.flatLotUsd.p90,
      quiet: true,
    },
    ...study.schemes.map((s) => ({
      name: `${s.name}${markOf(s.id, study, chosen)}`,
      value: `${moneyShort(s.cost.p10Usd)} to ${moneyShort(s.cost.p90Usd)}`,
      low: s.cost.p10Usd,
      middle: s.cost.p50Usd,
      high: s.cost.p90Usd,
      quiet: fitInWords(s) !== "yes",
    })),
  ];
  // Each cause alone, as far as it moves the middle.
  const drivers = c.premiumDrivers.slice(0, MOST_DRIVERS).map(({ name, swingUsd: { p10, p50, p90 } }) => ({
    name: format.say(name),
    value: `${swing(p10 - p50)} to ${swing(p90 - p50)}`,
    low: Math.min(p10, p50, p90) - p50,
    middle: 0,
    high: Math.max(p10, p50, p90) - p50,
  }));
  const offer = c.offer;
  const share = (of: number) => (of < 0.01 ? "next to nothing" : format.percent(100 * of, 2));
  const [perArea, toArea] = format.metric ? ["square meter", 1 / 0.3048 ** 2] : ["square foot", 1];
  return {
    totals: figure(
      ranges(
        {
          id: "totals",
          title: `The whole job: ${moneyRange(c.p10Usd, c.p90Usd)}, the middle ${format.money(c.p50Usd)}`,
          words: rows.map((r) => `${r.name}: ${r.value}`).join("; "),
        },
        rows,
        format.moneyTick,
      ),
      "US dollars. The bar runs from one chance in ten below to one chance in ten above; the stroke is the middle. Pale: flat land, and ways that break a rule or have no driveway.",
    ),
    summary: table(
      "In numbers",
      ["", "Low", "Middle", "High"],
      [
        ["Whole job", format.money(c.p10Usd), format.money(c.p50Usd), format.money(c.p90Usd)],
        [`The same, for each ${perArea} of house`, ...money3(c.perFt2Usd, toArea)],
        [
          "Of it sitework",
          format.money(c.siteworkUsd.p10),
          format.money(c.siteworkUsd.p50),
          format.money(c.siteworkUsd.p90),
        ],
        [
          "Same house on flat land",
          format.money(c.flatLotUsd.p10),
          format.money(c.flatLotUsd.p50),
          format.money(c.flatLotUsd.p90),
        ],
        [
          "What the hill adds",
          format.money(c.hillsidePremiumUsd.p10),
          format.money(c.hillsidePremiumUsd.p50),
          format.money(c.hillsidePremiumUsd.p90),
        ],
        [`The same, for each ${perArea} of house`, ...money3(c.premiumPerFt2Usd, toArea)],
      ],
    ),
    holdBack: format.money(c.holdBackUsd),
    draws: format.count(c.draws, 100),
    spread: [
      `prices ${share(c.spread.prices)}`,
      `amounts, such as the survey, swell, walls and depth of piers, ${share(c.spread.quantities)}`,
      `what happens or does not ${share(c.spread.events)}`,
    ].join("; "),
    samplingError: format.money(Math.max(...Object.values(c.samplingErrorUsd))),
    classWords: c.basis.classWords,
    drivers: drivers.length
      ? figure(
          ranges(
            {
              id: "drivers",
              title: `What moves the hill's cost most: ${drivers[0]!.name.charAt(0).toLowerCase()}${drivers[0]!.name.slice(1)}`,
              words: drivers.map((d) => `${d.name}: ${d.value}`).join("; "),
            },
            drivers,
            swing,
            true,
          ),
          "US dollars more or less than the middle, each cause alone from its low to its high.",
        )
      : undefined,
    whatIfs: table(
      "Things that happen or do not",
      ["If", "Chance", "Adds, likely", "Low to high"],
      c.whatIfs.map((w) => [
        format.say(w.name),
        w.chance >= 1 ? "certain" : format.percent(100 * w.chance),
        format.money(w.addsUsd.p50),
        moneyRange(w.addsUsd.p10, w.addsUsd.p90),
      ]),
    ),
    items: table(
      "Every priced item",
      ["Item", "Quantity", "Low", "Likely", "High", "Flat land, likely", "Where the quantity comes from"],
      [...c.items]
        .sort((a, b) => Number(b.likelyUsd > 0) - Number(a.likelyUsd > 0))
        .map((item) => [
          item.label,
          quantityInWords(item.quantity, item.unit, format, PAD_DIRT.has(item.code) ? doubtYd3 : 0),
          format.money(item.lowUsd),
          format.money(item.likelyUsd),
          format.money(item.highUsd),
          format.money(item.flatLikelyUsd),
          traceInWords(format.say(item.trace)),
        ]),
    ),
    offer: offer
      ? table(
          "With the lot",
          ["", "Low", "Middle", "High"],
          [
            offer.flatLotUsd === null
              ? null
              : ["The flat lot you named", "", format.money(offer.flatLotUsd), ""],
            [
              "Asking price and what the hill adds",
              format.money(offer.allInUsd.p10),
              format.money(offer.allInUsd.p50),
              format.money(offer.allInUsd.p90),
            ],
            offer.evenPriceUsd
              ? [
                  "Asking price at which it would equal a flat lot",
                  format.money(offer.evenPriceUsd.p10),
                  format.money(offer.evenPriceUsd.p50),
                  format.money(offer.evenPriceUsd.p90),
                ]
              : null,
          ],
        )
      : undefined,
    chance:
      offer?.chanceCheaper === null || offer === null
        ? undefined
        : chanceInWords(offer.chanceCheaper, format),
    parts: table(
      "What the hill's money buys",
      ["", "Low", "Middle", "High"],
      c.premiumByPartUsd
        .filter(({ premiumUsd: { p10, p90 } }) => Math.abs(p10) >= 1 || Math.abs(p90) >= 1)
        .map(({ part, premiumUsd: { p10, p50, p90 } }) => [
          part,
          format.money(p10),
          format.money(p50),
          format.money(p90),
        ]),
    ),
    itemPremiums: table(
      "What the hill adds, item by item",
      ["Item", "Low", "Middle", "High"],
      c.items
        .filter(({ premiumUsd: { p10, p90 } }) => Math.max(Math.abs(p10), Math.abs(p90)) >= LEAST_SHOWN_USD)
        .sort((a, b) => b.premiumUsd.p50 - a.premiumUsd.p50 || b.premiumUsd.p90 - a.premiumUsd.p90)
        .map(({ label, premiumUsd: { p10, p50, p90 } }) => [
          label,
          format.money(p10),
          format.money(p50),
          format.money(p90),
        ]),
    ),
    withBasement: c.premiumOverFlatWithBasementUsd
      ? overFlatWithBasement(c.premiumOverFlatWithBasementUsd, format)
      : undefined,
    basis: format.metric
      ? `${c.basis.words} The price list names its items in US trade sizes.`
      : c.basis.words,
    leftOut: c.basis.leftOut.join("; "),
    book: sentences(
      `${c.basis.region.replace("costs.regionFactor", "a regional factor of")}${c.basis.regionFactor === 1 ? "" : `; here times ${c.basis.regionFactor}`}`,
    ),
    finish: c.basis.finishLevel,
  };
}

/** What the hill adds when the flat lot's house has the basement too; a saving is called one. */
function overFlatWithBasement({ p10, p50, p90 }: Percentiles, format: Source["format"]): string {
  const does = p50 < 0 ? "saves" : "adds";
  const range =
    p10 < 0 && p90 > 0
      ? `from ${money(-p10)} saved to ${money(p90)} added`
      : moneyRange(Math.min(Math.abs(p10), Math.abs(p90)), Math.max(Math.abs(p10), Math.abs(p90)));
  return `Against the same house with a basement on flat land the hill ${does} about ${format.money(Math.abs(p50))} (${range}).`;
}

function money3({ p10, p50, p90 }: Percentiles, times: number): string[] {
  return [p10, p50, p90].map((usd) => money(usd * times));
}

/** "none", "60 %", "all": of the draws. */
function chanceInWords(share: number, format: Source["format"]): string {
  if (share < 0.025) return "none or next to none";
  return share > 0.975 ? "nearly all" : format.percent(100 * share, 5);
}

/** A difference: sign first, two figures. */
function swing(usd: number): string {
  return Math.abs(usd) < 500 ? "$0" : `${usd > 0 ? "+" : ""}${moneyShort(usd)}`;
}
