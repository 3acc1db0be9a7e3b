/** One lot through the service: made, read in every form, listed, changed, deleted. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { featureCollection, listSchema, problemSchema, studyListItem } from "../../server/schemas/answers.js";
import { checkSchema, studySchema } from "../../server/schemas/study.js";
import type { StudyDocument } from "../../server/study-document.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoText, demoUpload } from "./multipart.js";
import { openService, type TestService, withKey } from "./service.js";

let service: TestService;
let study: StudyDocument;
beforeAll(async () => {
  service = await openService({}, handMadeWorkshop());
  study = (await post(await demoUpload())).json();
});
afterAll(() => service.close());

const post = (body: Awaited<ReturnType<typeof demoUpload>>, headers: Record<string, string> = {}) =>
  service.app.inject({
    method: "POST",
    url: "/v1/studies",
    payload: body.payload,
    headers: { ...body.headers, ...headers },
  });
const get = (url: string, headers: Record<string, string> = {}) => service.app.inject({ url, headers });

describe("a study is made", () => {
  test("the documented upload answers 201 with the study and its address", async () => {
    const answer = await post(await demoUpload());
    expect(answer.statusCode).toBe(201);
    const made = studySchema.parse(answer.json());
    expect(answer.headers.location).toBe(`/v1/studies/${made.id}`);
    expect(made.name).toBe("Lot 4, Quillback Lane, Ardenmoor");
  });

  test("JSON with the surveys inside makes the same study", async () => {
    const payload = {
      ...JSON.parse(demoText("quillback-lane", "request.json")),
      topo: demoText("quillback-lane", "topo.csv"),
      boundary: demoText("quillback-lane", "boundary.csv"),
    };
    const answer = await service.app.inject({ method: "POST", url: "/v1/studies", payload });
    expect(answer.statusCode).toBe(201);
    const { id: _i, token: _t, createdAt: _c, links: _l, ...same } = answer.json();
    const { id: _i2, token: _t2, createdAt: _c2, links: _l2, ...first } = study;
    expect(same).toEqual(first);
  });

  test("what is read later is what was answered", async () => {
    const answer = await get(study.links.self);
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toEqual(study);
  });

  test("a contact is the builder's business and is not in the study", async () => {
    const answer = await post(
      await demoUpload(
        "wren-spur",
        JSON.stringify({ contact: { name: "Odile Marrow", email: "odile@example.org" } }),
      ),
    );
    expect(answer.body).not.toContain("Marrow");
    expect(answer.body).not.toContain("example.org");
    const list = listSchema.parse((await get("/v1/studies?q=marrow", withKey)).json());
    expect(list.studies.map(({ contact }) => contact?.email)).toEqual(["odile@example.org"]);
  });

  test("a repeated request with an Idempotency-Key does its work once", async () => {
    const body = await demoUpload("wren-spur");
    const key = { "idempotency-key": "once-and-only-once" };
    const [first, again] = [await post(body, key), await post(await demoUpload("wren-spur"), key)];
    expect(again.statusCode).toBe(201);
    expect(again.json().id).toBe(first.json().id);
    expect(again.headers.location).toBe(first.headers.location);
    const other = await post(await demoUpload("quillback-lane"), key);
    expect(other.statusCode).toBe(422);
    expect(other.json().type).toBe("/problems/key-reused");
  });

  test("a request that was refused may be sent again under its key", async () => {
    const key = { "idempotency-key": "refused-first" };
    const bad = await post(await demoUpload("wren-spur", '{"rules":{"slopeLimitPct":-1}}'), key);
    expect(bad.statusCode).toBe(422);
    expect((await post(await demoUpload("wren-spur"), key)).statusCode).toBe(201);
  });
});

describe("a study is read in the form asked for", () => {
  test("the report is one page whose style alone is let through", async () => {
    const answer = await get(study.links.report);
    expect(answer.statusCode).toBe(200);
    expect(answer.headers["content-type"]).toBe("text/html; charset=utf-8");
    const policy = String(answer.headers["content-security-policy"]);
    expect(policy).toContain("default-src 'none'");
    expect(policy).toMatch(/style-src 'self' 'sha256-[\w+/=]+'/);
    expect(policy).not.toContain("unsafe-inline");
    expect(answer.body).toContain("<style>");
    expect(answer.body).not.toContain("<script");
  });

  test("the share page needs the token and shows the same report", async () => {
    const shared = await get(study.links.share);
    expect(shared.statusCode).toBe(200);
    expect(shared.headers["x-robots-tag"]).toBe("noindex");
    expect(shared.body).toContain("Lot 4, Quillback Lane");
    expect((await get(`/r/${study.id}`)).statusCode).toBe(404);
  });

  test("a browser that opens the study's address is sent to the report", async () => {
    const answer = await get(study.links.self, { accept: "text/html,application/xhtml+xml,*/*;q=0.8" });
    expect(answer.statusCode).toBe(303);
    expect(answer.headers.location).toBe(study.links.report);
    expect((await get(study.links.self, { accept: "image/png" })).statusCode).toBe(406);
  });

  test("an unchanged study is not sent twice", async () => {
    for (const url of [
      study.links.self,
      study.links.report,
      study.links.quantities,
      study.links.layers.boundary,
    ]) {
      const first = await get(url);
      const etag = String(first.headers.etag);
      expect(etag).toMatch(/^"[\w-]+"$/);
      const again = await get(url, { "if-none-match": `"other", W/${etag}` });
      expect(again.statusCode).toBe(304);
      expect(again.body).toBe("");
    }
  });

  test("each layer is GeoJSON that a map can read", async () => {
    for (const [name, url] of Object.entries(study.links.layers)) {
      const answer = await get(url);
      expect(answer.statusCode, name).toBe(200);
      expect(answer.headers["content-type"]).toContain("application/geo+json");
      const layer = featureCollection.parse(answer.json());
      expect(layer.frame).toBe("local");
      if (name !== "drainage" && name !== "catchments")
        expect(layer.features.length, name).toBeGreaterThan(0);
    }
    const unknown = await get(`${study.links.self}/layers/roads`);
    expect(unknown.statusCode).toBe(400);
    expect(problemSchema.parse(unknown.json()).errors[0]?.remedy).toContain("boundary");
  });

  test("the boundary layer is the lot in survey coordinates: same area by the shoelace formula (closed form)", async () => {
    const { features } = (await get(study.links.layers.boundary)).json();
    const ring: [number, number][] = features[0].geometry.coordinates[0];
    expect(ring[0]).toEqual(ring.at(-1));
    let twice = 0;
    for (let i = 0; i + 1 < ring.length; i++)
      twice += ring[i]![0] * ring[i + 1]![1] - ring[i + 1]![0] * ring[i]![1];
    // Counter-clockwise outer rings: RFC 7946 §3.1.6.
    expect(twice / 2).toBeCloseTo(study.lot.areaFt2, 0);
  });

  test("quantities are a table with the prices of the study", async () => {
    const answer = await get(study.links.quantities);
    const [header, ...rows] = answer.body.trimEnd().split("\r\n");
    expect(header).toBe(
      "scheme,source,code,label,quantity,unit,low_usd,likely_usd,high_usd,flat_lot_likely_usd,hill_adds_low_usd,hill_adds_middle_usd,hill_adds_high_usd,how",
    );
    expect(rows.filter((row) => row.includes(",priced,")).length).toBe(
      study.schemes.reduce((sum, { cost }) => sum + cost.items.length, 0),
    );
    // RFC 4180, section 2: every line holds the same number of fields (commas within quotes do not part fields)
    for (const row of rows)
      expect(row.replace(/"(?:[^"]|"")*"/g, "").split(",").length, row).toBe(header!.split(",").length);
    // spreadsheets read a CSV file in a code page of their own: nothing but ASCII shows right in all of them
    expect(answer.body).toMatch(/^[\x20-\x7e\r\n]*$/);
    expect(answer.body).toContain("28 piers x 16 ft");
  });

  test("a PDF without Chromium is refused with the way round it", async () => {
    const answer = await get(study.links.pdf);
    expect(answer.statusCode).toBe(501);
    expect(problemSchema.parse(answer.json()).errors[0]?.remedy).toContain("CHROMIUM_PATH");
  });
});

