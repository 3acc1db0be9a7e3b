/** The description of the API against an independent validator, and a client generated from it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Validator } from "@seriousme/openapi-schema-validator";
import openapiTS, { astToString } from "openapi-typescript";
import ts from "typescript";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type {
  Comparison,
  Job,
  LeadList,
  LotRequest,
  NewComparison,
  Problem,
  Study,
  Summary,
  SurveyCheck,
} from "../../server/api-types.js";
import { handMadeWorkshop } from "./hand-made-workshop.js";
import { demoText } from "./multipart.js";
import { openService, type TestService, withKey } from "./service.js";

const root = new URL("../..", import.meta.url).pathname;
let service: TestService;
let home: string;
let description: Record<string, unknown>;
beforeAll(async () => {
  service = await openService({}, handMadeWorkshop());
  await service.app.listen({ host: "127.0.0.1", port: 0 });
  home = `http://127.0.0.1:${(service.app.server.address() as AddressInfo).port}`;
  description = (await service.app.inject("/openapi.json")).json();
});
afterAll(() => service.close());

describe("/openapi.json", () => {
  test("is OpenAPI 3.1 by the published schema (@seriousme/openapi-schema-validator)", async () => {
    const { valid, errors } = await new Validator().validate(structuredClone(description));
    expect(errors).toBeUndefined();
    expect(valid).toBe(true);
    expect(description.openapi).toMatch(/^3\.1\./);
  });

  test("names the parts of an upload and the builder's key", () => {
    const paths = description.paths as Record<
      string,
      Record<string, { requestBody?: { content: object }; security?: unknown[] }>
    >;
    expect(Object.keys(paths["/v1/studies"]!.post!.requestBody!.content)).toEqual([
      "multipart/form-data",
      "application/json",
    ]);
    for (const [path, method] of [
      ["/v1/studies", "get"],
      ["/v1/studies/{id}", "delete"],
      ["/v1/studies/{id}/stakes.csv", "get"],
    ] as const)
      expect(paths[path]![method]!.security).toEqual([{ builderKey: [] }]);
  });

  test("a client generated from it (openapi-typescript) compiles strictly and calls the service", {
    timeout: 120_000,
  }, async () => {
    const folder = mkdtempSync(join(tmpdir(), "lotbrief-client-"));
    try {
      writeFileSync(join(folder, "api.ts"), astToString(await openapiTS(description as never)));
      writeFileSync(join(folder, "client.ts"), CLIENT);
      const program = ts.createProgram([join(folder, "client.ts")], {
        strict: true,
        noEmit: true,
        skipLibCheck: true,
        target: ts.ScriptTarget.ES2022,
        module: ts.ModuleKind.NodeNext,
        moduleResolution: ts.ModuleResolutionKind.NodeNext,
        types: ["node"],
      });
      const faults = ts
        .getPreEmitDiagnostics(program)
        .map(({ messageText }) => ts.flattenDiagnosticMessageText(messageText, "\n"));
      expect(faults).toEqual([]);
      const { outputText } = ts.transpileModule(CLIENT, {
        compilerOptions: { module: ts.ModuleKind.ESNext, target: ts.ScriptTarget.ES2022 },
      });
      const client = (await import(`data:text/javascript,${encodeURIComponent(outputText)}`)) as {
        study: (
          home: string,
          topo: string,
          boundary: string,
        ) => Promise<{ id: string; meanSlopePct: number }>;
      };
      const made = await client.study(
        home,
        demoText("wren-spur", "topo.csv"),
        demoText("wren-spur", "boundary.csv"),
      );
      expect(made.id).toMatch(/^[0-9a-f-]{36}$/);
      expect(made.meanSlopePct).toBeGreaterThan(0);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });

  test("the exported types describe what is sent and answered", async () => {
    const lot: LotRequest = {
      topo: demoText("wren-spur", "topo.csv"),
      boundary: demoText("wren-spur", "boundary.csv"),
      rules: { slopeLimitPct: 35 },
    };
    const answer = await fetch(`${home}/v1/studies`, {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify(lot),
    });
    const study = (await answer.json()) as Study;
    expect(study.buildable.slopeLimitPct).toBeTypeOf("number");
    expect(study.request.rules).toMatchObject({ slopeLimitPct: 35 });

    const post = async <T>(path: string, body: unknown, headers: Record<string, string> = {}) =>
      (
        await fetch(home + path, {
          method: "POST",
          headers: { "content-type": "application/json", ...headers },
          body: JSON.stringify(body),
        })
      ).json() as Promise<T>;
    const check = await post<SurveyCheck>("/v1/surveys/check", lot);
    expect(check.preview.edges[0]?.lengthFt).toBeTypeOf("number");
    const job = await post<Job>("/v1/studies", lot, { prefer: "respond-async" });
    expect(job.links.events).toBe(`/v1/jobs/${job.id}/events`);
    const many: NewComparison = { defaults: { display: "us" }, parcels: [lot] };
    const comparison = await post<Comparison>("/v1/comparisons", many);
    expect(comparison.progress.total).toBe(1);
    const problem = await post<Problem>("/v1/studies", { rules: [] });
    expect(problem.errors[0]?.where).toBe("rules");
    const list = (await (await fetch(`${home}/v1/studies`, { headers: withKey })).json()) as LeadList;
    const summary: Summary | undefined = list.studies[0]?.summary;
    expect(summary?.areaFt2).toBeTypeOf("number");
  });
});

describe("/docs/api", () => {
  test("shows every operation and every problem to people", async () => {
    const { body } = await service.app.inject("/docs/api");
    const operations = Object.values(
      description.paths as Record<string, Record<string, { operationId: string }>>,
    ).flatMap((path) => Object.values(path));
    for (const { operationId } of operations) expect(body).toContain(`id="${operationId}"`);
    const problems = readFileSync(`${root}docs/http-api.md`, "utf8").matchAll(/`(\/problems\/[\w-]+)`/g);
    for (const [, address] of problems) expect(body).toContain(`href="${address}"`);
  });
});

const CLIENT = `
import type { paths } from "./api.js";

type Lot = paths["/v1/studies"]["post"]["requestBody"]["content"]["application/json"];
type Study = paths["/v1/studies"]["post"]["responses"][201]["content"]["application/json"];
type Problem = paths["/v1/studies"]["post"]["responses"][422]["content"]["application/problem+json"];

export async function study(home: string, topo: string, boundary: string): Promise<{ id: string; meanSlopePct: number }> {
  const lot: Lot = { topo, boundary, rules: { setbacksFt: { all: 10 } }, brief: { basement: "either" } };
  const answer = await fetch(home + "/v1/studies", {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(lot),
  });
  if (answer.status !== 201) {
    const problem = (await answer.json()) as Problem;
    throw new Error(problem.errors.map(({ where, message }) => where + ": " + message).join("; "));
  }
  const { id, terrain } = (await answer.json()) as Study;
  return { id, meanSlopePct: terrain.meanSlopePct };
}
`;
