/** The builder's pages as a browser without scripts uses them. */
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { StudyDocument } from "../../server/study-document.js";
import { changedValues } from "../../server/what-if-form.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoUpload, multipart } from "./multipart.js";
import { KEY, openService, type TestService, withKey } from "./service.js";

let service: TestService;
let cookie: string;
const leads: StudyDocument[] = [];
beforeAll(async () => {
  service = await openService({}, handMadeWorkshop());
  for (const [lot, name] of [
    ["quillback-lane", "Odile Marrow"],
    ["saddlers-bowl", '=HYPERLINK("http://example.org")'],
    ["wren-spur", "Tobias Fenn"],
  ] as const)
    leads.push(
      (
        await service.app.inject({
          method: "POST",
          url: "/v1/studies",
          ...(await demoUpload(
            lot,
            JSON.stringify({ name: lot, contact: { name, email: "someone@example.org" } }),
          )),
        })
      ).json(),
    );
  const signedIn = await form("/inbox/sign-in", { key: KEY });
  cookie = String(signedIn.headers["set-cookie"]).split(";")[0]!;
});
afterAll(() => service.close());

const html = { accept: "text/html" };
async function form(url: string, fields: Record<string, string>, headers: Record<string, string> = {}) {
  const body = await multipart(Object.entries(fields).map(([name, content]) => ({ name, content })));
  return service.app.inject({
    method: "POST",
    url,
    payload: body.payload,
    headers: { ...body.headers, ...html, ...headers },
  });
}
const open = (url: string) => service.app.inject({ url, headers: { ...html, cookie } });
const act = (url: string, fields: Record<string, string>) =>
  form(url, fields, { cookie, origin: "http://localhost:8080", host: "localhost:8080" });

describe("only the builder gets in", () => {
  test("without a session every page is the sign-in form, and every action is refused", async () => {
    for (const url of [
      "/inbox",
      "/inbox/leads.csv",
      "/inbox/compare?id=1",
      `/inbox/leads/${leads[0]!.id}`,
      "/inbox/defaults",
    ]) {
      const answer = await service.app.inject({ url, headers: html });
      expect(answer.statusCode, url).toBe(401);
      expect(answer.body).toContain('name="key"');
      expect(answer.body).not.toContain("Marrow");
    }
    for (const url of [
      `/inbox/leads/${leads[0]!.id}/delete`,
      `/inbox/leads/${leads[0]!.id}/notes`,
      "/inbox/defaults",
    ])
      expect((await form(url, { sure: "yes" })).statusCode, url).toBe(401);
  });

  test("a wrong key opens nothing, and a session cannot be made up or used from another site", async () => {
    expect((await form("/inbox/sign-in", { key: "wrong" })).statusCode).toBe(401);
    const forged = await service.app.inject({
      url: "/inbox",
      headers: { ...html, cookie: "lotbrief_session=9999999999999.AAAA" },
    });
    expect(forged.statusCode).toBe(401);
    const elsewhere = await form(
      `/inbox/leads/${leads[0]!.id}/delete`,
      { sure: "yes" },
      { cookie, origin: "https://example.org" },
    );
    expect(elsewhere.statusCode).toBe(403);
    expect((await service.app.inject(leads[0]!.links.self)).statusCode).toBe(200);
  });

  test("the session cookie is out of reach of scripts and of other sites", async () => {
    const { headers } = await form("/inbox/sign-in", { key: KEY });
    expect(headers["set-cookie"]).toMatch(/HttpOnly; SameSite=Strict/);
    expect(String(headers["set-cookie"])).not.toContain(KEY);
  });
});

