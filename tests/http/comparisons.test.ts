/** Many lots in one call: one bad, some in doubt, all of them answered for. */
import { createHmac } from "node:crypto";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { comparisonSchema } from "../../server/schemas/comparison.js";
import type { StudyMade } from "../../server/tasks/work.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoText, demoUpload } from "./multipart.js";
import { openService, type TestService } from "./service.js";

const workshop = handMadeWorkshop();
/** The hand-made study under another price for each name, so that there is an order to find. */
async function study(...args: Parameters<typeof workshop.study>): Promise<StudyMade> {
  const made = await workshop.study(...args);
  if (!made.ok) return made;
  const premium = PREMIUMS[args[0].input.name ?? ""];
  return premium === undefined
    ? made
    : {
        ...made,
        summary: { ...made.summary, premiumUsd: { p10: premium * 0.8, p50: premium, p90: premium * 1.4 } },
      };
}
const PREMIUMS: Record<string, number> = { dear: 900_000, cheap: 100_000, middling: 400_000 };

let service: TestService;
const heard: { signature: string; body: string }[] = [];
const listener = createServer((request, response) => {
  let body = "";
  request.on("data", (chunk) => {
    body += chunk;
  });
  request.on("end", () => {
    heard.push({ signature: String(request.headers["lotbrief-signature"]), body });
    response.end();
  });
});
let hook = "";
beforeAll(async () => {
  await new Promise<void>((resolve) => listener.listen(0, "127.0.0.1", resolve));
  const host = `127.0.0.1:${(listener.address() as AddressInfo).port}`;
  hook = `http://${host}/ended`;
  service = await openService({ LOTBRIEF_WEBHOOK_HOSTS: host }, { ...workshop, study });
});
afterAll(async () => {
  listener.close();
  await service.close();
});

const topo = demoText("wren-spur", "topo.csv");
const boundary = demoText("wren-spur", "boundary.csv");
const parcel = (name: string, more: object = {}) => ({ ref: `ref-${name}`, name, topo, boundary, ...more });
const post = (payload: object, headers: Record<string, string> = {}) =>
  service.app.inject({ method: "POST", url: "/v1/comparisons", payload, headers });
const read = async (id: string) =>
  comparisonSchema.parse((await service.app.inject(`/v1/comparisons/${id}`)).json());
const ended = async (id: string) => {
  await expect.poll(async () => (await read(id)).status, { timeout: 20_000 }).not.toMatch(/accepted|running/);
  return read(id);
};

