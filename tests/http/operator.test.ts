/** What an operator relies on: settings, the key, limits, retention, metrics, restarts. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readBuilderKey } from "../../server/builder-key.js";
import { readConfig } from "../../server/config.js";
import { startHousekeeping, tidyUp } from "../../server/housekeeping.js";
import { problemSchema } from "../../server/schemas/answers.js";
import { openEmbedded } from "../../server/store/embedded.js";
import { openStore } from "../../server/store/store.js";
import { TooBusy, TooHeavy } from "../../server/tasks/work.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoText, demoUpload } from "./multipart.js";
import { openService, openServiceOn, type TestService, withKey } from "./service.js";

const workshop = handMadeWorkshop();
/** Breaks as the lot's name says. */
const breaking = handMadeWorkshop({
  study: async (task, onStep) => {
    switch (task.input.name) {
      case "busy":
        throw new TooBusy("Task queue is at limit");
      case "heavy":
        throw new TooHeavy("It was stopped after 120 seconds.");
      case "broken":
        throw new RangeError("secret detail of ours");
      case "slow":
        await new Promise((resolve) => setTimeout(resolve, 1500));
        return workshop.study(task, onStep);
      default:
        return workshop.study(task, onStep);
    }
  },
});

let service: TestService;
beforeAll(async () => {
  service = await openService(
    { LOTBRIEF_LOG: "silent", LOTBRIEF_CORS_ORIGINS: "https://builder.example" },
    breaking,
  );
});
afterAll(() => service.close());

const study = async (name: string, headers: Record<string, string> = {}) => {
  const body = await demoUpload("wren-spur", JSON.stringify({ name }));
  return service.app.inject({
    method: "POST",
    url: "/v1/studies",
    payload: body.payload,
    headers: { ...body.headers, ...headers },
  });
};

describe("settings", () => {
  test.each([
    [{ PORT: "eighty" }, /PORT/],
    [{ PORT: "70000" }, /PORT/],
    [{ DATABASE_URL: "mysql://x" }, /DATABASE_URL must start with postgres/],
    [{ LOTBRIEF_KEY: "short" }, /LOTBRIEF_KEY must have at least 16/],
    [{ LOTBRIEF_PUBLIC_URL: "lots.example" }, /LOTBRIEF_PUBLIC_URL/],
    [{ LOTBRIEF_THREADS: "0", LOTBRIEF_UPLOAD_MB: "-1" }, /LOTBRIEF_THREADS[\s\S]*LOTBRIEF_UPLOAD_MB/],
    [{ LOTBRIEF_TRUST_PROXY: "true" }, /LOTBRIEF_TRUST_PROXY/],
  ])("%o stops the start and is named", (env, says) => {
    expect(() => readConfig(env)).toThrow(says);
  });

  test("nothing set, or set to nothing, takes the documented defaults", () => {
    expect(readConfig({ PORT: "", DATABASE_URL: "" })).toMatchObject({
      host: "127.0.0.1",
      port: 8080,
      databaseUrl: null,
      retentionDays: 0,
    });
  });
});

describe("what breaks on our side", () => {
  test.each([
    ["busy", 503, "busy"],
    ["heavy", 422, "study-too-heavy"],
    ["broken", 500, "our-fault"],
  ])("%s: %d", async (name, status, type) => {
    const answer = await study(name);
    expect(answer.statusCode).toBe(status);
    expect(problemSchema.parse(answer.json()).type).toBe(`/problems/${type}`);
    expect(answer.body).not.toContain("secret");
    if (status === 503) expect(Number(answer.headers["retry-after"])).toBeGreaterThan(0);
  });

  test("a job that breaks again and again ends as failed, without our details", {
    timeout: 60_000,
  }, async () => {
    const location = String((await study("broken", { prefer: "respond-async" })).headers.location);
    await expect
      .poll(async () => (await service.app.inject(location)).json().status, {
        timeout: 50_000,
        interval: 500,
      })
      .toBe("failed");
    const { problem } = (await service.app.inject(location)).json();
    expect(problem).toMatchObject({ type: "/problems/our-fault", status: 500 });
    expect(JSON.stringify(problem)).not.toContain("secret");
  });

  test("the same Idempotency-Key while the first request runs", async () => {
    const key = { "idempotency-key": "twice-at-once" };
    const [first, second] = await Promise.all([
      study("slow", key),
      new Promise((resolve) => setTimeout(resolve, 500)).then(() => study("slow", key)),
    ]);
    expect(first.statusCode).toBe(201);
    expect(second.statusCode).toBe(409);
    expect(second.json().type).toBe("/problems/already-running");
  });

  test("a queue that waits is dismissed once", async () => {
    const location = String((await study("slow", { prefer: "respond-async" })).headers.location);
    expect((await service.app.inject({ method: "DELETE", url: location })).json().status).toBe("dismissed");
    expect((await service.app.inject({ method: "DELETE", url: location })).statusCode).toBe(409);
  });
});

