/** What is refused before any route: broken HTTP, addresses and JSON; and the cleaning of what goes on. */
import { STATUS_CODES } from "node:http";
import type { Socket } from "node:net";
import type { FastifyInstance } from "fastify";
import { badJson, HttpProblem, wrongMediaType } from "./errors.js";
import { usable, wellFormed } from "./well-formed.js";

/** Bodies, queries and address parts as every route may work with them. */
export function registerReading(app: FastifyInstance): void {
  const parse = app.getDefaultJsonParser("error", "error");
  app.addContentTypeParser<string>("application/json", { parseAs: "string" }, (request, body, done) => {
    parse(request, body, (error, parsed) => {
      if (error) return done(body === "" ? error : badJson("body", whyNot(body)), undefined);
      try {
        done(null, usable(parsed, body));
      } catch (tooDeep) {
        done(badJson("body", (tooDeep as Error).message), undefined);
      }
    });
  });
  app.addHook("onRequest", async (request) => {
    const encoding = request.headers["content-encoding"];
    if (encoding !== undefined && encoding !== "identity")
      throw wrongMediaType(request, `Content-Encoding ${encoding}`);
  });
  app.addHook("preValidation", async ({ query, params }) => {
    for (const part of [query, params] as Record<string, unknown>[])
      for (const [name, value] of Object.entries(part ?? {}))
        part[name] = Array.isArray(value)
          ? value.map((one) => (typeof one === "string" ? wellFormed(one) : one))
          : typeof value === "string"
            ? wellFormed(value)
            : value;
  });
}

/** The parser's own words name the place. */
function whyNot(text: string): string {
  try {
    JSON.parse(text);
    return "It holds a name that is not taken: __proto__ or constructor.";
  } catch (error) {
    return (error as Error).message;
  }
}

/** An address that cannot be decoded, or whose parts are too long to name anything. */
export function addressProblem({ code }: { readonly code?: string }): HttpProblem {
  if (code !== "FST_ERR_BAD_URL") return new HttpProblem("not-found", "There is nothing at this address.");
  return new HttpProblem("bad-request", "The address cannot be decoded.", {
    errors: [
      {
        where: "address",
        message: "A percent sign is not followed by two hexadecimal digits of UTF-8.",
        remedy: "Write %25 for a percent sign.",
      },
    ],
  });
}

/** Answers what is not HTTP enough to have a route, in the form of every other problem. */
export function answerBrokenHttp(error: Error & { code?: string }, socket: Socket): void {
  if (error.code === "ECONNRESET" || socket.destroyed) return;
  const status =
    error.code === "ERR_HTTP_REQUEST_TIMEOUT" ? 408 : error.code === "HPE_HEADER_OVERFLOW" ? 431 : 400;
  const title = STATUS_CODES[status]!;
  const body = JSON.stringify({
    type: "about:blank",
    title,
    status,
    detail: "The request could not be read as HTTP.",
    instance: "",
    errors: [],
  });
  if (socket.writable)
    socket.write(
      `HTTP/1.1 ${status} ${title}\r\ncontent-type: application/problem+json\r\ncontent-length: ${Buffer.byteLength(body)}\r\nconnection: close\r\n\r\n${body}`,
    );
  socket.destroy(error);
}
