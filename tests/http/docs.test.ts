/** Every example of docs/http-api.md against a real service: real analysis, real threads. */
import { readFileSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { PROBLEM_TYPES } from "../../server/problem-types.js";
import { KEY, openService, type TestService } from "./service.js";

const root = new URL("../..", import.meta.url).pathname;
const text = readFileSync(`${root}docs/http-api.md`, "utf8");

interface Example {
  readonly status: number;
  /** Variable = member of the JSON answer. */
  readonly captures: readonly (readonly [string, string])[];
  readonly command: string;
}

const examples = [...text.matchAll(/<!-- answers (\d+)((?:, \w+=\w+)*) -->\n```sh\n([\s\S]*?)```/g)].map(
  ([, status, captures = "", command = ""]): Example => ({
    status: Number(status),
    captures: [...captures.matchAll(/(\w+)=(\w+)/g)].map(
      ([, name = "", member = ""]) => [name, member] as const,
    ),
    command,
  }),
);

/** The words of one shell command: quotes, joined pieces, continued lines and variables; enough for the examples. */
function shellWords(command: string, variables: Readonly<Record<string, string>>): string[] {
  const words: string[] = [];
  let word: string | null = null;
  const expand = (s: string) => s.replace(/\$(\w+)/g, (_, name: string) => variables[name] ?? `$${name}`);
  for (const [, single, double, escaped, blank, plain] of command.matchAll(
    /'([^']*)'|"([^"]*)"|\\(\n)|(\s+)|([^\s'"\\]+)/g,
  )) {
    if (escaped !== undefined) continue;
    if (blank !== undefined) {
      if (word !== null) words.push(word);
      word = null;
    } else word = (word ?? "") + (single ?? expand(double ?? plain ?? ""));
  }
  if (word !== null) words.push(word);
  return words;
}

/** What curl would send for these words. */
function curl(words: readonly string[]): { url: string; init: RequestInit } {
  const headers = new Headers();
  const form = new FormData();
  let url = "";
  let method = "";
  let body: FormData | string | null = null;
  let hasForm = false;
  for (let i = 1; i < words.length; i++) {
    const flag = words[i]!;
    if (flag === "-sS" || flag === "-sSN") continue;
    if (!flag.startsWith("-")) {
      url = flag;
      continue;
    }
    const value = words[++i]!;
    if (flag === "-H")
      headers.append(value.slice(0, value.indexOf(":")), value.slice(value.indexOf(":") + 1).trim());
    else if (flag === "-X") method = value;
    else if (flag === "-d")
      body = value.startsWith("@") ? readFileSync(root + value.slice(1), "utf8") : value;
    else if (flag === "-F") {
      hasForm = true;
      const [, name = "", kind, rest = ""] = /^(\w+)=([@<]?)([\s\S]*)$/.exec(value)!;
      if (kind === "@") form.append(name, new Blob([readFileSync(root + rest)]), rest.split("/").at(-1));
      else form.append(name, kind === "<" ? readFileSync(root + rest, "utf8") : rest);
    } else if (flag !== "-o") throw new Error(`the test does not know ${flag}`);
  }
  if (hasForm) body = form;
  return { url, init: { method: method || (body ? "POST" : "GET"), headers, body, redirect: "manual" } };
}

let service: TestService;
const variables: Record<string, string> = { KEY };
beforeAll(async () => {
  service = await openService();
  await service.app.listen({ host: "127.0.0.1", port: 0 });
  variables.LOTBRIEF = `http://127.0.0.1:${(service.app.server.address() as AddressInfo).port}`;
});
afterAll(() => service.close());

describe("docs/http-api.md", () => {
  test.each(examples)(
    "answers $status: $command",
    { timeout: 120_000 },
    async ({ status, captures, command }) => {
      const { url, init } = curl(shellWords(command, variables));
      const answer = await fetch(url, init);
      const body = await answer.text();
      expect(answer.status, body.slice(0, 2000)).toBe(status);
      for (const [name, member] of captures) {
        variables[name] = JSON.parse(body)[member];
        expect(variables[name]).toBeTruthy();
      }
    },
  );

  test("shows every route of the API", () => {
    const { paths } = service.app.swagger() as { paths: Record<string, Record<string, unknown>> };
    const shown = examples.map(({ command }) => {
      const { url, init } = curl(
        shellWords(command, {
          LOTBRIEF: "http://x",
          ID: "ID",
          TOKEN: "ID",
          VARIANT: "ID",
          JOB: "ID",
          COMPARISON: "ID",
        }),
      );
      return `${init.method} ${new URL(url).pathname}`;
    });
    for (const [path, methods] of Object.entries(paths))
      for (const method of Object.keys(methods)) {
        const pattern = new RegExp(`^${method.toUpperCase()} ${path.replace(/\{\w+\}/g, "[^/]+")}$`);
        expect(
          shown.some((s) => pattern.test(s)),
          `${method.toUpperCase()} ${path}`,
        ).toBe(true);
      }
  });

  test("lists every kind of problem with its status and title", () => {
    const rows = [...text.matchAll(/^\| `\/problems\/([\w-]+)` \| (\d+) \| (.+) \|$/gm)].map(
      ([, slug, status, title]) => [slug, Number(status), title],
    );
    expect(rows).toEqual(
      Object.entries(PROBLEM_TYPES).map(([slug, { status, title }]) => [slug, status, title]),
    );
  });
});
