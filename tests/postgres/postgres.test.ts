/** The same store and queue on a real PostgreSQL: one service, one worker process, one of them killed. */
import { type ChildProcess, spawn } from "node:child_process";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { comparisonSchema } from "../../server/schemas/comparison.js";
import { openPostgres } from "../../server/store/database.js";
import { demoText, demoUpload } from "../http/multipart.js";
import { KEY, openServiceOn, type TestService, withKey } from "../http/service.js";
import { startPostgres, type TestPostgres } from "./server.js";

const root = new URL("../..", import.meta.url).pathname;
const SLOW = 240_000;

let postgres: TestPostgres;
let service: TestService;
beforeAll(async () => {
  postgres = await startPostgres();
  service = await openServiceOn(await openPostgres(postgres.url), {
    DATABASE_URL: postgres.url,
    LOTBRIEF_WORK_HERE: "no",
    LOTBRIEF_STUDY_SECONDS: "20",
  });
}, SLOW);
afterAll(async () => {
  await service?.close();
  await postgres?.stop();
});

/** As an operator starts it; `npm run worker` runs the same file after a build. */
function startWorker(): ChildProcess {
  return spawn(process.execPath, ["--import", "tsx", "server/worker-main.ts"], {
    cwd: root,
    stdio: "ignore",
    env: {
      ...process.env,
      DATABASE_URL: postgres.url,
      LOTBRIEF_KEY: KEY,
      LOTBRIEF_THREADS: "1",
      LOTBRIEF_WARM_UP: "no",
      LOTBRIEF_STUDY_SECONDS: "20",
    },
  });
}

const compare = (count: number) =>
  service.app.inject({
    method: "POST",
    url: "/v1/comparisons",
    payload: {
      parcels: Array.from({ length: count }, (_, i) => ({
        ref: `p${i}`,
        topo: i === 1 ? "nothing" : demoText("wren-spur", "topo.csv"),
        boundary: demoText("wren-spur", "boundary.csv"),
        brief: { floorAreaFt2: 1800 + 100 * i },
      })),
    },
  });
const read = async (id: string) =>
  comparisonSchema.parse((await service.app.inject(`/v1/comparisons/${id}`)).json());

describe("PostgreSQL 15 or later", () => {
  test("is what the operator runs", () => {
    expect(postgres.version).toBeGreaterThanOrEqual(15);
  });

  test("a study is made, listed, noted, varied and deleted", { timeout: SLOW }, async () => {
    const made = await service.app.inject({
      method: "POST",
      url: "/v1/studies",
      ...(await demoUpload("wren-spur")),
    });
    expect(made.statusCode).toBe(201);
    const { links } = made.json();
    expect((await service.app.inject(links.self)).json()).toEqual(made.json());
    const noted = await service.app.inject({
      method: "PATCH",
      url: links.self,
      headers: withKey,
      payload: { stage: "walked", note: "Wet." },
    });
    expect(noted.json().history).toHaveLength(1);
    const list = await service.app.inject({ url: "/v1/studies?q=wet&sort=slope", headers: withKey });
    expect(list.json().studies).toHaveLength(1);
    const variant = await service.app.inject({
      method: "POST",
      url: links.variants,
      payload: { rules: { slopeLimitPct: 20 } },
    });
    expect(variant.statusCode).toBe(201);
    for (const url of [links.self, variant.json().links.self])
      expect((await service.app.inject({ method: "DELETE", url, headers: withKey })).statusCode).toBe(204);
    expect(await service.deps.store.db.query("select 1 from surveys")).toEqual([]);
  });

  test("a comparison is worked off by worker processes; one that is killed loses nothing", {
    timeout: SLOW,
  }, async () => {
    const [first, second] = [startWorker(), startWorker()];
    try {
      const { id } = (await compare(8)).json();
      await expect
        .poll(async () => (await read(id)).progress.done, { timeout: SLOW / 2, interval: 300 })
        .toBeGreaterThan(0);
      first.kill("SIGKILL");
      await expect
        .poll(async () => (await read(id)).status, { timeout: SLOW / 2, interval: 500 })
        .toBe("successful");
      const done = await read(id);
      expect(done.progress).toEqual({ done: 7, failed: 1, total: 8 });
      const studies = await service.deps.store.db.query("select id from studies where comparison_id = $1", [
        id,
      ]);
      expect(studies).toHaveLength(7);
    } finally {
      first.kill("SIGKILL");
      second.kill("SIGKILL");
    }
  });
});
