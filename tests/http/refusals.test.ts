/** Wrong inputs: each gets a 4xx problem that says where, what and what to do; none breaks the service. */
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { problemSchema } from "../../server/schemas/answers.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoText, multipart, type Part } from "./multipart.js";
import { openService, type TestService } from "./service.js";

let service: TestService;
beforeAll(async () => {
  service = await openService({ LOTBRIEF_UPLOAD_MB: "1" }, handMadeWorkshop());
});
afterAll(() => service.close());

const topo = demoText("quillback-lane", "topo.csv");
const boundary = demoText("quillback-lane", "boundary.csv");
const files = (over: {
  topo?: string | null;
  boundary?: string | null;
  request?: string;
  more?: Part[];
}): Part[] => [
  ...(over.topo === null ? [] : [{ name: "topo", content: over.topo ?? topo, filename: "topo.csv" }]),
  ...(over.boundary === null
    ? []
    : [{ name: "boundary", content: over.boundary ?? boundary, filename: "boundary.csv" }]),
  ...(over.request === undefined ? [] : [{ name: "request", content: over.request }]),
  ...(over.more ?? []),
];
const rows = (text: string) => text.trimEnd().split("\n");

interface Wrong {
  readonly what: string;
  readonly parts: Part[];
  readonly status: number;
  readonly type: string;
  /** Must all occur in one entry of `errors`. */
  readonly says: readonly RegExp[];
}

