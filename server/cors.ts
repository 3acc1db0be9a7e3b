/** Pages of other sites may call the API only where the operator lists them. */
import type { FastifyInstance } from "fastify";

const ALLOWED_METHODS = "GET, POST, PATCH, DELETE";
const ALLOWED_HEADERS = "authorization, content-type, idempotency-key, prefer, if-none-match";
const EXPOSED_HEADERS = "location, etag, retry-after, preference-applied, link";

export function registerCors(app: FastifyInstance, origins: readonly string[]): void {
  if (origins.length === 0) return;
  app.addHook("onRequest", async (request, reply) => {
    const { origin } = request.headers;
    reply.header("vary", "Origin");
    if (origin === undefined || !origins.includes(origin) || !request.url.startsWith("/v1/")) return;
    reply
      .header("access-control-allow-origin", origin)
      .header("access-control-expose-headers", EXPOSED_HEADERS);
    if (request.method === "OPTIONS") {
      await reply
        .code(204)
        .header("access-control-allow-methods", ALLOWED_METHODS)
        .header("access-control-allow-headers", ALLOWED_HEADERS)
        .header("access-control-max-age", "600")
        .send();
    }
  });
}