describe("limits and neighbours", () => {
  test("too many requests are told how long to wait", async () => {
    const strict = await openService({ LOTBRIEF_REQUESTS_PER_MINUTE: "3" }, workshop);
    try {
      const answers = [];
      for (let i = 0; i < 5; i++) answers.push(await strict.app.inject("/r/nonesuch"));
      const refused = answers.at(-1)!;
      expect(refused.statusCode).toBe(429);
      expect(problemSchema.parse(refused.json()).type).toBe("/problems/too-many-requests");
      expect(Number(refused.headers["retry-after"])).toBeGreaterThan(0);
      expect((await strict.app.inject("/healthz")).statusCode).toBe(200);
    } finally {
      await strict.close();
    }
  });

  test("other sites' pages may call only where the operator lists them", async () => {
    const from = (origin: string, method: "GET" | "OPTIONS" = "GET") =>
      service.app.inject({
        method,
        url: "/v1/studies",
        headers: { origin, "access-control-request-method": "POST" },
      });
    expect((await from("https://builder.example")).headers["access-control-allow-origin"]).toBe(
      "https://builder.example",
    );
    expect((await from("https://builder.example", "OPTIONS")).statusCode).toBe(204);
    expect((await from("https://elsewhere.example")).headers["access-control-allow-origin"]).toBeUndefined();
  });

  test("every page and answer carries the protecting headers, and nothing that breaks plain http", async () => {
    for (const url of ["/", "/inbox", "/docs/api", "/v1/studies", "/openapi.json"]) {
      const { headers } = await service.app.inject(url);
      expect(headers["x-content-type-options"]).toBe("nosniff");
      expect(headers["content-security-policy"]).toContain("default-src 'none'");
      expect(headers["content-security-policy"]).not.toMatch(/upgrade-insecure|unsafe/);
      expect(headers["strict-transport-security"]).toBeUndefined();
      // no-referrer would make browsers send "Origin: null" with the builder's own forms.
      expect(headers["referrer-policy"]).toBe("same-origin");
    }
  });

  test("metrics count answers by route, and hold no id, token or name", async () => {
    const made = (await study("Lot of Metrics")).json();
    await service.app.inject(made.links.share);
    const { body, headers } = await service.app.inject("/metrics");
    expect(headers["content-type"]).toContain("text/plain");
    expect(body).toMatch(/lotbrief_answers_total\{method="POST",route="\/v1\/studies",status="201"\} \d+/);
    expect(body).toMatch(/lotbrief_answers_total\{method="GET",route="\/r\/:token",status="200"\} \d+/);
    for (const secret of [made.id, made.token, "Metrics"]) expect(body).not.toContain(secret);
    for (const line of body.trimEnd().split("\n"))
      expect(line).toMatch(/^(# (HELP|TYPE) |[a-z_]+(\{[^}]*\})? [\d.e+-]+$)/);
  });
});

describe("stakes", () => {
  test("are refused where the survey has a stop, and say what stands against them", async () => {
    const stopped = await openService(
      {},
      handMadeWorkshop({
        study: async (task, onStep) => {
          const made = await workshop.study(task, onStep);
          if (!made.ok) return made;
          const { gunzipSync, gzipSync } = await import("node:zlib");
          const document = JSON.parse(gunzipSync(made.documents.study).toString());
          document.findings[0] = {
            ...document.findings[0],
            code: "SRV-04",
            severity: "stop",
            title: "The boundary is open",
            next: "Ask for corners",
          };
          return { ...made, documents: { ...made.documents, study: gzipSync(JSON.stringify(document)) } };
        },
      }),
    );
    try {
      const { links } = (
        await stopped.app.inject({ method: "POST", url: "/v1/studies", ...(await demoUpload()) })
      ).json();
      const answer = await stopped.app.inject({ url: links.stakes, headers: withKey });
      expect(answer.statusCode).toBe(409);
      expect(answer.json()).toMatchObject({
        type: "/problems/stakes-refused",
        errors: [{ code: "SRV-04", remedy: "Ask for corners" }],
      });
    } finally {
      await stopped.close();
    }
  });

  test("are rounded to 0.1 ft and marked on every row", async () => {
    const { links } = (await study("stakes")).json();
    const answer = await service.app.inject({ url: links.stakes, headers: withKey });
    expect(answer.statusCode).toBe(200);
    const [warning, header, ...rows] = answer.body.trimEnd().split("\r\n");
    expect(warning).toContain("PRELIM-NOT FOR CONSTRUCTION");
    expect(header).toBe("point,northing,easting,existing,proposed,cut_or_fill,description");
    expect(rows.length).toBeGreaterThan(3);
    for (const row of rows)
      expect(row).toMatch(
        /^\d+,-?\d+\.\d,-?\d+\.\d,(-?\d+\.\d)?,-?\d+\.\d,([CF] \d+\.\d|0\.0)?,PRELIM-NOT FOR CONSTRUCTION /,
      );
    const none = await service.app.inject({ url: `${links.stakes}?scheme=nonesuch`, headers: withKey });
    expect(none.statusCode).toBe(404);
  });
});

describe("the embedded database on disk", () => {
  test("a restart finds key, studies and unfinished work; a second process is kept out; what is old goes", {
    timeout: 120_000,
  }, async () => {
    const folder = mkdtempSync(join(tmpdir(), "lotbrief-data-"));
    try {
      const first = await openServiceOn(await openEmbedded(folder), { LOTBRIEF_WORK_HERE: "no" }, workshop);
      const made = (
        await first.app.inject({ method: "POST", url: "/v1/studies", ...(await demoUpload()) })
      ).json();
      const comparison = await first.app.inject({
        method: "POST",
        url: "/v1/comparisons",
        payload: {
          parcels: [
            { topo: demoText("wren-spur", "topo.csv"), boundary: demoText("wren-spur", "boundary.csv") },
          ],
        },
      });
      const { madeNow } = await readBuilderKey(first.deps.store, { key: null, publicUrl: null });
      expect(madeNow).toMatch(/^[\w-]{32}$/);
      await expect(openEmbedded(folder, 0)).rejects.toThrow(/Another process uses the data folder/);
      // As a killed process leaves it: the parcel was taken, nobody works on it.
      await first.deps.store.db.query(
        "update queue.job set state = 'active', started_on = now() where name = 'parcel'",
      );
      await first.close();

      const second = await openServiceOn(
        await openEmbedded(folder),
        { LOTBRIEF_RETENTION_DAYS: "30" },
        workshop,
      );
      try {
        expect((await second.app.inject(made.links.self)).json()).toEqual(made);
        const key = await readBuilderKey(second.deps.store, { key: null, publicUrl: null });
        expect(key.madeNow).toBeNull();
        expect(key.opens(madeNow!)).toBe(true);
        const url = `/v1/comparisons/${comparison.json().id}`;
        await expect
          .poll(async () => (await second.app.inject(url)).json().status, { timeout: 30_000 })
          .toBe("successful");

        await second.deps.store.db.query(
          "update studies set created_at = created_at - interval '31 days' where id = $1",
          [made.id],
        );
        await tidyUp(second.deps);
        expect((await second.app.inject(made.links.self)).statusCode).toBe(404);
        expect((await second.app.inject(url)).json().progress.done).toBe(1);
      } finally {
        await second.close();
      }
      const third = await openStore(await openEmbedded(folder));
      expect((await third.db.query("select 1 from studies")).length).toBe(1);
      await third.close();
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

test("a stop right after the start lets the round of tidying up end before the database is closed", async () => {
  const store = await openStore(await openEmbedded(null));
  const errors: unknown[] = [];
  const { queue } = service.deps;
  const stopTidying = startHousekeeping({ store, queue, config: readConfig({}) }, (e) => errors.push(e));
  await stopTidying();
  await store.close();
  // what came too late has failed by now
  await new Promise((resolve) => setTimeout(resolve, 50));
  expect(errors).toEqual([]);
});