describe("leads are worked through", () => {
  test("the list shows each lead with plan, numbers, contact and stage; search and stage narrow it", async () => {
    const { body } = await open("/inbox");
    expect(body.match(/class="mini-plan"/g)).toHaveLength(3);
    expect(body).toContain("Odile Marrow");
    const found = (await open("/inbox?q=fenn&stage=&verdict=&sort=premium")).body;
    expect(found).toContain("wren-spur");
    expect(found).not.toContain("quillback-lane");
    expect((await open("/inbox?stage=ours")).body).toContain("No lead here");
  });

  test("a comparison a program sent is listed with how far it is, and opens", async () => {
    expect((await open("/inbox")).body).not.toContain("Comparisons sent by programs");
    const { id } = (
      await service.app.inject({
        method: "POST",
        url: "/v1/comparisons",
        payload: {
          name: "Autumn <offers>",
          parcels: [
            { ref: "a", surveyId: "nobody-has-this" },
            { ref: "b", surveyId: "nor-this" },
          ],
        },
      })
    ).json();
    const { body } = await open("/inbox");
    expect(body).toContain(`<a href="/v1/comparisons/${id}/report">Autumn &lt;offers&gt;</a>`);
    expect(body).toContain("0 of 2 studied, 2 failed");
    expect((await open(`/v1/comparisons/${id}/report`)).body).toContain(
      `action="/inbox/comparisons/${id}/delete"`,
    );
    expect((await act(`/inbox/comparisons/${id}/delete`, { sure: "yes" })).statusCode).toBe(303);
    expect((await open("/inbox")).body).not.toContain(id);
  });

  test("a stage and a note are kept in the history", async () => {
    const url = `/inbox/leads/${leads[0]!.id}`;
    const answer = await act(`${url}/notes`, { stage: "walked", note: "Soft ground near the swale." });
    expect(answer.statusCode).toBe(303);
    const { body } = await open(url);
    expect(body).toMatch(/Lot walked<\/span> Soft ground near the swale\./);
  });

  test("a rerun with saved defaults lays the builder's rules over the buyer's, keeps the contact and says what it used", async () => {
    const saved = await act("/inbox/defaults", {
      name: "Ardenmoor",
      request: '{"rules":{"slopeLimitPct":20},"haul":{"roundTripMin":55}}',
    });
    expect(saved.statusCode).toBe(303);
    const id = /option value="([\w-]{36})">Ardenmoor/.exec(
      (await open(`/inbox/leads/${leads[0]!.id}`)).body,
    )![1]!;
    const rerun = await act(`/inbox/leads/${leads[0]!.id}/rerun`, { defaults: id, book: "" });
    expect(rerun.statusCode).toBe(303);
    const { body } = await open(String(rerun.headers.location));
    expect(body).toContain("defaults Ardenmoor");
    expect(body).toContain("Odile Marrow");
    const study = (
      await service.app.inject(`/v1/studies/${String(rerun.headers.location).split("/").at(-1)}`)
    ).json();
    expect(study.parent).toBe(leads[0]!.id);
    expect(study.request.rules.slopeLimitPct).toBe(20);
    expect(study.request.haul.roundTripMin).toBe(55);
  });

  test("defaults that no request could hold are refused by name, and what was typed stays", async () => {
    const answer = await act("/inbox/defaults", { name: "Wrong", request: '{"rules":{"slopeLimit":20}}' });
    expect(answer.statusCode).toBe(422);
    expect(answer.body).toContain("rules.slopeLimit");
    expect(answer.body).toContain("slopeLimitPct");
    expect(answer.body).toContain("{&quot;rules&quot;:{&quot;slopeLimit&quot;:20}}");
    expect((await act("/inbox/defaults", { name: "Wrong", request: "{" })).statusCode).toBe(400);
  });

  test("a cost book of the builder's own is checked, named in a request, and recorded", async () => {
    const book = JSON.parse(readFileSync(new URL("../../demo-data/cost-book.json", import.meta.url), "utf8"));
    const put = (id: string, payload: object) =>
      service.app.inject({ method: "PUT", url: `/v1/cost-books/${id}`, payload, headers: withKey });
    expect((await put("ours", { ...book, id: "ours", items: book.items.slice(1) })).statusCode).toBe(422);
    expect((await put("other", { ...book, id: "ours" })).statusCode).toBe(422);
    expect((await put("ours", { ...book, id: "ours", name: "Our prices" })).statusCode).toBe(204);
    const study = await service.app.inject({
      method: "POST",
      url: leads[1]!.links.variants,
      payload: { costs: { book: "ours" } },
    });
    expect(study.statusCode).toBe(201);
    expect(study.json().provenance.costBook).toBe("ours");
    expect(
      (await service.app.inject({ method: "DELETE", url: "/v1/cost-books/ours", headers: withKey }))
        .statusCode,
    ).toBe(204);
  });

  test("the ticked leads stand side by side", async () => {
    const { body, statusCode } = await open(`/inbox/compare?${leads.map(({ id }) => `id=${id}`).join("&")}`);
    expect(statusCode).toBe(200);
    expect(body.match(/class="mini-plan"/g)).toHaveLength(3);
    expect((await open(`/inbox/compare?id=${leads[0]!.id}`)).statusCode).toBe(400);
  });

  test("the export holds the ticked leads; a formula in a name stays text", async () => {
    const { body } = await open(`/inbox/leads.csv?id=${leads[1]!.id}`);
    expect(body.trimEnd().split("\r\n")).toHaveLength(2);
    expect(body).toContain(`"'=HYPERLINK(""http://example.org"")"`);
    expect((await open("/inbox/leads.csv")).body.trimEnd().split("\r\n").length).toBeGreaterThanOrEqual(4);
  });

  test("deleting asks once more, and is for good", async () => {
    const { id, links } = leads[2]!;
    expect((await act(`/inbox/leads/${id}/delete`, {})).statusCode).toBe(422);
    expect((await act(`/inbox/leads/${id}/delete`, { sure: "yes" })).statusCode).toBe(303);
    expect((await service.app.inject(links.share)).statusCode).toBe(404);
    expect((await open("/inbox")).body).not.toContain("Tobias Fenn");
  });
});

