/** Sends what is kept compressed, with an ETag: as it is where the client takes gzip, unpacked where not. */
import { createHash } from "node:crypto";
import { promisify } from "node:util";
import { gunzip } from "node:zlib";
import type { FastifyReply, FastifyRequest } from "fastify";
import { reportPolicy, styleHashes } from "./security.js";
import type { Page } from "./store/studies.js";

const unpack = promisify(gunzip) as (data: Uint8Array) => Promise<Buffer>;

export const unpacked = async (gzip: Uint8Array): Promise<string> => (await unpack(gzip)).toString("utf8");

export function etagOf(bytes: Uint8Array | string): string {
  return `"${createHash("sha256").update(bytes).digest("base64url").slice(0, 22)}"`;
}

/** True, and 304 is sent, when the client holds the same document (RFC 9110 §13.1.2). */
export function notModified(request: FastifyRequest, reply: FastifyReply, etag: string): boolean {
  reply.header("etag", etag).header("cache-control", "private, no-cache");
  const held = request.headers["if-none-match"];
  if (held === undefined) return false;
  const matches =
    held.trim() === "*" || held.split(",").some((one) => one.trim().replace(/^W\//, "") === etag);
  if (matches) reply.code(304);
  return matches;
}

/** A report with the policy its styles need. */
export async function sendPage(
  request: FastifyRequest,
  reply: FastifyReply,
  { gzip, styles }: Page,
  allowed: { readonly scripts: boolean },
) {
  reply.header("content-security-policy", reportPolicy(styles ?? styleHashes(await unpacked(gzip)), allowed));
  return sendPacked(request, reply, gzip, "text/html; charset=utf-8");
}

export async function sendPacked(
  request: FastifyRequest,
  reply: FastifyReply,
  gzip: Uint8Array,
  type: string,
) {
  // Two encodings of one document are two representations: each has its own tag.
  const zipped = /\bgzip\b/.test(request.headers["accept-encoding"] ?? "");
  const etag = etagOf(gzip).replace(/"$/, zipped ? '-gz"' : '"');
  reply.header("vary", "Accept, Accept-Encoding");
  if (notModified(request, reply, etag)) return reply.send();
  reply.type(type);
  if (zipped) return reply.header("content-encoding", "gzip").send(Buffer.from(gzip));
  return reply.send(await unpack(gzip));
}