const wrong: readonly Wrong[] = [
  {
    what: "no topo",
    parts: files({ topo: null }),
    status: 422,
    type: "bad-values",
    says: [/topo/, /missing/, /-F topo=@/],
  },
  {
    what: "no boundary",
    parts: files({ boundary: null }),
    status: 422,
    type: "survey-refused",
    says: [/boundary/i],
  },
  {
    what: "an empty topo file",
    parts: files({ topo: "" }),
    status: 422,
    type: "survey-refused",
    says: [/topo/],
  },
  {
    what: "two ground shots",
    parts: files({ topo: rows(topo).slice(0, 3).join("\n") }),
    status: 422,
    type: "survey-refused",
    says: [/topo/],
  },
  {
    what: "all shots on one line",
    parts: files({
      topo: `P,N,E,Z,D\n${Array.from({ length: 20 }, (_, i) => `${i + 1},${5000 + i * 5},${2000 + i * 5},${400 + i},GS`).join("\n")}`,
    }),
    status: 422,
    type: "survey-refused",
    says: [/line/],
  },
  {
    what: "a photograph as topo",
    parts: files({ topo: "\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0" }),
    status: 422,
    type: "survey-refused",
    says: [/topo/],
  },
  {
    what: "the same file twice: a boundary as topo",
    parts: files({ topo: boundary }),
    status: 422,
    type: "survey-refused",
    says: [/topo/],
  },
  {
    what: "a boundary that crosses itself",
    parts: files({
      boundary: "corner,northing,easting\n1,5000,2000\n2,5118,2158\n3,5000,2158\n4,5100,2010\n",
    }),
    status: 422,
    type: "survey-refused",
    says: [/boundary/, /cross/],
  },
  {
    what: "a boundary of two corners",
    parts: files({ boundary: "corner,northing,easting\n1,5000,2000\n2,5118,2158\n" }),
    status: 422,
    type: "survey-refused",
    says: [/boundary/],
  },
  {
    what: "a boundary miles away",
    parts: files({
      boundary: "corner,northing,easting\n1,95000,92000\n2,95000,92100\n3,95100,92100\n4,95100,92000\n",
    }),
    status: 422,
    type: "survey-refused",
    says: [/reach|overlap|apart|outside|away/i],
  },
  {
    what: "a mistyped rule",
    parts: files({ request: '{"rules":{"slopeLimit":30}}' }),
    status: 422,
    type: "bad-values",
    says: [/rules\.slopeLimit/, /slopeLimitPct/],
  },
  {
    what: "a mistyped group",
    parts: files({ request: '{"setbacks":{"all":20}}' }),
    status: 422,
    type: "bad-values",
    says: [/setbacks/, /Known here|Did you mean/],
  },
  {
    what: "a name unlike any other is answered with all that are known, the last of them too",
    parts: files({ request: '{"qqqqqqqq":1}' }),
    status: 422,
    type: "bad-values",
    says: [/qqqqqqqq/, /Known here:.*haul.*offer.*seed/],
  },
  {
    what: "a stop of grading that leaves no month",
    parts: files({ request: '{"rules":{"gradingShutdown":{"fromMonth":6,"toMonth":5}}}' }),
    status: 422,
    type: "bad-values",
    says: [/rules\.gradingShutdown/, /one month/],
  },
  {
    what: "a number in quotes",
    parts: files({ request: '{"brief":{"floorAreaFt2":"3,200"}}' }),
    status: 422,
    type: "bad-values",
    says: [/brief\.floorAreaFt2/, /plain number/],
  },
  {
    what: "a negative setback",
    parts: files({ request: '{"rules":{"setbacksFt":{"all":-5}}}' }),
    status: 422,
    type: "bad-values",
    says: [/rules\.setbacksFt\.all/, /at least 0/],
  },
  {
    what: "an unknown unit",
    parts: files({ request: '{"survey":{"unit":"feet"}}' }),
    status: 422,
    type: "bad-values",
    says: [/survey\.unit/, /us-ft, ft, m/],
  },
  {
    what: "request JSON with a trailing comma",
    parts: files({ request: '{"name":"x",}' }),
    status: 400,
    type: "bad-json",
    says: [/request/, /position/],
  },
  {
    what: "a request that is a list",
    parts: files({ request: "[1,2]" }),
    status: 422,
    type: "bad-values",
    says: [/request/, /object/],
  },
  {
    what: "a price whose low exceeds its high",
    parts: files({ request: '{"costs":{"HAUL":{"low":9,"likely":5,"high":4}}}' }),
    status: 422,
    type: "bad-values",
    says: [/costs\.HAUL/, /low/],
  },
  {
    what: "a price for an unknown item",
    parts: files({ request: '{"costs":{"EXCAVATE":{"low":1,"likely":2,"high":3}}}' }),
    status: 422,
    type: "bad-values",
    says: [/EXCAVATE/, /EXCAV/],
  },
  {
    what: "an unknown cost book",
    parts: files({ request: '{"costs":{"book":"nobody"}}' }),
    status: 422,
    type: "bad-values",
    says: [/costs\.book/, /nobody/],
  },
  {
    what: "slope bands that do not rise",
    parts: files({ request: '{"rules":{"slopeBandsPct":[0,20,10]}}' }),
    status: 422,
    type: "bad-values",
    says: [/slopeBandsPct\[2\]/, /rising from 0/],
  },
  {
    what: "a file part nobody knows",
    parts: files({ more: [{ name: "topography", content: topo, filename: "t.csv" }] }),
    status: 400,
    type: "bad-upload",
    says: [/topography/, /topo/],
  },
  {
    what: "the topo sent twice",
    parts: files({ more: [{ name: "topo", content: topo, filename: "again.csv" }] }),
    status: 400,
    type: "bad-upload",
    says: [/topo/, /twice/],
  },
  {
    what: "a survey that is not kept here",
    parts: files({
      topo: null,
      boundary: null,
      request: '{"surveyId":"0b1ddad2-0000-4000-8000-000000000000"}',
    }),
    status: 422,
    type: "bad-values",
    says: [/surveyId/, /v1\/surveys/],
  },
  {
    what: "a file larger than the limit",
    parts: files({ topo: topo.repeat(500) }),
    status: 413,
    type: "too-large",
    says: [/topo/, /1 MB/],
  },
];