describe("the share page asks what if", () => {
  test("a 10-year rain harder than the 100-year rain of the study takes that along", () => {
    const change = changedValues({ "rules.rainfall.inPerHr10yr": "12" }, leads[0]!.request);
    expect(change).toMatchObject({ rules: { rainfall: { inPerHr10yr: 12, inPerHr100yr: 12 } } });
  });
  test("a changed value makes a variant; what was left alone stays assumed", async () => {
    const parent = leads[0]!;
    const page = await service.app.inject(parent.links.share);
    expect(page.body).toContain(`action="${parent.links.share}/variants"`);
    const answer = await form(`${parent.links.share}/variants`, {
      "rules.slopeLimitPct": "22",
      "rules.setbacksFt.front": String((parent.request.rules.setbacksFt as { front: number }).front),
      "brief.floorAreaFt2": String(parent.request.brief.floorAreaFt2),
      "rules.rainfall.inPerHr10yr": "7",
    });
    expect(answer.statusCode).toBe(303);
    const token = String(answer.headers.location).split("/").at(-1)!;
    const row = (await service.deps.store.studies.byToken(token))!;
    expect(row.parentId).toBe(parent.id);
    const variant = (await service.app.inject(`/v1/studies/${row.id}`)).json() as StudyDocument;
    expect(variant.request.rules.slopeLimitPct).toBe(22);
    expect(variant.request.rules.rainfall).toMatchObject({
      inPerHr10yr: 7,
      inPerHr100yr: parent.request.rules.rainfall.inPerHr100yr,
    });
    expect(variant.request.assumed).toContain("brief.floorAreaFt2");
    const wrong = await form(`${parent.links.share}/variants`, { "rules.slopeLimitPct": "steep" });
    expect(wrong.statusCode).toBe(422);
    expect(wrong.body).toContain("rules.slopeLimitPct");
  });
});