describe("lots are compared", () => {
  test("a bad parcel fails alone, with its problem; the rest are studied and ordered", async () => {
    const answer = await post({
      name: "Spring offers",
      defaults: {
        rules: { slopeLimitPct: 25, driveway: { maxGradePct: 18 } },
        brief: { floorAreaFt2: 2400 },
      },
      parcels: [
        parcel("dear", { rules: { driveway: { widthFt: 14 } } }),
        parcel("cheap", { brief: null }),
        parcel("no survey", { topo: undefined }),
        parcel("mistyped", { rules: { slopLimit: 3 } }),
        parcel("broken", { boundary: "corner,northing,easting\n1,8000,3504\n2,7988,3596\n" }),
        parcel("middling"),
      ],
    });
    expect(answer.statusCode).toBe(202);
    const { id } = answer.json();
    expect(answer.headers.location).toBe(`/v1/comparisons/${id}`);
    const done = await ended(id);
    expect(done.status).toBe("successful");
    expect(done.progress).toEqual({ done: 3, failed: 3, total: 6 });
    expect(done.ranking).toMatchObject({
      key: "premiumUsd.p50",
      order: ["ref-cheap", "ref-middling", "ref-dear"],
    });
    expect(done.ranking.unrankable.map(({ ref }) => ref)).toEqual([
      "ref-no survey",
      "ref-mistyped",
      "ref-broken",
    ]);
    const of = (name: string) => done.parcels.find((p) => p.name === name)!;
    // The effective request: objects merge, null takes away.
    expect(of("dear").request).toMatchObject({
      rules: { slopeLimitPct: 25, driveway: { maxGradePct: 18, widthFt: 14 } },
      brief: { floorAreaFt2: 2400 },
    });
    expect(of("cheap").request).not.toHaveProperty("brief");
    expect(of("no survey").problem?.errors[0]?.code).toBe("topo-missing");
    expect(of("mistyped").problem?.errors[0]).toMatchObject({ where: "parcels[3].rules.slopLimit" });
    expect(of("broken").problem?.errors[0]?.where).toContain("boundary");
    expect(of("broken").summary).toBeNull();
    const report = await service.app.inject(`/v1/studies/${of("cheap").studyId}`);
    expect(report.json().ref).toBe("ref-cheap");
  });

  test("the table has one row a parcel, blank where unknown", async () => {
    const { id } = (await post({ parcels: [parcel("cheap"), parcel("none", { topo: undefined })] })).json();
    await ended(id);
    const lines = (await service.app.inject(`/v1/comparisons/${id}/table.csv`)).body.trimEnd().split("\r\n");
    expect(lines).toHaveLength(3);
    const header = lines[0]!.split(",");
    const row = (line: string) => Object.fromEntries(line.split(",").map((cell, i) => [header[i], cell]));
    expect(row(lines[1]!)).toMatchObject({
      ref: "ref-cheap",
      status: "successful",
      rank: "1",
      premium_p50_usd: "100000",
    });
    expect(row(lines[2]!)).toMatchObject({
      ref: "ref-none",
      status: "failed",
      rank: "",
      premium_p50_usd: "",
      buildable_ft2: "",
    });
  });

  test("the page shows plans, marks best and worst, and who is beaten in everything", async () => {
    const { id } = (await post({ parcels: [parcel("dear"), parcel("cheap"), parcel("middling")] })).json();
    await ended(id);
    const { body, headers } = await service.app.inject(`/v1/comparisons/${id}/report`);
    expect(headers["content-type"]).toContain("text/html");
    expect(body.match(/class="mini-plan"/g)).toHaveLength(3);
    expect(body.match(/class="best"/g)?.length).toBeGreaterThan(0);
    expect(body).toMatch(/Beaten in everything[\s\S]*<strong>dear<\/strong> by cheap/);
    expect(body).toContain("cheap leads middling by about $300,000.");
  });

  test("surveys may be kept first and named", async () => {
    const kept = await service.app.inject({
      method: "POST",
      url: "/v1/surveys",
      ...(await demoUpload("wren-spur")),
    });
    const { surveyId } = kept.json();
    const parcels = [20, 30].map((slopeLimitPct) => ({
      ref: `limit-${slopeLimitPct}`,
      surveyId,
      rules: { slopeLimitPct },
    }));
    const done = await ended((await post({ parcels })).json().id);
    expect(done.progress.done).toBe(2);
    expect(new Set(done.parcels.map((p) => p.surveyId))).toEqual(new Set([surveyId]));
  });

  test("a repeated call with an Idempotency-Key makes one comparison", async () => {
    const payload = { parcels: [parcel("cheap")] };
    const [first, again] = [
      await post(payload, { "idempotency-key": "k" }),
      await post(payload, { "idempotency-key": "k" }),
    ];
    expect(again.json().id).toBe(first.json().id);
  });
});

describe("a hundred parcels with one bad one", () => {
  test("ninety-nine are studied and ordered, one is named with what to do", {
    timeout: 120_000,
  }, async () => {
    const parcels = Array.from({ length: 100 }, (_, i) =>
      parcel(`lot ${i}`, i === 57 ? { topo: "nothing" } : { offer: { askingUsd: 900_000 - 1000 * i } }),
    );
    const { id } = (await post({ parcels })).json();
    await expect
      .poll(async () => (await read(id)).status, { timeout: 110_000, interval: 500 })
      .toBe("successful");
    const done = await read(id);
    expect(done.progress).toEqual({ done: 99, failed: 1, total: 100 });
    // The same hand-made study under each asking price: the order is that of the prices, dearest last.
    expect(done.ranking.key).toBe("allInUsd.p50");
    expect(done.ranking.order).toEqual(
      Array.from({ length: 100 }, (_, i) => `ref-lot ${99 - i}`).filter((ref) => ref !== "ref-lot 57"),
    );
    expect(done.ranking.unrankable.map(({ ref }) => ref)).toEqual(["ref-lot 57"]);
    expect(Object.values(done.failures)).toEqual([1]);
    const page = await service.app.inject(`/v1/comparisons/${id}/report`);
    expect(page.body.match(/class="mini-plan"/g)).toHaveLength(6);
    expect(page.body).toContain("All of them");
  });
});

