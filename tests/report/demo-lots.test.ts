/** Reports of whole studies: the three demo lots, from files to the client's page. */
import { readFileSync } from "node:fs";
import { assert, describe, test } from "vitest";
import { parseCostBook } from "../../analysis/book/index.js";
import { requestSchema } from "../../analysis/request/index.js";
import { studyLot } from "../../analysis/study.js";
import { renderReport } from "../../templates/render-report.js";
import { textOf } from "./page-text.js";
import { gradeLevel, TRADE_WORDS } from "./reading-level.js";

const read = (path: string) => readFileSync(new URL(`../../demo-data/${path}`, import.meta.url));
const book = parseCostBook(JSON.parse(read("cost-book.json").toString()));
if (!book.ok) throw new Error("the default cost book is not readable");

async function study(lot: string) {
  const input = requestSchema.parse(JSON.parse(read(`${lot}/request.json`).toString()));
  const file = (name: string) => ({ name, bytes: new Uint8Array(read(`${lot}/${name}`)) });
  const outcome = await studyLot({
    input,
    book: book.ok ? book.book : never(),
    files: { topo: file("topo.csv"), boundary: file("boundary.csv") },
  });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return outcome;
}

function never(): never {
  throw new Error("unreachable");
}

/** Two significant figures as people write dollars: done here by hand, not by the report's own code. */
function dollars(usd: number): string {
  const two = Number(usd.toPrecision(2));
  return two >= 1e6 ? `$${(two / 1e6).toFixed(1)} million` : `$${Math.round(two).toLocaleString("en-US")}`;
}

for (const lot of ["quillback-lane", "saddlers-bowl", "wren-spur"])
  describe(`the report of ${lot}`, async () => {
    const { study: found, pictures } = await study(lot);
    const html = renderReport({
      study: { ...found, id: "test", createdAt: "2026-11-25T08:00:00.000Z", token: "test" },
      pictures,
    });
    const page = html.slice(html.indexOf("<article"), html.indexOf("</article>"));
    const text = textOf(page);
    const best = found.schemes.find((scheme) => scheme.id === found.recommendation.schemeId);

    test("page one reads at eighth grade or below, without words of the trade", () => {
      assert.isAtMost(gradeLevel(text), 8);
      assert.notMatch(text.replace(/“[^”]*”/g, ""), TRADE_WORDS);
    });

    test("page one says the study's verdict, reasons and numbers", () => {
      assert.include(text, found.recommendation.verdict);
      for (const reason of found.recommendation.reasons.slice(0, 3))
        assert.include(text, reason.replace(/\.$/, ""));
      if (!best) return;
      if (found.recommendation.verdictCode !== "cannot-tell")
        assert.include(text, dollars(best.cost.hillsidePremiumUsd.p50));
      assert.include(text, `${Math.round(best.slopeUnderHousePct.mean)} %`);
      assert.include(text, `${Math.round(best.schedule.untilFrameMonths[1])}.`);
    });

    test("the money pages speak no code of the cost book and no field of the study document", () => {
      const money = textOf(html.slice(html.indexOf('id="cost"'), html.indexOf('id="months"')));
      assert.notMatch(money, /\b[A-Z]{3,}-[A-Z0-9]+\b/);
      assert.notMatch(money, /\b[a-z]+\.[a-z]+[A-Z]\w*/);
      assert.notMatch(money, /\b(ls|yd3|ft2)\b/);
      for (const code of ["DEWATER", "SEPTIC", "EXCAV", "HOUSE", "SUMP", "SHORE"])
        assert.notInclude(money, code);
    });

    test("every way to build is cut open, all at one scale", () => {
      const scales = found.schemes.map(({ id }) => {
        const figure = html.slice(html.indexOf(`id="figure-section-${id}"`));
        // The scale bar's length on the sheet over the feet written at its end.
        const [, feet] = figure.match(/>(\d+)\s*ft<\/text>/)!;
        const blocks = [
          ...figure
            .slice(0, figure.indexOf("</figure>"))
            .matchAll(/class="bar-(?:dark|light)"[^>]*?width="([\d.]+)"/g),
        ];
        assert.isNotEmpty(blocks, id);
        return blocks.reduce((sum, [, width]) => sum + Number(width), 0) / Number(feet);
      });
      for (const scale of scales) assert.approximately(scale, scales[0]!, 0.02 * scales[0]!);
    });

    test("sections draw what stands in the ground: piers under the house, drains and walls of a basement", () => {
      for (const scheme of found.schemes) {
        const drawn = pictures.schemes.find(({ id }) => id === scheme.id)!;
        if (scheme.foundation.piers > 0)
          assert.isNotEmpty([...drawn.along.piers, ...drawn.across.piers], `piers of ${scheme.id}`);
        if (scheme.basement) {
          assert.includeMembers(
            drawn.along.drains.map((d) => d.tier),
            ["under-slab", "wall"],
          );
          assert.isNotEmpty(drawn.along.walls);
        }
        for (const section of [drawn.along, drawn.across]) {
          const ends = section.levels.flatMap((level) => [level.fromFt, level.toFt]);
          for (const { atFt } of section.piers) {
            assert.isAtLeast(atFt, Math.min(...ends));
            assert.isAtMost(atFt, Math.max(...ends));
          }
        }
      }
    });

    test("loads and their passes by the neighbors agree as printed", () => {
      const told = text.match(/about (\d[\d,]*) .*?: (\d[\d,]*) pass/);
      if (!told) return;
      const [loads, passes] = told.slice(1).map((n) => Number(n.replaceAll(",", "")));
      assert.equal(passes, 2 * loads!);
    });

    test("every finding is there, and no broken value", () => {
      const whole = textOf(html);
      for (const finding of found.findings) assert.include(whole, finding.title);
      assert.notMatch(whole, /\b(NaN|undefined|null|Infinity|\[object)\b/);
    });

    test("pictures stay under 300 kB, the page under 1 MB", () => {
      assert.isBelow(JSON.stringify(pictures).length, 300_000);
      assert.isBelow(Buffer.byteLength(html), 1_000_000);
    });
  });
