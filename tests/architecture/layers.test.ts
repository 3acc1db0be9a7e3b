import { execFileSync } from "node:child_process";
import { describe, expect, test } from "vitest";

const root = new URL("../..", import.meta.url).pathname;

/** Runs the layer check on a folder tree and returns its JSON report. */
function cruise(...args: string[]): {
  summary: { error: number; totalCruised: number; violations: unknown[] };
} {
  const out = execFileSync(
    process.execPath,
    [
      "node_modules/dependency-cruiser/bin/dependency-cruise.mjs",
      "--config",
      ".dependency-cruiser.cjs",
      "--output-type",
      "json",
      ...args,
    ],
    { cwd: root, maxBuffer: 256 * 1024 * 1024, encoding: "utf8" },
  );
  return JSON.parse(out);
}

describe("the layers of the house", () => {
  test("data flows one way, and the check saw every stage", () => {
    const { summary } = cruise("analysis", "server", "templates");
    expect(summary.violations).toEqual([]);
    expect(summary.totalCruised).toBeGreaterThan(100);
  });
});
