/** Deleting is for good: every row of every table is searched for what must be gone. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { comparisonSchema } from "../../server/schemas/comparison.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoText, demoUpload, multipart } from "./multipart.js";
import { openService, type TestService, withKey } from "./service.js";

let service: TestService;
/** Studies called "held" wait until this is called. */
let letGo = () => {};
const held = new Promise<void>((resolve) => {
  letGo = resolve;
});
const workshop = handMadeWorkshop();
beforeAll(async () => {
  service = await openService(
    {},
    {
      ...workshop,
      study: async (task, onStep) => {
        if (task.input.name === "held") await held;
        return workshop.study(task, onStep);
      },
    },
  );
});
afterAll(() => service.close());

const topo = demoText("wren-spur", "topo.csv");
const boundary = demoText("wren-spur", "boundary.csv");
const send = (method: "GET" | "POST" | "DELETE", url: string, payload?: object, headers = {}) =>
  service.app.inject({ method, url, headers, ...(payload ? { payload } : {}) });
const compare = async (parcels: object[], headers = {}): Promise<{ id: string }> =>
  (await send("POST", "/v1/comparisons", { parcels }, headers)).json();
const read = async (id: string) =>
  comparisonSchema.parse((await send("GET", `/v1/comparisons/${id}`)).json());
const ended = async (id: string) => {
  await expect.poll(async () => (await read(id)).status, { timeout: 20_000 }).not.toMatch(/accepted|running/);
  return read(id);
};

/** Tables in which one of these words still stands. */
async function tablesWith(...words: readonly string[]): Promise<string[]> {
  const { db } = service.deps.store;
  const tables = await db.query<{ name: string }>(
    `select format('%I.%I', table_schema, table_name) as name from information_schema.tables
       where table_schema in ('public', 'queue') and table_type = 'BASE TABLE'`,
  );
  const found: string[] = [];
  for (const { name } of tables) {
    const rows = await db.query<{ row: string }>(`select row_to_json(t)::text as row from ${name} t`);
    if (rows.some(({ row }) => words.some((word) => row.includes(word)))) found.push(name);
  }
  return found;
}
const surveys = async () => (await service.deps.store.db.query("select id from surveys")).length;

describe("a study that is deleted", () => {
  test("leaves no row that names it, its token, its contact or its lot", async () => {
    const before = await surveys();
    const { headers, payload } = await demoUpload(
      "wren-spur",
      JSON.stringify({ name: "Marrow Ridge", contact: { name: "Odile Marrow", email: "odile@example.org" } }),
    );
    const answer = await service.app.inject({
      method: "POST",
      url: "/v1/studies",
      headers: { ...headers, prefer: "respond-async", "idempotency-key": "forget-me" },
      payload,
    });
    const location = String(answer.headers.location);
    await expect
      .poll(async () => (await send("GET", location)).json().status, { timeout: 20_000 })
      .toBe("successful");
    const { studyId: id } = (await send("GET", location)).json();
    const { token, links } = (await send("GET", `/v1/studies/${id}`)).json();
    await service.app.inject({
      method: "PATCH",
      url: links.self,
      payload: { note: "Marrow rang." },
      headers: withKey,
    });
    const words = [id, token, "Marrow", "odile@", location.split("/").at(-1)!];
    expect(await tablesWith(...words)).toEqual(
      expect.arrayContaining(["public.studies", "public.notes", "public.jobs", "public.idempotency"]),
    );
    expect((await send("DELETE", links.self, undefined, withKey)).statusCode).toBe(204);
    // pg-boss marks a job done after it has answered.
    await expect.poll(() => tablesWith(...words), { timeout: 5000 }).toEqual([]);
    expect(await surveys()).toBe(before);
    expect((await send("GET", location)).statusCode).toBe(404);
  });

  test("in a comparison leaves a nameless row, and its survey goes", async () => {
    const before = await surveys();
    const { id } = await compare([
      { ref: "one", name: "Marrow Ridge", topo, boundary },
      { ref: "two", topo, boundary },
    ]);
    const [first] = (await ended(id)).parcels;
    expect((await send("DELETE", `/v1/studies/${first!.studyId}`, undefined, withKey)).statusCode).toBe(204);
    const after = await read(id);
    expect(after.progress).toEqual({ done: 1, failed: 1, total: 2 });
    expect(after.parcels[0]).toMatchObject({ ref: "one", name: "deleted", summary: null, studyId: null });
    expect(after.ranking.order).toEqual(["two"]);
    expect(await tablesWith("Marrow", String(first!.studyId))).toEqual([]);
    expect(await surveys()).toBe(before + 1);
    expect((await send("GET", `/v1/comparisons/${id}/report`)).statusCode).toBe(200);
  });
});

