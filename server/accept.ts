/** What the client would rather have, from its Accept header (RFC 9110 §12.5.1). */
import type { FastifyRequest } from "fastify";

interface Range {
  readonly type: string;
  readonly q: number;
}

function ranges(accept: string): Range[] {
  return accept.split(",").map((part) => {
    const [type = "", ...parameters] = part.split(";").map((s) => s.trim().toLowerCase());
    const q = parameters.find((p) => p.startsWith("q="));
    const weight = q ? Number(q.slice(2)) : 1;
    return { type, q: Number.isFinite(weight) ? weight : 0 };
  });
}

/** How much a media type is wanted, 0 to 1; the most specific matching range counts. */
export function weightOf(accept: string | undefined, type: string): number {
  if (!accept) return 1;
  const all = ranges(accept);
  const [main] = type.split("/");
  for (const candidate of [type, `${main}/*`, "*/*"]) {
    const hit = all.find((range) => range.type === candidate);
    if (hit) return hit.q;
  }
  return 0;
}

/** True for browsers: they name text/html, programs do not. */
export function wantsHtml(request: FastifyRequest): boolean {
  const accept = request.headers.accept;
  if (!accept?.includes("text/html")) return false;
  return weightOf(accept, "text/html") >= weightOf(accept, "application/json");
}
