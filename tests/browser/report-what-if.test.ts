/** The share page asked "what if" with scripts: the answer comes without leaving the place in the page. */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, assert, beforeAll, describe, test } from "vitest";
import { demoUpload } from "../http/multipart.js";
import { openService, type TestService } from "../http/service.js";

const SLOW = 120_000;
const QUIET = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"];

let service: TestService;
let browser: Browser;
let page: Page;
let opened: string;
const said: string[] = [];

beforeAll(async () => {
  service = await openService();
  await service.app.listen({ host: "127.0.0.1", port: 0 });
  const home = `http://127.0.0.1:${(service.app.server.address() as AddressInfo).port}`;
  const made = await service.app.inject({
    method: "POST",
    url: "/v1/studies",
    ...(await demoUpload("quillback-lane")),
  });
  opened = `${home}${made.json().links.share}`;
  browser = await chromium.launch({
    executablePath: process.env.CHROMIUM_PATH ?? "/usr/bin/chromium",
    args: QUIET,
  });
  page = await browser.newPage({ viewport: { width: 1000, height: 800 } });
  page.setDefaultTimeout(SLOW);
  page.on("pageerror", (error) => said.push(error.message));
  page.on("console", (message) => {
    if (!message.location().url.endsWith("/favicon.ico")) said.push(message.text());
  });
}, SLOW);
afterAll(async () => {
  await browser?.close();
  await service?.close();
});

const status = () => page.locator(".what-if [role=status]").textContent();
const says = (words: RegExp) => page.locator(".what-if [role=status]", { hasText: words }).waitFor();
const answered = () => says(/^Done/);
const field = (name: string) => page.locator(`.what-if [name="${name}"]`);
const formTop = () =>
  page.evaluate(`document.querySelector(".what-if form").getBoundingClientRect().top`) as Promise<number>;
/** What the table beside the form says was asked and came out: label → [before, now]. */
const beside = () =>
  page.evaluate(
    `Object.fromEntries([...document.querySelectorAll(".what-if-answer tbody tr")].map((r) => [r.querySelector("th").textContent, [...r.querySelectorAll("td")].map((d) => d.textContent)]))`,
  ) as Promise<Record<string, [string, string]>>;

describe("what if, live", () => {
  test("a changed value is answered in place, by keyboard, with the old value beside the new", {
    timeout: SLOW,
  }, async () => {
    await page.goto(opened);
    const buildable = await page.locator(".numbers > div:nth-child(2) .likely").textContent();
    await field("rules.slopeLimitPct").focus();
    const top = await formTop();
    await page.keyboard.press("Control+A");
    await page.keyboard.type("20");
    await page.keyboard.press("Enter");
    await answered();
    assert.notEqual(page.url(), opened);
    assert.approximately(await formTop(), top, 2);
    assert.equal(await page.evaluate("document.activeElement.name"), "rules.slopeLimitPct");
    const rows = await beside();
    assert.deepEqual(rows["Steepest ground that counts"], ["30 %", "20 %"]);
    assert.equal(rows["Ground left to build on"]?.[0], buildable);
    assert.include((await status()) ?? "", `Ground left to build on: ${buildable} before`);
    assert.equal(
      await page.locator(".numbers > div:nth-child(2) .was").textContent(),
      `before: ${buildable}`,
    );
  });

  test("a second question is still told against the first study", { timeout: SLOW }, async () => {
    const first = page.url();
    await field("brief.basement").selectOption("none");
    // the answer may be there before anybody could read that it is being worked out
    await page.waitForURL(({ href }) => href !== first);
    await answered();
    assert.deepEqual((await beside())["Steepest ground that counts"], ["30 %", "20 %"]);
  });

  test("a value outside the rules is not asked", { timeout: SLOW }, async () => {
    const url = page.url();
    await field("rules.slopeLimitPct").fill("900");
    await page.keyboard.press("Tab");
    await says(/outside/);
    assert.equal(page.url(), url);
  });

  test("going back shows the study the page was opened on, and nothing was said to the console", {
    timeout: SLOW,
  }, async () => {
    await page.evaluate("void setTimeout(() => history.go(-2))");
    await page.waitForURL(opened);
    await page.locator(".changes").waitFor({ state: "detached" });
    assert.equal(page.url(), opened);
    assert.deepEqual(said, []);
  });
});

test("the script is the service's own file and reaches nothing else", () => {
  const script = readFileSync(new URL("../../templates/pages/assets/what-if.js", import.meta.url), "utf8");
  assert.notMatch(script, /https?:|innerHTML|eval\(/);
});
