import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, test } from "vitest";

const root = new URL("../..", import.meta.url).pathname;
const scripts = JSON.parse(readFileSync(join(root, "package.json"), "utf8")).scripts as Record<
  string,
  string
>;

function markdown(folder: string): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) =>
    entry.isDirectory()
      ? markdown(join(folder, entry.name))
      : entry.name.endsWith(".md")
        ? [join(folder, entry.name)]
        : [],
  );
}

const pages = ["README.md", "DEVELOPERS.md", ...markdown("docs"), "demo-data/README.md"];

describe.each(pages)("%s", (page) => {
  const text = readFileSync(join(root, page), "utf8");

  test("names only commands that exist", () => {
    for (const [, name] of text.matchAll(/npm run ([\w:]+)/g)) expect(Object.keys(scripts)).toContain(name);
  });

  test("links only to files that exist", () => {
    for (const [, target = ""] of text.matchAll(/\]\(([^)#\s]+)[^)]*\)/g)) {
      if (/^[a-z]+:/.test(target)) continue;
      expect(existsSync(join(root, dirname(page), target)), `${page} links to ${target}`).toBe(true);
    }
  });
});

test("the top level holds only the agreed names", () => {
  const allowed = [
    "README.md",
    "DEVELOPERS.md",
    "package.json",
    "package-lock.json",
    "tsconfig.json",
    "server",
    "analysis",
    "templates",
    "tests",
    "demo-data",
    "docs",
  ];
  const built = ["node_modules", "dist", "data", "coverage", "tmp"];
  const found = readdirSync(root).filter((name) => !name.startsWith(".") && !built.includes(name));
  expect(found.filter((name) => !allowed.includes(name))).toEqual([]);
});
