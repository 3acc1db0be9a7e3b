/** A million shots are read within 512 MB above the idle process (the idle process already holds the uploaded file). */
import { execFileSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { assert, test } from "vitest";

test("a million shots, in a process of their own", () => {
  const script = fileURLToPath(new URL("million-check.ts", import.meta.url));
  const answer = execFileSync(process.execPath, ["--import", "tsx", script], { encoding: "utf8" });
  const { used, excluded, aboveIdleMb } = JSON.parse(answer) as Record<string, number>;
  assert.equal(used! + excluded!, 1_000_000);
  assert.isAbove(used!, 990_000);
  assert.isBelow(aboveIdleMb!, 512);
}, 120_000);