describe("a wrong upload is refused so that it can be put right", () => {
  test.each(wrong)("$what: $status $type", async ({ parts, status, type, says }) => {
    const answer = await service.app.inject({
      method: "POST",
      url: "/v1/studies",
      ...(await multipart(parts)),
    });
    expect(answer.statusCode, answer.body.slice(0, 2000)).toBe(status);
    expect(answer.headers["content-type"]).toBe("application/problem+json");
    const problem = problemSchema.parse(answer.json());
    expect(problem.type).toBe(`/problems/${type}`);
    expect(problem.errors.length).toBeGreaterThan(0);
    for (const { message, remedy } of problem.errors) {
      expect(message.length).toBeGreaterThan(5);
      expect(remedy.length).toBeGreaterThan(5);
    }
    const entries = problem.errors.map((entry) => JSON.stringify(entry));
    expect(
      entries.some((entry) => says.every((pattern) => pattern.test(entry))),
      entries.join("\n"),
    ).toBe(true);
  });

  test("nothing is kept of a lot that was refused", async () => {
    expect(await service.deps.store.db.query("select id from studies")).toEqual([]);
    expect(await service.deps.store.db.query("select id from surveys")).toEqual([]);
  });
});

describe("a wrong request is told what is wrong", () => {
  const post = (payload: string, type = "application/json") =>
    service.app.inject({ method: "POST", url: "/v1/studies", payload, headers: { "content-type": type } });

  test.each([
    ["broken JSON", () => post('{"topo": '), 400, "bad-json"],
    ["an empty body", () => post(""), 400, "bad-json"],
    ["a body of another type", () => post("topo", "text/plain"), 415, "wrong-media-type"],
    ["a form body", () => post("a=b", "application/x-www-form-urlencoded"), 415, "wrong-media-type"],
    [
      "JSON larger than the limit",
      () => post(JSON.stringify({ topo: "x".repeat(2_000_000) })),
      413,
      "too-large",
    ],
    ["a multipart body without boundary", () => post("x", "multipart/form-data"), 400, "bad-upload"],
    [
      "a multipart body cut off",
      () =>
        post(
          '--b\r\ncontent-disposition: form-data; name="topo"; filename="a"\r\n\r\n1,2',
          "multipart/form-data; boundary=b",
        ),
      400,
      "bad-upload",
    ],
    ["a key that pollutes prototypes", () => post('{"__proto__":{"x":1}}'), 400, "bad-json"],
    ["an unknown address", () => service.app.inject("/v1/lots"), 404, "not-found"],
    ["an id that is none", () => service.app.inject("/v1/studies/7"), 404, "not-found"],
    [
      "an id nobody has",
      () => service.app.inject("/v1/studies/0b1ddad2-0000-4000-8000-000000000000"),
      404,
      "not-found",
    ],
    ["a report nobody has", () => service.app.inject("/r/nonesuch"), 404, "not-found"],
    [
      "a job nobody has",
      () => service.app.inject("/v1/jobs/0b1ddad2-0000-4000-8000-000000000000"),
      404,
      "not-found",
    ],
    [
      "a method the address does not take",
      () => service.app.inject({ method: "PUT", url: "/v1/studies" }),
      405,
      "method-not-allowed",
    ],
    ["the list without the key", () => service.app.inject("/v1/studies"), 401, "key-needed"],
    [
      "the list with a wrong key",
      () => service.app.inject({ url: "/v1/studies", headers: { authorization: "Bearer wrong" } }),
      401,
      "key-needed",
    ],
  ])("%s", async (_what, send, status, type) => {
    const answer = await send();
    expect(answer.statusCode, answer.body.slice(0, 2000)).toBe(status);
    const problem = problemSchema.parse(answer.json());
    expect(problem.type).toBe(`/problems/${type}`);
    const page = await service.app.inject(problem.type);
    expect(page.statusCode).toBe(200);
    expect(page.json().about.length).toBeGreaterThan(20);
  });
});
