/** The report in a real browser: wide, narrow and on paper. Run with `--project browser`; needs Debian's chromium. */
import { execFileSync } from "node:child_process";
import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, assert, beforeAll, describe, test } from "vitest";
import { renderReport } from "../../templates/render-report.js";
import { makeFixture } from "../report/fixtures.js";
import { demoStudy, madeStudy, openStudy, plane, reportOf } from "../report/whole-studies.js";

const CHROMIUM = process.env.CHROMIUM_PATH ?? "/usr/bin/chromium";
/** Debian poppler-utils. */
const PDF_TO_TEXT = process.env.PDFTOTEXT_PATH ?? "pdftotext";
const QUIET = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--no-first-run",
];
const WIDTHS = [1280, 768, 360];
/** Letter with the margins of report.css: (8.5 in − 30 mm) × (11 in − 32 mm) at 96 px an inch. */
const PAPER = { width: 702, height: 935 };

const LONG_NAME = `${"Unbrokenlotnamewithoutanyblank".repeat(3)}, the northerly half of lot 12 of the second amended plat of Ardenmoor Highlands`;
/** Hebrew, Arabic, markup and a quotation: a name is only ever a name. */
const FOREIGN_NAME = `מגרש 12 <b>"قطعة"</b> & Söhne`;

const steep = await madeStudy({ elevFt: plane(52) });
const whatIf = { ...makeFixture(), before: makeFixture().study, variantAction: "/r/abc/variants" };
const named = (name: string) => renderReport({ ...makeFixture(), study: { ...makeFixture().study, name } });

const reports: Record<string, string> = {
  "the demo lot with a steep back": reportOf(await demoStudy("quillback-lane")),
  "the demo lot in a bowl": reportOf(await demoStudy("saddlers-bowl")),
  "the demo lot on a ridge": reportOf(await demoStudy("wren-spur")),
  "the published 52-point survey": reportOf(await openStudy("davis_topo_ft")),
  "a lot on a published volcano": reportOf(await openStudy("maungawhau_lot"), "metric"),
  "pads given on gentle ground": reportOf(await openStudy("davis_topo_quarter_relief", { pads: true })),
  "a tenth of an acre": reportOf(
    await madeStudy({
      elevFt: plane(12),
      widthFt: 54,
      depthFt: 80,
      spacingFt: 8,
      request: {
        brief: { floorAreaFt2: 1400, storeys: 2, bedrooms: 2, garageCars: 1, basement: "none" },
        rules: { setbacksFt: { front: 10, side: 4, rear: 10 }, slopeLimitPct: 40 },
      },
    }),
  ),
  "forty acres": reportOf(
    await madeStudy({
      elevFt: (x, y) => 700 + 0.12 * y + 30 * Math.sin(x / 180) + 20 * Math.cos(y / 150),
      widthFt: 1320,
      depthFt: 1320,
      spacingFt: 55,
      beyondFt: 110,
    }),
  ),
  "a lot surveyed in metres": reportOf(await madeStudy({ elevFt: plane(16), unit: "m" }), "metric"),
  "a steep lot on which nothing fits": reportOf(steep),
  "three ways to build": renderReport(makeFixture()),
  "a basement alone, metric": renderReport({ ...makeFixture(["daylight-basement"]), display: "metric" }),
  "no way at all": renderReport(makeFixture([])),
  "an answer to what if": renderReport(whatIf),
  "a very long name": named(LONG_NAME),
  "a name that reads from right to left": named(FOREIGN_NAME),
};

let browser: Browser;
beforeAll(async () => {
  browser = await chromium.launch({ executablePath: CHROMIUM, args: QUIET });
});
afterAll(() => browser.close());

async function open(html: string, width: number): Promise<{ page: Page; said: string[] }> {
  const page = await browser.newPage({ viewport: { width, height: 900 } });
  const said: string[] = [];
  page.on("console", (message) => said.push(message.text()));
  page.on("pageerror", (error) => said.push(error.message));
  page.on("request", (request) => {
    if (!request.url().startsWith("about:") && !request.url().startsWith("data:"))
      said.push(`asked for ${request.url()}`);
  });
  await page.setContent(html);
  return { page, said };
}

/** Pairs of texts of one drawing whose boxes share more than a hair. */
function overlaps(page: Page): Promise<string[]> {
  return page.evaluate(`[...document.querySelectorAll("svg.drawing, svg.chart")].flatMap((svg) => {
    const texts = [...svg.querySelectorAll("text")].map((t) => ({ words: t.textContent, box: t.getBoundingClientRect() })).filter((t) => t.box.width > 0);
    const found = [];
    for (let i = 0; i < texts.length; i++)
      for (let j = i + 1; j < texts.length; j++) {
        const [a, b] = [texts[i].box, texts[j].box];
        const across = Math.min(a.right, b.right) - Math.max(a.left, b.left);
        const down = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
        if (across > 1.5 && down > 3) found.push(svg.getAttribute("aria-labelledby") + ": " + texts[i].words + " / " + texts[j].words);
      }
    return found;
  })`);
}