describe("the builder", () => {
  test("lists, pages through, notes and deletes leads, with the key alone", async () => {
    for (const [method, url] of [
      ["GET", "/v1/studies"],
      ["PATCH", study.links.self],
      ["DELETE", study.links.self],
      ["GET", study.links.stakes],
    ] as const) {
      const answer = await service.app.inject({
        method,
        url,
        ...(method === "PATCH" ? { payload: { stage: "ours" } } : {}),
      });
      expect(answer.statusCode, `${method} ${url}`).toBe(401);
      expect(answer.headers["www-authenticate"]).toContain("Bearer");
    }
  });

  test("pages never repeat or lose a lead", async () => {
    const all = listSchema
      .parse((await get("/v1/studies?limit=200", withKey)).json())
      .studies.map(({ id }) => id);
    for (const sort of ["newest", "oldest", "premium", "buildable"]) {
      const seen: string[] = [];
      let url: string | null = `/v1/studies?limit=2&sort=${sort}`;
      while (url) {
        const answer = await get(url, withKey);
        const page = listSchema.parse(answer.json());
        seen.push(...page.studies.map(({ id }) => id));
        const link = String(answer.headers.link ?? "");
        url = /<([^>]+)>; rel="next"/.exec(link)?.[1] ?? null;
        expect(url === null).toBe(page.next === null);
      }
      expect([...seen].sort()).toEqual([...all].sort());
    }
    expect((await get("/v1/studies?cursor=nonsense", withKey)).statusCode).toBe(400);
    expect((await get("/v1/studies?order=newest", withKey)).statusCode).toBe(400);
  });

  test("a stage and a note are kept with their time", async () => {
    const patch = (payload: object) =>
      service.app.inject({ method: "PATCH", url: study.links.self, payload, headers: withKey });
    const noted = studyListItem.parse(
      (await patch({ stage: "talking", note: "Called; sends the title report." })).json(),
    );
    expect(noted.stage).toBe("talking");
    expect(noted.history?.at(-1)).toMatchObject({
      stage: "talking",
      note: "Called; sends the title report.",
    });
    const found = listSchema.parse((await get("/v1/studies?stage=talking&q=title", withKey)).json());
    expect(found.studies.map(({ id }) => id)).toEqual([study.id]);
    expect((await patch({})).statusCode).toBe(422);
    expect((await patch({ stage: "sold" })).json().errors[0].remedy).toContain("talking");
  });

  test("deleting takes study, report, contact, notes and survey away for good", async () => {
    const made = (
      await post(await demoUpload("saddlers-bowl", '{"name":"Goes away"}'))
    ).json() as StudyDocument;
    const variant = await service.app.inject({
      method: "POST",
      url: made.links.variants,
      payload: { rules: { slopeLimitPct: 20 } },
    });
    expect(variant.statusCode).toBe(201);
    expect(variant.json().parent).toBe(made.id);
    expect(variant.json().request.rules.slopeLimitPct).toBe(20);
    const remove = (url: string) => service.app.inject({ method: "DELETE", url, headers: withKey });
    expect((await remove(made.links.self)).statusCode).toBe(204);
    expect((await get(made.links.self)).statusCode).toBe(404);
    expect((await get(made.links.share)).statusCode).toBe(404);
    const surveys = () => service.deps.store.db.query("select id from surveys");
    const before = (await surveys()).length;
    expect((await remove(variant.json().links.self)).statusCode).toBe(204);
    expect((await surveys()).length).toBe(before - 1);
    expect(
      await service.deps.store.db.query("select 1 from documents where study_id = $1", [made.id]),
    ).toEqual([]);
  });
});

