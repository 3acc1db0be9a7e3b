/** The process in which studies run: it may be killed, the service must not care. */
import { readdirSync, readFileSync } from "node:fs";
import { afterAll, describe, expect, test } from "vitest";
import { readDefaultBook } from "../../server/start.js";
import { openWorkshop } from "../../server/tasks/workshop-process.js";
import { demoText } from "./multipart.js";

const SLOW = 60_000;
const workshop = openWorkshop({ threads: 1, studySeconds: 60, warmUp: false });
afterAll(() => workshop.close());

const submission = {
  input: { topo: demoText("wren-spur", "topo.csv"), boundary: demoText("wren-spur", "boundary.csv") },
  files: {},
};
const study = (onStep?: (step: string) => void) =>
  workshop.study(
    {
      ...submission,
      book: readDefaultBook(),
      frame: { id: "a", token: "b", createdAt: "2026-01-01T00:00:00Z", parent: null, ref: null },
      before: null,
    },
    onStep,
  );

/** Processes this one has started and that run the workshop. */
function workshopIds(): number[] {
  return readdirSync("/proc")
    .filter((name) => /^\d+$/.test(name))
    .filter((id) => {
      try {
        const parent = / \S \d+ /.exec(readFileSync(`/proc/${id}/stat`, "utf8"))?.[0].split(" ")[2];
        return (
          Number(parent) === process.pid &&
          readFileSync(`/proc/${id}/cmdline`, "utf8").includes("workshop-main")
        );
      } catch {
        return false;
      }
    })
    .map(Number);
}

test("while it warms up it answers, and closing ends the warm-up without a word", {
  timeout: SLOW,
}, async () => {
  const warming = openWorkshop({ threads: 1, studySeconds: 60, warmUp: true });
  const warm = warming.warmUp(readDefaultBook());
  expect(await warming.check(submission)).toMatchObject({ ok: true });
  expect(warming.load().waiting).toBe(0);
  await warming.close();
  await warm;
  await expect(warming.check(submission)).rejects.toThrow(/closed/);
});

describe.skipIf(process.platform !== "linux")("the workshop", () => {
  test("what it had in hand fails when it is killed; the next order starts another", {
    timeout: SLOW,
  }, async () => {
    const [id] = workshopIds();
    let killed = false;
    const lost = study(() => {
      if (!killed) process.kill(id!, "SIGKILL");
      killed = true;
    });
    await expect(lost).rejects.toThrow(/SIGKILL/);
    expect(await workshop.check(submission)).toMatchObject({ ok: true });
    const steps: string[] = [];
    const made = await study((step) => steps.push(step));
    expect(made.ok).toBe(true);
    expect(steps.length).toBeGreaterThan(5);
    expect(workshopIds()).not.toContain(id);
  });

  test("it ends with the service, not when a terminal's Ctrl-C reaches it first", {
    timeout: SLOW,
  }, async () => {
    const [id] = workshopIds();
    process.kill(id!, "SIGINT");
    process.kill(id!, "SIGTERM");
    expect(await workshop.check(submission)).toMatchObject({ ok: true });
    expect(workshopIds()).toEqual([id]);
    await workshop.close();
    expect(workshopIds()).toEqual([]);
    await expect(workshop.check(submission)).rejects.toThrow(/closed/);
  });
});