/** Texts that stick out of their drawing. */
function cutOff(page: Page): Promise<string[]> {
  return page.evaluate(`[...document.querySelectorAll("svg.drawing, svg.chart")].flatMap((svg) => {
    const frame = svg.getBoundingClientRect();
    return [...svg.querySelectorAll("text")].filter((t) => {
      const box = t.getBoundingClientRect();
      return box.width > 0 && (box.left < frame.left - 2 || box.right > frame.right + 2 || box.top < frame.top - 2 || box.bottom > frame.bottom + 2);
    }).map((t) => svg.getAttribute("aria-labelledby") + ": " + t.textContent);
  })`);
}

for (const [name, html] of Object.entries(reports))
  describe(`a report of ${name}`, () => {
    for (const width of WIDTHS)
      test(`reads at ${width} px: no sideways scroll, no word on another or cut off, nothing said to the console`, async () => {
        const { page, said } = await open(html, width);
        assert.equal(await page.evaluate("document.documentElement.scrollWidth"), width);
        assert.deepEqual(await overlaps(page), []);
        assert.deepEqual(await cutOff(page), []);
        assert.deepEqual(said, []);
        await page.close();
      });

    for (const [state, width, media] of [
      ["by day", 1280, {}],
      ["on a phone by night", 360, { colorScheme: "dark" }],
      ["on paper", PAPER.width, { media: "print" }],
      ["in the reader's own colors", 1280, { forcedColors: "active" }],
    ] as const)
      test(`has nothing for axe to say ${state}`, async () => {
        const { page } = await open(html, width);
        await page.emulateMedia(media);
        await page.addScriptTag({ content: axe.source });
        const found = await page.evaluate(
          `axe.run().then((r) => r.violations.map((v) => v.id + ": " + v.nodes.slice(0, 3).map((n) => n.html).join(" | ")))`,
        );
        assert.deepEqual(found, []);
        await page.close();
      });

    test("reads with letters twice as large: no sideways scroll, no word cut off", async () => {
      const { page } = await open(html, 1280);
      await page.addStyleTag({ content: "html { font-size: 200%; }" });
      assert.isAtMost((await page.evaluate("document.documentElement.scrollWidth")) as number, 1280);
      assert.deepEqual(await cutOff(page), []);
      await page.close();
    });

    test("headings step down one at a time", async () => {
      const { page } = await open(html, 1280);
      const levels = (await page.evaluate(
        `[...document.querySelectorAll("h1, h2, h3, h4")].map((h) => Number(h.tagName[1]))`,
      )) as number[];
      assert.equal(levels[0], 1);
      assert.lengthOf(
        levels.filter((level) => level === 1),
        1,
      );
      for (let i = 1; i < levels.length; i++) assert.isAtMost(levels[i]! - levels[i - 1]!, 1);
      await page.close();
    });

    test("no picture is cut in two on paper: each fits a page and asks not to be broken", async () => {
      const { page } = await open(html, PAPER.width);
      await page.emulateMedia({ media: "print" });
      const figures = (await page.evaluate(
        `[...document.querySelectorAll("figure")].map((f) => ({ id: f.id, height: f.getBoundingClientRect().height, inside: getComputedStyle(f).breakInside }))`,
      )) as { id: string; height: number; inside: string }[];
      assert.isNotEmpty(figures);
      for (const { id, height, inside } of figures) {
        assert.isBelow(height, PAPER.height, id);
        assert.equal(inside, "avoid", id);
      }
      await page.close();
    });
  });

for (const [name, html] of Object.entries(reports))
  test(`the client's page of ${name} fits one sheet of Letter and of A4`, async () => {
    // A4 is narrower than Letter by 0.23 in and taller by 0.69 in.
    for (const { width, height } of [PAPER, { width: PAPER.width - 22, height: PAPER.height + 66 }]) {
      const { page } = await open(html, width);
      await page.emulateMedia({ media: "print" });
      const tall = (await page.evaluate(
        `document.querySelector(".page-one").getBoundingClientRect().height`,
      )) as number;
      assert.isAtMost(tall, height);
      await page.close();
    }
  });

for (const lot of ["the demo lot in a bowl", "the demo lot on a ridge"])
  test(`on paper no heading of ${lot} stands apart from its first picture`, async () => {
    const { page } = await open(reports[lot]!, PAPER.width);
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    await page.close();
    const text = execFileSync(PDF_TO_TEXT, ["-layout", "-", "-"], { input: pdf }).toString();
    const pages = text.split("\f");
    for (const [heading, caption] of [
      [/^\s*5\s+The chosen way/m, /Dug up to/],
      [/^\s*9\s+Money/m, /The whole job:/],
    ] as const) {
      // the first two sheets are the client's page and the contents
      const sheet = pages.slice(2).find((words) => heading.test(words));
      assert.isDefined(sheet, `${heading}`);
      assert.match(sheet!.split(heading)[1]!, caption);
    }
  });
