/** Every field of an answer is described in /openapi.json: real studies, walked beside their schemas. */

import { readFileSync } from "node:fs";
import { afterAll, beforeAll, expect, test } from "vitest";
import { LAYER_NAMES } from "../../server/study-document.js";
import { demoText, demoUpload } from "./multipart.js";
import { openService, type TestService, withKey } from "./service.js";

const SLOW = 120_000;
interface Schema {
  readonly $ref?: string;
  readonly type?: string;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
}
interface Operation {
  readonly responses: Readonly<
    Record<string, { readonly content: Readonly<Record<string, { schema: Schema }>> }>
  >;
}

let service: TestService;
let api: { readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>> };
beforeAll(async () => {
  service = await openService();
  api = (await service.app.inject("/openapi.json")).json();
});
afterAll(() => service.close());

function answerOf(path: string, method: string, status: number, type = "application/json"): Schema {
  return api.paths[path]![method]!.responses[status]!.content[type]!.schema;
}

function resolved(schema: Schema): Schema {
  if (schema.$ref === undefined) return schema;
  const path = schema.$ref.slice(2).split("/");
  return resolved(path.reduce<unknown>((at, name) => (at as Record<string, unknown>)[name], api) as Schema);
}

/** Paths of fields no schema names. A schema without `properties` leaves its fields open on purpose. */
function undescribed(value: unknown, given: Schema, path: string): string[] {
  const schema = resolved(given);
  if (schema.anyOf) {
    const each = schema.anyOf
      .filter((one) => resolved(one).type === typeOf(value))
      .map((one) => undescribed(value, one, path));
    return each.sort((a, b) => a.length - b.length)[0] ?? [];
  }
  if (Array.isArray(value))
    return schema.items ? value.flatMap((item) => undescribed(item, schema.items!, `${path}[]`)) : [];
  if (typeof value !== "object" || value === null || !schema.properties) return [];
  return Object.entries(value).flatMap(([name, item]) => {
    const known = schema.properties![name];
    return known ? undescribed(item, known, `${path}.${name}`) : [`${path}.${name}`];
  });
}

const typeOf = (value: unknown) => (Array.isArray(value) ? "array" : value === null ? "null" : typeof value);
const unique = (paths: readonly string[]) => [...new Set(paths)].sort();

test("studies of the example lots, their layers and their survey checks", { timeout: SLOW }, async () => {
  const missing: string[] = [];
  for (const lot of ["quillback-lane", "saddlers-bowl", "wren-spur"]) {
    const made = await service.app.inject({ method: "POST", url: "/v1/studies", ...(await demoUpload(lot)) });
    expect(made.statusCode).toBe(201);
    missing.push(...undescribed(made.json(), answerOf("/v1/studies", "post", 201), "study"));
    const checked = await service.app.inject({
      method: "POST",
      url: "/v1/surveys/check",
      ...(await demoUpload(lot)),
    });
    missing.push(...undescribed(checked.json(), answerOf("/v1/surveys/check", "post", 200), "check"));
    const { layers } = made.json().links;
    expect(Object.keys(layers)).toEqual(LAYER_NAMES);
    for (const url of Object.values(layers) as string[]) {
      const layer = await service.app.inject(url);
      expect(layer.statusCode).toBe(200);
      const schema = answerOf("/v1/studies/{id}/layers/{name}", "get", 200, "application/geo+json");
      missing.push(...undescribed(layer.json(), schema, "layer"));
    }
  }
  expect(unique(missing)).toEqual([]);
});

test("the list, a job and a comparison with a bad parcel", { timeout: SLOW }, async () => {
  const lot = { topo: demoText("wren-spur", "topo.csv"), boundary: demoText("wren-spur", "boundary.csv") };
  const job = await service.app.inject({
    method: "POST",
    url: "/v1/studies",
    payload: lot,
    headers: { prefer: "respond-async" },
  });
  const { id } = (
    await service.app.inject({
      method: "POST",
      url: "/v1/comparisons",
      payload: { parcels: [{ ...lot, offer: { askingUsd: 1e5 } }, { ref: "bad" }] },
    })
  ).json();
  const read = async (url: string) => (await service.app.inject({ url, headers: withKey })).json();
  await expect
    .poll(async () => (await read(`/v1/comparisons/${id}`)).status, { timeout: 60_000, interval: 500 })
    .toBe("successful");
  expect(
    unique([
      ...undescribed(
        await read(`/v1/comparisons/${id}`),
        answerOf("/v1/comparisons/{id}", "get", 200),
        "comparison",
      ),
      ...undescribed(await read(String(job.headers.location)), answerOf("/v1/jobs/{id}", "get", 200), "job"),
      ...undescribed(await read("/v1/studies"), answerOf("/v1/studies", "get", 200), "list"),
    ]),
  ).toEqual([]);
});

test("docs/http-api.md names the layers that are served", () => {
  const text = readFileSync(new URL("../../docs/http-api.md", import.meta.url), "utf8");
  const [, named = ""] = /^Layers: ([^.]+)\./m.exec(text)!;
  expect([...named.matchAll(/`([\w-]+)`/g)].map(([, name]) => name).sort()).toEqual([...LAYER_NAMES].sort());
});