describe("a comparison that is purged", () => {
  test("needs the builder's key, and leaves nothing", async () => {
    const before = await surveys();
    const { id } = await compare(
      [
        { ref: "Marrow-1", topo, boundary },
        { ref: "Marrow-2", topo: "nothing", boundary },
      ],
      { "idempotency-key": "purge-me" },
    );
    const { parcels } = await ended(id);
    const purge = `/v1/comparisons/${id}/purge`;
    expect((await send("POST", purge)).statusCode).toBe(401);
    expect((await send("POST", purge, undefined, withKey)).statusCode).toBe(204);
    await expect
      .poll(() => tablesWith(id, "Marrow", String(parcels[0]!.studyId)), { timeout: 5000 })
      .toEqual([]);
    expect(await surveys()).toBe(before);
    expect((await send("GET", `/v1/comparisons/${id}`)).statusCode).toBe(404);
    expect((await send("GET", `/v1/studies/${parcels[0]!.studyId}/report`)).statusCode).toBe(404);
    expect((await send("POST", purge, undefined, withKey)).statusCode).toBe(404);
  });

  test("half-way: what is being computed is thrown away, the queue goes on", async () => {
    const { id } = await compare(
      Array.from({ length: 6 }, (_, i) => ({ ref: `Marrow-${i}`, name: "held", topo, boundary })),
    );
    await expect
      .poll(async () => (await read(id)).parcels.filter(({ status }) => status === "running").length)
      .toBeGreaterThan(0);
    expect((await send("POST", `/v1/comparisons/${id}/purge`, undefined, withKey)).statusCode).toBe(204);
    letGo();
    expect((await ended((await compare([{ topo, boundary }])).id)).status).toBe("successful");
    await expect.poll(() => tablesWith(id, "Marrow"), { timeout: 5000 }).toEqual([]);
  });

  test("from its page, by the builder who ticks that it is meant", async () => {
    const { id } = await compare([{ topo, boundary }]);
    await ended(id);
    const page = `/v1/comparisons/${id}/report`;
    expect((await send("GET", page)).body).not.toContain("Delete for good");
    const action = /action="([^"]+\/delete)"/.exec((await send("GET", page, undefined, withKey)).body)![1]!;
    const press = async (fields: Parameters<typeof multipart>[0], key = {}) => {
      const form = await multipart(fields);
      return service.app.inject({
        method: "POST",
        url: action,
        payload: form.payload,
        headers: { ...form.headers, ...key },
      });
    };
    const sure = [{ name: "sure", content: "yes" }];
    expect((await press(sure)).statusCode).toBe(401);
    expect((await press([{ name: "other", content: "" }], withKey)).statusCode).toBe(422);
    expect((await press(sure, withKey)).statusCode).toBe(303);
    expect((await send("GET", page)).statusCode).toBe(404);
  });
});

describe("a kept survey that is let go", () => {
  test("goes at once when nothing uses it, else with the last study that does", async () => {
    const keep = async () =>
      (await send("POST", "/v1/surveys", { topo, boundary })).json().surveyId as string;
    const [idle, used] = [await keep(), await keep()];
    const { links } = (await send("POST", "/v1/studies", { surveyId: used })).json();
    const before = await surveys();
    const remove = (url: string) => send("DELETE", url, undefined, withKey);
    expect((await send("DELETE", `/v1/surveys/${idle}`)).statusCode).toBe(401);
    expect((await remove(`/v1/surveys/${idle}`)).statusCode).toBe(204);
    expect(await surveys()).toBe(before - 1);
    expect((await remove(`/v1/surveys/${idle}`)).statusCode).toBe(404);
    expect((await remove(`/v1/surveys/${used}`)).statusCode).toBe(204);
    expect(await surveys()).toBe(before - 1);
    expect((await remove(links.self)).statusCode).toBe(204);
    expect(await surveys()).toBe(before - 2);
  });
});

test("a few lots need not wait for the many that were sent before them", async () => {
  const many = await compare(Array.from({ length: 40 }, () => ({ topo, boundary })));
  const few = await compare(Array.from({ length: 3 }, () => ({ topo, boundary })));
  await ended(few.id);
  expect((await read(many.id)).progress.done).toBeLessThan(40);
});
