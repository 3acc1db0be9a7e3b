/** The README's first command on a fresh checkout, where nothing is built. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";

const read = (name: string) => readFileSync(new URL(`../../${name}`, import.meta.url), "utf8");

test("start builds by itself: npm leaves out pre and post scripts where ignore-scripts is set, as it is here", () => {
  expect(read(".npmrc")).toMatch(/^ignore-scripts=true$/m);
  const { scripts } = JSON.parse(read("package.json")) as { scripts: Record<string, string> };
  expect(scripts.start).toMatch(/^npm run build && /);
  expect(Object.keys(scripts).filter((name) => /^(?:pre|post)/.test(name))).toEqual([]);
});
