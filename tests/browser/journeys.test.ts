/** Three journeys in a real Chromium, from an empty database: a buyer's two files, a builder's leads, lots compared. */
import { existsSync, readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { demoUpload } from "../http/multipart.js";
import { KEY, openService, type TestService } from "../http/service.js";

const root = new URL("../..", import.meta.url).pathname;
const file = (lot: string, name: string) => `${root}demo-data/${lot}/${name}`;
const SLOW = 120_000;

let service: TestService;
let browser: Browser;
let home: string;
beforeAll(async () => {
  service = await openService();
  await service.app.listen({ host: "127.0.0.1", port: 0 });
  home = `http://127.0.0.1:${(service.app.server.address() as AddressInfo).port}`;
  const executablePath = process.env.CHROMIUM_PATH ?? "/usr/bin/chromium";
  expect(existsSync(executablePath), `${executablePath} is missing: set CHROMIUM_PATH`).toBe(true);
  browser = await chromium.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
    ],
  });
}, SLOW);
afterAll(async () => {
  await browser?.close();
  await service?.close();
});

/** A page that fails the test on any error of a script or refusal of the content security policy. */
async function openPage(context: BrowserContext, errors: string[]): Promise<Page> {
  const page = await context.newPage();
  page.setDefaultTimeout(SLOW);
  page.on("pageerror", (error) => errors.push(error.message));
  page.on("console", (message) => {
    // Chromium reports every answer of 400 and above as a console error; those are looked at as pages.
    if (message.type() === "error" && !message.text().startsWith("Failed to load resource"))
      errors.push(message.text());
  });
  return page;
}

async function visit(settings: Parameters<Browser["newContext"]>[0], journey: (page: Page) => Promise<void>) {
  const context = await browser.newContext(settings);
  const errors: string[] = [];
  try {
    await journey(await openPage(context, errors));
    expect(errors).toEqual([]);
  } finally {
    await context.close();
  }
}

const headline = (page: Page) => page.locator("h1").first().textContent();