describe("a survey is looked at before a study", () => {
  test("the check says what was read and keeps nothing", async () => {
    const body = await demoUpload("wren-spur");
    const before = await service.deps.store.db.query("select id from surveys");
    const answer = await service.app.inject({ method: "POST", url: "/v1/surveys/check", ...body });
    expect(answer.statusCode).toBe(200);
    const check = checkSchema.parse(answer.json());
    const rows = demoText("wren-spur", "topo.csv").trimEnd().split("\n").length - 1;
    expect(check.survey.pointsRead).toBe(rows);
    const corners = demoText("wren-spur", "boundary.csv").trimEnd().split("\n").length - 1;
    expect(check.preview.edges.map(({ number }) => number).sort((a, b) => a - b)).toEqual(
      Array.from({ length: corners }, (_, i) => i),
    );
    expect(check.preview.svg).toContain('data-edge="0"');
    expect(await service.deps.store.db.query("select id from surveys")).toEqual(before);
  });

  test("a kept survey serves several studies", async () => {
    const kept = await service.app.inject({
      method: "POST",
      url: "/v1/surveys",
      ...(await demoUpload("wren-spur")),
    });
    expect(kept.statusCode).toBe(201);
    const { surveyId } = kept.json();
    for (const slopeLimitPct of [20, 35]) {
      const answer = await service.app.inject({
        method: "POST",
        url: "/v1/studies",
        payload: { surveyId, rules: { slopeLimitPct } },
      });
      expect(answer.statusCode).toBe(201);
      expect(answer.json().request.rules.slopeLimitPct).toBe(slopeLimitPct);
    }
  });
});

describe("work that goes on after the answer", () => {
  test("Prefer: respond-async answers with a job that ends in the study", async () => {
    const answer = await post(await demoUpload(), { prefer: "respond-async, wait=5" });
    expect(answer.statusCode).toBe(202);
    expect(answer.headers["preference-applied"]).toBe("respond-async");
    const location = String(answer.headers.location);
    expect(location).toBe(`/v1/jobs/${answer.json().id}`);
    await expect
      .poll(async () => (await get(location)).json().status, { timeout: 20_000 })
      .toBe("successful");
    const done = (await get(location)).json();
    expect(done.progress).toBe(100);
    expect((await get(done.links.study)).json().id).toBe(done.studyId);
    const events = await get(`${location}/events`);
    expect(events.headers["content-type"]).toContain("text/event-stream");
    expect(events.body).toMatch(/event: done\ndata: .*"successful"/);
    expect((await service.app.inject({ method: "DELETE", url: location })).statusCode).toBe(409);
  });

  test("a bad survey ends the job with its problem", async () => {
    const body = await demoUpload("quillback-lane", '{"boundary":{"ring":[[0,0],[0,100],[0,200]]}}', {
      boundary: false,
    });
    const location = String((await post(body, { prefer: "respond-async" })).headers.location);
    await expect.poll(async () => (await get(location)).json().status, { timeout: 20_000 }).toBe("failed");
    const { problem, links } = (await get(location)).json();
    expect(problemSchema.parse(problem).status).toBe(422);
    expect(links.study).toBeNull();
  });
});