describe("a comparison is refused as a whole", () => {
  test.each([
    ["two parcels with one ref", { parcels: [parcel("a"), parcel("a")] }, /parcels\[1\]\.ref/],
    ["no parcel", { parcels: [] }, /parcels/],
    ["too many parcels", { parcels: Array.from({ length: 1001 }, () => ({})) }, /1000/],
    [
      "a webhook to a host nobody allowed",
      { parcels: [parcel("a")], webhook: { url: "https://example.org/", secret: "0123456789abcdef" } },
      /webhook\.url/,
    ],
    [
      "a webhook to the service's own neighbours",
      { parcels: [parcel("a")], webhook: { url: "http://169.254.169.254/", secret: "0123456789abcdef" } },
      /webhook\.url/,
    ],
    ["a mistyped part", { parcels: [parcel("a")], default: {} }, /defaults/],
  ])("%s", async (_what, payload, says) => {
    const answer = await post(payload);
    expect(answer.statusCode).toBe(422);
    expect(JSON.stringify(answer.json().errors)).toMatch(says);
  });
});

describe("work on our side", () => {
  test("the caller's service hears of the end, signed as documented (HMAC-SHA256, RFC 2104)", async () => {
    const secret = "a secret of sixteen letters or more";
    const { id } = (await post({ parcels: [parcel("cheap")], webhook: { url: hook, secret } })).json();
    await expect.poll(() => heard.find(({ body }) => body.includes(id)), { timeout: 20_000 }).toBeTruthy();
    const { signature, body } = heard.find((h) => h.body.includes(id))!;
    const [, time = "", hex] = /^t=(\d+),sha256=([0-9a-f]{64})$/.exec(signature)!;
    expect(createHmac("sha256", secret).update(`${time}.${body}`).digest("hex")).toBe(hex);
    expect(Math.abs(Number(time) - Date.now() / 1000)).toBeLessThan(60);
    expect(JSON.parse(body)).toMatchObject({
      id,
      status: "successful",
      progress: { done: 1, failed: 0, total: 1 },
    });
  });

  test("what has not run is dismissed; what failed is run again", async () => {
    const { id } = (await post({ parcels: Array.from({ length: 12 }, (_, i) => parcel(`p${i}`)) })).json();
    const dismissed = await service.app.inject({ method: "DELETE", url: `/v1/comparisons/${id}` });
    expect(dismissed.statusCode).toBe(200);
    const done = await ended(id);
    expect(done.status).toBe("dismissed");
    expect(done.progress.done).toBe(done.parcels.filter(({ status }) => status === "successful").length);
    expect((await service.app.inject({ method: "DELETE", url: `/v1/comparisons/${id}` })).statusCode).toBe(
      409,
    );

    const bad = (
      await post({ parcels: [parcel("broken", { boundary: "1,8000,3504\n2,7988,3596\n" }), parcel("cheap")] })
    ).json();
    expect((await ended(bad.id)).progress).toEqual({ done: 1, failed: 1, total: 2 });
    const retried = await service.app.inject({ method: "POST", url: `/v1/comparisons/${bad.id}/retry` });
    expect(retried.statusCode).toBe(202);
    expect((await ended(bad.id)).progress).toEqual({ done: 1, failed: 1, total: 2 });
    const whole = (await post({ parcels: [parcel("cheap")] })).json();
    await ended(whole.id);
    expect(
      (await service.app.inject({ method: "POST", url: `/v1/comparisons/${whole.id}/retry` })).statusCode,
    ).toBe(409);
  });

  test("progress is streamed until the end", async () => {
    const { id } = (await post({ parcels: [parcel("cheap"), parcel("dear")] })).json();
    const { body } = await service.app.inject(`/v1/comparisons/${id}/events`);
    const last = body.trimEnd().split("\n\n").at(-1)!;
    expect(last).toContain("event: done");
    expect(JSON.parse(last.split("data: ")[1]!)).toMatchObject({
      status: "successful",
      progress: { done: 2, total: 2 },
    });
  });
});
