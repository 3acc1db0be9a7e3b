/** One line of JSON per answer, without personal data: no address, no query, no token, no body. */
import type { FastifyInstance } from "fastify";

export function registerLog(app: FastifyInstance): void {
  app.addHook("onResponse", async (request, reply) => {
    request.log.info(
      {
        method: request.method,
        // The pattern, not the path: paths hold ids and share tokens.
        route: request.routeOptions.url ?? "none",
        status: reply.statusCode,
        ms: Math.round(reply.elapsedTime * 10) / 10,
      },
      "answered",
    );
  });
}
