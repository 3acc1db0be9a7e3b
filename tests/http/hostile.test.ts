/** What nobody sends by accident: each is refused with a problem or taken as harmless; nothing breaks, nothing hangs. */

import { readFileSync } from "node:fs";
import { type AddressInfo, connect } from "node:net";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { problemSchema } from "../../server/schemas/answers.js";
import type { StudyDocument } from "../../server/study-document.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoText, multipart } from "./multipart.js";
import { openService, type TestService, withKey } from "./service.js";

let service: TestService;
let study: StudyDocument;
const lot = { topo: demoText("wren-spur", "topo.csv"), boundary: demoText("wren-spur", "boundary.csv") };
beforeAll(async () => {
  service = await openService({ LOTBRIEF_UPLOAD_MB: "5" }, handMadeWorkshop());
  await service.app.listen({ host: "127.0.0.1", port: 0 });
  study = (await send("POST", "/v1/studies", lot)).json();
});
afterAll(() => service.close());

type Method = "GET" | "POST" | "PUT" | "PATCH" | "DELETE";
const send = (method: Method, url: string, payload?: object | string, headers: Record<string, string> = {}) =>
  service.app.inject({
    method,
    url,
    headers: {
      ...withKey,
      ...(payload === undefined ? {} : { "content-type": "application/json" }),
      ...headers,
    },
    ...(payload === undefined ? {} : { payload }),
  });
const form = async (url: string, parts: Parameters<typeof multipart>[0]) => {
  const body = await multipart(parts);
  return service.app.inject({
    method: "POST",
    url,
    payload: body.payload,
    headers: { ...body.headers, ...withKey },
  });
};
/** An answer for the caller: done, or a problem that is not ours. */
function expectAnswer({ statusCode, body, headers }: Awaited<ReturnType<typeof send>>) {
  expect(statusCode, body.slice(0, 500)).toBeLessThan(500);
  if (statusCode >= 400 && String(headers["content-type"]).includes("json"))
    problemSchema.parse(JSON.parse(body));
}
const NUL = "a\u0000b";
/** JSON that holds half of a surrogate pair, as `JSON.stringify` writes it. */
const HALF = JSON.stringify("\ud800x");

describe("characters PostgreSQL cannot keep (U+0000 in text, lone surrogates in jsonb) are replaced", () => {
  test("in the name, reference, contact and facts of a study", async () => {
    const made = await send("POST", "/v1/studies", {
      ...lot,
      name: NUL,
      ref: NUL,
      contact: { name: NUL },
      survey: { datum: "\ud800", basisOfBearings: NUL },
    });
    expect(made.statusCode).toBe(201);
    expect(made.json()).toMatchObject({ name: "a\ufffdb", ref: "a\ufffdb" });
    expect((await send("GET", made.json().links.report)).statusCode).toBe(200);
    expect((await send("POST", study.links.variants, { name: NUL })).statusCode).toBe(201);
    expect((await send("POST", study.links.variants, `{"name":${HALF}}`)).json().name).toBe("\ufffdx");
  });

  test("whole characters outside the basic plane stay, also as escapes", async () => {
    const made = await send(
      "POST",
      "/v1/studies",
      `{"topo":${JSON.stringify(lot.topo)},"boundary":${JSON.stringify(lot.boundary)},"name":"\\ud83c\\udfe1"}`,
    );
    expect(made.json().name).toBe("🏡");
  });

  test("in comparisons: names, references, defaults, and what a refused parcel held", async () => {
    const answer = await send(
      "POST",
      "/v1/comparisons",
      `{"name":"\\u0000","defaults":{"name":"\\u0000"},"parcels":[{"ref":"r\\u0000"},{"ref":${HALF},"zz\\u0000":${HALF}},{"name":["x"]}]}`,
    );
    expect(answer.statusCode).toBe(202);
    expect(answer.json().progress).toEqual({ done: 0, failed: 3, total: 3 });
    expect((await send("GET", `${answer.json().links.table}`)).statusCode).toBe(200);
  });

  test.each([
    ["a note", () => send("PATCH", study.links.self, { note: NUL })],
    ["a search", () => send("GET", "/v1/studies?q=%00")],
    ["a token", () => send("GET", "/r/%00abc")],
    ["an id", () => send("GET", "/v1/jobs/%00")],
    ["a layer", () => send("GET", `${study.links.self}/layers/__proto__`)],
    ["a scheme", () => send("GET", `${study.links.stakes}?scheme=%00`)],
    ["the name of defaults", () => send("PUT", "/v1/defaults/%00", {})],
    ["saved defaults", () => send("PUT", "/v1/defaults/x", `{"name":${HALF}}`)],
    [
      "a cost book",
      () =>
        send("PUT", "/v1/cost-books/b%00", {
          ...JSON.parse(readFileSync(new URL("../../demo-data/cost-book.json", import.meta.url), "utf8")),
          id: "b\u0000",
        }),
    ],
    ["the name of a cost book", () => send("DELETE", "/v1/cost-books/%00")],
    ["a book that is asked for", () => send("POST", "/v1/studies", { ...lot, costs: { book: NUL } })],
    [
      "the name of a file, with a path",
      () =>
        form("/v1/studies", [
          { name: "topo", content: lot.topo, filename: "../../etc/passwd%00" },
          { name: "boundary", content: lot.boundary, filename: "..\\b\u0000.csv" },
        ]),
    ],
    [
      "the form of the page",
      () =>
        form("/lots/look", [
          { name: "name", content: NUL },
          { name: "surveyId", content: NUL },
          { name: "topo", content: lot.topo, filename: "t.csv" },
          { name: "boundary", content: lot.boundary, filename: "b.csv" },
        ]),
    ],
  ])("%s", async (_what, answer) => expectAnswer(await answer()));
});