describe("a buyer gets from two files to a report", () => {
  test(
    "by mouse: the picture of what was read, the street by a click, progress, the report at its link",
    { timeout: SLOW },
    () =>
      visit({ viewport: { width: 1280, height: 900 } }, async (page) => {
        await page.goto(home);
        await page.setInputFiles("#topo", file("quillback-lane", "topo.csv"));
        await page.setInputFiles("#boundary", file("quillback-lane", "boundary.csv"));
        await page.waitForSelector("#look .survey-preview");
        expect(await page.locator("#look").textContent()).toMatch(/of 237 points used/);
        const side = page.locator('#look input[data-edge="1"]');
        const chosen = () =>
          page.$$eval("#look input:checked", (boxes) => boxes.map((box) => box.getAttribute("data-edge")));
        expect(await page.locator("#look .edges").textContent()).toContain("Guessed");
        expect(await side.isChecked()).toBe(false);
        await page.locator('#look .edge[data-edge="1"] .edge-hit').dispatchEvent("click");
        expect(await chosen(), "the first side shown takes the place of the guess").toEqual(["1"]);
        await page.locator('#look .edge[data-edge="2"] .edge-hit').dispatchEvent("click");
        expect(await chosen()).toEqual(["1", "2"]);
        await page.locator('#look .edge[data-edge="2"] .edge-hit').dispatchEvent("click");
        await page.fill("#name", "Lot by mouse");
        await page.fill("#contactName", "Odile Marrow");
        await page.click("#study");
        await page.waitForSelector("#steps li");
        await page.waitForURL(/\/r\/[\w-]{24}$/);
        expect(await headline(page)).toContain("Lot by mouse");
        expect(await page.locator("svg").count()).toBeGreaterThan(3);
      }),
  );

  test("by keyboard alone", { timeout: SLOW }, () =>
    visit({}, async (page) => {
      await page.goto(home);
      // The browser's own file chooser is not a page: files are put in, everything else is keys.
      await page.setInputFiles("#topo", file("wren-spur", "topo.csv"));
      await page.setInputFiles("#boundary", file("wren-spur", "boundary.csv"));
      await page.waitForSelector("#look .survey-preview");
      await page.keyboard.press("Tab");
      expect(await page.evaluate("document.activeElement.textContent")).toBe("Skip to the content");
      const reach = async (id: string) => {
        for (let i = 0; i < 80; i++) {
          if (await page.evaluate(`document.activeElement.matches(${JSON.stringify(id)})`)) return;
          await page.keyboard.press("Tab");
        }
        throw new Error(`${id} cannot be reached with Tab`);
      };
      await reach('input[data-edge="4"]');
      const was = await page.isChecked('input[data-edge="4"]');
      await page.keyboard.press("Space");
      expect(await page.isChecked('input[data-edge="4"]')).toBe(!was);
      await reach("#floorAreaFt2");
      await page.keyboard.press("Control+A");
      await page.keyboard.type("2400");
      await reach("#study");
      await page.keyboard.press("Enter");
      await page.waitForURL(/\/r\//);
      expect(await page.content()).toContain("2,400");
    }),
  );

  test("without scripts: look, street, study; nothing is lost on a wrong file", { timeout: SLOW }, () =>
    visit({ javaScriptEnabled: false }, async (page) => {
      await page.goto(home);
      await page.setInputFiles("#topo", file("saddlers-bowl", "boundary.csv"));
      await page.setInputFiles("#boundary", file("saddlers-bowl", "boundary.csv"));
      await page.fill("#name", "Lot without scripts");
      await page.fill("#floorAreaFt2", "2800");
      await page.click("text=Study this lot");
      expect(await page.locator("#refusal").textContent()).toMatch(/topo/);
      expect(await page.inputValue("#name")).toBe("Lot without scripts");
      expect(await page.locator(".kept").textContent()).toContain("boundary.csv");
      await page.setInputFiles("#topo", file("saddlers-bowl", "topo.csv"));
      await page.click("text=Look at what was read");
      await page.waitForSelector("#look .survey-preview");
      for (const box of await page.locator('input[name="frontage"]').all()) await box.uncheck();
      await page.check('input[name="frontage"][value="1"]');
      await page.click("text=Study this lot");
      await page.waitForURL(/\/r\//);
      expect(await headline(page)).toContain("Lot without scripts");
    }),
  );

  test(
    "a wrong file with scripts: the refusal says what to do, and what was typed stays",
    { timeout: SLOW },
    () =>
      visit({}, async (page) => {
        await page.goto(home);
        await page.fill("#name", "Kept");
        await page.setInputFiles("#topo", {
          name: "photo.csv",
          mimeType: "text/csv",
          buffer: Buffer.from("no survey at all"),
        });
        await page.setInputFiles("#boundary", file("wren-spur", "boundary.csv"));
        await page.waitForSelector("#refusal:not([hidden])");
        expect(await page.locator("#refusal .remedy").first().textContent()).not.toBe("");
        await page.setInputFiles("#topo", file("wren-spur", "topo.csv"));
        await page.waitForSelector("#look .survey-preview");
        expect(await page.locator("#refusal").isHidden()).toBe(true);
        expect(await page.inputValue("#name")).toBe("Kept");
      }),
  );

  test("an invented lot needs one click, and the report asks what if", { timeout: SLOW }, () =>
    visit({}, async (page) => {
      await page.goto(home);
      await page.click("text=Quillback Lane");
      await page.waitForURL(/\/r\//);
      const first = page.url();
      await page.fill('[name="rules.slopeLimitPct"]', "18");
      await page.locator('form[action$="/variants"] button').click();
      await page.waitForURL((url) => url.href !== first && url.pathname.startsWith("/r/"));
      expect(await page.content()).toContain("What you changed");
    }),
  );
});

describe("a builder triages leads", () => {
  async function signIn(page: Page) {
    await page.goto(`${home}/inbox`);
    await page.fill("#key", KEY);
    await page.keyboard.press("Enter");
    await page.waitForSelector("h1:text('Leads')");
  }

  test(
    "ten leads: found, read, noted, moved, set side by side, exported, deleted",
    { timeout: 3 * SLOW },
    () =>
      visit({ javaScriptEnabled: false }, async (page) => {
        const lots = ["quillback-lane", "saddlers-bowl", "wren-spur"];
        const upload = await demoUpload("wren-spur", JSON.stringify({ contact: { name: "Tobias Fenn" } }));
        await fetch(`${home}/v1/studies`, {
          method: "POST",
          headers: upload.headers,
          body: new Uint8Array(upload.payload),
        });
        for (let have = await leadCount(); have < 10; have++) {
          const example = lots[have % lots.length]!;
          await fetch(`${home}/examples/${example}`, { method: "POST", redirect: "manual" });
        }
        await signIn(page);
        expect(await page.locator(".leads tbody tr").count()).toBeGreaterThanOrEqual(10);
        await page.fill('[name="q"]', "Fenn");
        await page.click("text=Show");
        expect(await page.locator(".leads tbody tr").count()).toBe(1);
        await page.click(".leads th a");
        await page.selectOption("#stage", "walked");
        await page.fill("#note", "Walked it on Tuesday.");
        await page.click("button:text-is('Keep')");
        expect(await page.locator(".history").textContent()).toMatch(/Lot walked\s+Walked it on Tuesday/);
        await page.click("text=All leads");
        await page.selectOption('[name="sort"]', "premium");
        await page.click("text=Show");
        const boxes = page.locator('.leads input[type="checkbox"]');
        for (const i of [0, 1, 2]) await boxes.nth(i).check();
        await page.click("text=Set the ticked side by side");
        expect(await page.locator(".side .mini-plan").count()).toBe(3);
        await page.goBack();
        const download = page.waitForEvent("download");
        await page.click("text=Export as CSV");
        expect((await download).suggestedFilename()).toBe("leads.csv");
        const before = await leadCount();
        await page.locator(".leads th a").first().click();
        await page.check('[name="sure"]');
        await page.click("button:text-is('Delete')");
        await page.waitForSelector("h1:text('Leads')");
        expect(await leadCount()).toBe(before - 1);
      }),
  );

  async function leadCount(): Promise<number> {
    const counts = await service.deps.store.studies.countByStage();
    return Object.values(counts).reduce((sum, n) => sum + n, 0);
  }
});

describe("a program compares lots and somebody looks at the page", () => {
  test("one bad lot among them; the page fills as the lots are done", { timeout: SLOW }, () =>
    visit({}, async (page) => {
      const parcels = ["quillback-lane", "saddlers-bowl", "wren-spur"].map((lot) => ({
        ...JSON.parse(readFileSync(file(lot, "request.json"), "utf8")),
        ref: lot,
        topo: readFileSync(file(lot, "topo.csv"), "utf8"),
        boundary: readFileSync(file(lot, "boundary.csv"), "utf8"),
      }));
      const answer = await fetch(`${home}/v1/comparisons`, {
        method: "POST",
        headers: { "content-type": "application/json" },
        body: JSON.stringify({ name: "Four lots", parcels: [...parcels, { ref: "bad", topo: "nothing" }] }),
      });
      const { links } = (await answer.json()) as { links: { report: string } };
      await page.goto(home + links.report);
      await page.waitForSelector("#progress", { state: "detached" });
      expect(await page.locator(".side .mini-plan").count()).toBe(3);
      expect(await page.locator("body").textContent()).toMatch(/Outside the order[\s\S]*bad/);
      // A phone shows it without sideways scrolling of the whole page.
      await page.setViewportSize({ width: 390, height: 800 });
      expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
    }),
  );
});
