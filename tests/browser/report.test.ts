/** The report in a real browser: wide, narrow and on paper. Run with `--project browser`; needs Debian's chromium. */
import { readFileSync } from "node:fs";
import axe from "axe-core";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, assert, beforeAll, describe, test } from "vitest";
import { parseCostBook } from "../../analysis/book/index.js";
import { requestSchema } from "../../analysis/request/index.js";
import { studyLot } from "../../analysis/study.js";
import { renderReport } from "../../templates/render-report.js";
import { makeFixture } from "../report/fixtures.js";

const CHROMIUM = process.env.CHROMIUM_PATH ?? "/usr/bin/chromium";
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

const read = (path: string) => readFileSync(new URL(`../../${path}`, import.meta.url));

/** A whole study of files in the repository, and its report. */
async function reportOf(folder: string, topo: string, request: string | null): Promise<string> {
  const input = requestSchema.parse(
    request ? JSON.parse(read(request).toString()) : { name: folder, survey: { unit: "ft" } },
  );
  const book = parseCostBook(JSON.parse(read("demo-data/cost-book.json").toString()));
  if (!book.ok) throw new Error("the default cost book is not readable");
  const file = (name: string) => ({ name, bytes: new Uint8Array(read(`${folder}/${name}`)) });
  const outcome = await studyLot({
    input,
    book: book.book,
    files: { topo: file(topo), boundary: file("boundary.csv") },
  });
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
  return renderReport({
    study: { ...outcome.study, id: "test", createdAt: "2026-11-25T08:00:00.000Z", token: "test" },
    pictures: outcome.pictures,
  });
}

const demo = (lot: string) => reportOf(`demo-data/${lot}`, "topo.csv", `demo-data/${lot}/request.json`);
const open52 = (set: string) => reportOf(`tests/reference/${set}`, "points.csv", null);

const reports: Record<string, string> = {
  "the demo lot with a steep back": await demo("quillback-lane"),
  "the demo lot in a bowl": await demo("saddlers-bowl"),
  "the demo lot on a ridge": await demo("wren-spur"),
  "the published 52-point survey": await open52("davis_topo_ft"),
  "a lot on a published volcano": await open52("maungawhau_lot"),
  "three ways to build": renderReport(makeFixture()),
  "a basement alone, metric": renderReport({ ...makeFixture(["daylight-basement"]), display: "metric" }),
  "no way at all": renderReport(makeFixture([])),
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

    for (const width of [1280, 360])
      test(`has nothing for axe to say at ${width} px`, async () => {
        const { page } = await open(html, width);
        await page.addScriptTag({ content: axe.source });
        const found = await page.evaluate(
          `axe.run().then((r) => r.violations.map((v) => v.id + ": " + v.nodes.slice(0, 3).map((n) => n.html).join(" | ")))`,
        );
        assert.deepEqual(found, []);
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