describe("is refused, and says why", () => {
  const nested = (open: string, close: string, times: number) => open.repeat(times) + close.repeat(times);
  test.each([
    ["defaults nested without end", `{"defaults":{"a":${nested("[", "]", 5000)}},"parcels":[{}]}`],
    ["a parcel nested without end", `{"parcels":[${nested('{"a":', "}", 50_000).replace(/:}/, ":1}")}]}`],
    ["names of prototypes", '{"parcels":[{"__proto__":{"x":1}}]}'],
    ["a constructor", '{"defaults":{"constructor":{"prototype":{}}},"parcels":[{}]}'],
  ])("%s", async (_what, payload) => {
    const answer = await send("POST", "/v1/comparisons", payload);
    expect(answer.statusCode).toBe(400);
    expect(problemSchema.parse(answer.json()).type).toBe("/problems/bad-json");
  });

  test("GeoJSON nested without end, inside the request and as a field", async () => {
    const boundary = `{"type":"Polygon","coordinates":${nested("[", "]", 20_000)}}`;
    expect((await send("POST", "/v1/studies", `{"topo":"1,2,3","boundary":${boundary}}`)).statusCode).toBe(
      400,
    );
    const field = await form("/v1/studies", [{ name: "request", content: `{"boundary":${boundary}}` }]);
    expect(field.statusCode).toBe(400);
  });

  test.each<[string, () => ReturnType<typeof send>, number]>([
    [
      "a cursor of nobody's",
      () =>
        send(
          "GET",
          `/v1/studies?cursor=${Buffer.from(JSON.stringify(["newest", 1, "-".repeat(36)])).toString("base64url")}`,
        ),
      400,
    ],
    ["an address that cannot be decoded", () => send("GET", "/v1/studies/%zz"), 400],
    ["an address part without end", () => send("GET", `/r/${"x".repeat(5000)}`), 404],
    ["a file outside the assets", () => send("GET", "/assets/..%2f..%2f..%2fpackage.json"), 404],
    ["a variant as an upload", () => form(study.links.variants, [{ name: "a", content: "b" }]), 415],
    [
      "a body in an encoding nobody offered",
      () => send("POST", "/v1/studies", "{}", { "content-encoding": "gzip" }),
      415,
    ],
    ["a list where an object belongs", () => send("PATCH", study.links.self, []), 422],
    [
      "numbers beyond all measure",
      () => send("POST", "/v1/studies", '{"topo":{"points":[[1e999,1,1]]}}'),
      422,
    ],
  ])("%s", async (_what, answer, status) => {
    const refused = await answer();
    expect(refused.statusCode, refused.body.slice(0, 300)).toBe(status);
    expect(refused.headers["content-type"]).toContain("application/problem+json");
    problemSchema.parse(refused.json());
  });

  test.each([
    ["no HTTP at all", "GARBAGE\r\n\r\n", 400],
    ["headers without end", `GET / HTTP/1.1\r\nhost: x\r\nx: ${"a".repeat(40_000)}\r\n\r\n`, 431],
    [
      "two lengths of one body",
      "POST /v1/studies HTTP/1.1\r\nhost: x\r\ncontent-length: 5\r\ntransfer-encoding: chunked\r\n\r\n0\r\n\r\n",
      400,
    ],
  ])("over the wire: %s", async (_what, text, status) => {
    const answer = await new Promise<string>((resolve) => {
      let got = "";
      const socket = connect((service.app.server.address() as AddressInfo).port, "127.0.0.1", () =>
        socket.write(text),
      );
      socket.on("data", (chunk) => {
        got += chunk;
      });
      socket.on("error", () => {});
      socket.on("close", () => resolve(got));
    });
    expect(answer).toMatch(new RegExp(`^HTTP/1\\.1 ${status} `));
    const [head, body] = answer.split("\r\n\r\n");
    expect(head).toContain("application/problem+json");
    expect(problemSchema.parse(JSON.parse(body!)).status).toBe(status);
  });

  test("a client that stops half-way holds up nobody", async () => {
    const { port } = service.app.server.address() as AddressInfo;
    const head =
      "POST /v1/studies HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\ncontent-length: 500\r\n\r\n{";
    const sockets = Array.from({ length: 20 }, () => {
      const socket = connect(port, "127.0.0.1", () => socket.write(head));
      return socket;
    });
    try {
      expect((await fetch(`http://127.0.0.1:${port}${study.links.report}`)).status).toBe(200);
    } finally {
      for (const socket of sockets) socket.destroy();
    }
  });
});
