/** A reader who chose metric meets no other unit, but in names and in limits that somebody published. */
import { assert, describe, test } from "vitest";
import { textOf } from "./page-text.js";
import {
  DEMO_LOTS,
  demoStudy,
  madeStudy,
  openStudy,
  plane,
  reportOf,
  type WholeStudy,
} from "./whole-studies.js";

const US_MEASURE =
  /\d[\u00a0 -]?(?:ft[²³23]?|feet|foot|in|inch(?:es)?|yd[³3]?|yards?|square f\w+|cubic (?:f|y)\w+|acres?|cfs|lb(?:s|\/\S+)?|pounds?|(?:short )?tons?|miles?|psf|psi)(?![a-z])(?! (?:the|favor|all|a|one)\b)/g;
/** "20 ft (6.1 m)": the unit it was published in, the reader's beside it. */
const PUBLISHED =
  /(?:\d[\d,.]*(?: or | to ))?\d[\d,.]* (?:ft²?|in|yd³|cubic yards) \((?:[\d,.]+(?: or | to ))?[\d,.]+ (?:m|mm|m²|m³|cubic meters)\)/g;
/** "1 in 12": a ratio. */
const RATIO = /\d in \d/g;

/** Everything a reader may see or hear, drawings and meanings of words included. */
function allTextOf(html: string): string {
  const spoken = [
    ...html.matchAll(/<(?:text|title|desc)\b[^>]*>([^<]*)</g),
    ...html.matchAll(/ (?:title|aria-label)="([^"]*)"/g),
  ];
  return `${textOf(html)} ${spoken.map(([, words]) => words).join(" ")}`.replaceAll("\u00a0", " ");
}

/** Measures in US units that nothing excuses, with some words around them. */
function strays({ study }: WholeStudy, html: string): string[] {
  let text = allTextOf(html);
  // The price list is the builder's own file and names its items as a US builder does.
  const names = study.schemes.flatMap(({ cost }) => cost.items.map(({ label }) => label));
  for (const name of new Set(names)) text = text.replaceAll(name, "…").replaceAll(name.toLowerCase(), "…");
  text = text.replace(PUBLISHED, "…").replace(RATIO, "…");
  return [...text.matchAll(US_MEASURE)].map((m) => text.slice(Math.max(0, m.index - 50), m.index + 30));
}

test("the walk finds what it looks for", () => {
  const whole = { study: { schemes: [] } } as unknown as WholeStudy;
  assert.lengthOf(strays(whole, "<p>A wall of 12 ft, and 3.5\u00a0yd³.</p><svg><text>40 ft</text></svg>"), 3);
  assert.lengthOf(strays(whole, "<p>Over 20 ft (6.1\u00a0m), 1 in 3, 12 m and 3 m³.</p>"), 0);
});

const studies: [string, () => Promise<WholeStudy>][] = [
  ...DEMO_LOTS.map((lot): [string, () => Promise<WholeStudy>] => [lot, () => demoStudy(lot)]),
  ["the published 52-point survey", () => openStudy("davis_topo_ft")],
  ["a lot on a published volcano", () => openStudy("maungawhau_lot")],
  ["pads given on gentle ground", () => openStudy("davis_topo_quarter_relief", { pads: true })],
  ["a steep lot on which nothing fits", () => madeStudy({ elevFt: plane(52) })],
  ["a lot surveyed in metres", () => madeStudy({ elevFt: plane(16), unit: "m" })],
  [
    "a septic field, rock and water",
    () =>
      madeStudy({
        elevFt: plane(14),
        request: {
          utilities: { sewer: "no", septic: true },
          soil: { kind: "rock", depthToRockFt: 4, depthToWaterFt: 6, expansive: true },
        },
      }),
  ],
];

describe.each(studies)("%s, read in metric", (_, study) => {
  test("holds no measure in US units but names of the price list and published limits", async () => {
    const whole = await study();
    assert.deepEqual(strays(whole, reportOf(whole, "metric")), []);
  });

  test("read in US units, holds every sentence of the study as it is", async () => {
    const whole = await study();
    const text = allTextOf(reportOf(whole, "us"));
    for (const { title, detail } of whole.study.findings) {
      assert.include(text, title);
      assert.include(text, detail);
    }
    assert.notInclude(JSON.stringify(whole.study), "⟦", "no measure is left unsaid in the document");
  });
});

test("plans asked for in meters have contours, and their heights are whole meters or halves", async () => {
  const whole = await madeStudy({ elevFt: plane(16), unit: "m", request: { display: "metric" } });
  const html = reportOf(whole, "metric");
  const place = html.slice(html.indexOf('id="place'), html.indexOf('id="side'));
  assert.match(place, /class="contour"/);
  const heights = [...html.matchAll(/<text [^>]*text-ground[^>]*>([\d,.]+)</g)].map(([, n]) =>
    Number(n!.replace(",", "")),
  );
  assert.isAbove(heights.length, 3);
  for (const height of heights) assert.equal(height % 0.5, 0, `${height} m`);
});
