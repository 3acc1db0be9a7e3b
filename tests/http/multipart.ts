/** A multipart body for app.inject, as curl -F or a browser would send it. */
import { readFileSync } from "node:fs";

export interface Part {
  readonly name: string;
  readonly content: string | Uint8Array;
  /** Makes it a file. */
  readonly filename?: string;
}

export async function multipart(parts: readonly Part[]) {
  const form = new FormData();
  for (const { name, content, filename } of parts)
    if (filename === undefined) form.append(name, String(content));
    else
      form.append(
        name,
        new Blob([typeof content === "string" ? content : new Uint8Array(content)]),
        filename,
      );
  const body = new Response(form);
  return {
    payload: Buffer.from(await body.arrayBuffer()),
    headers: { "content-type": body.headers.get("content-type")! },
  };
}

const root = new URL("../..", import.meta.url).pathname;

export const demoText = (lot: string, file: string) =>
  readFileSync(`${root}demo-data/${lot}/${file}`, "utf8");

/** The documented upload of one of the demo lots. */
export function demoUpload(
  lot = "quillback-lane",
  request = demoText(lot, "request.json"),
  { boundary = true }: { boundary?: boolean } = {},
) {
  return multipart([
    { name: "topo", content: demoText(lot, "topo.csv"), filename: "topo.csv" },
    ...(boundary
      ? [{ name: "boundary", content: demoText(lot, "boundary.csv"), filename: "boundary.csv" }]
      : []),
    { name: "request", content: request },
  ]);
}
