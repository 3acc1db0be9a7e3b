/** A POST repeated under the same Idempotency-Key is answered with the first answer, and does its work once. */
import type { FastifyReply, FastifyRequest } from "fastify";
import { HttpProblem } from "./errors.js";
import { sha256 } from "./ids.js";
import type { KeptAnswer } from "./store/idempotency.js";
import type { Store } from "./store/store.js";
import type { Submission } from "./tasks/work.js";

const LONGEST_KEY = 200;

export async function idempotent(
  request: FastifyRequest,
  reply: FastifyReply,
  store: Pick<Store, "idempotency">,
  fingerprint: () => string,
  work: () => Promise<{ status: number; location: string; body: string }>,
) {
  const send = ({ status, location, body }: KeptAnswer) => {
    if (location) reply.header("location", location);
    return reply.code(status).type("application/json; charset=utf-8").send(body);
  };
  const key = request.headers["idempotency-key"];
  if (key === undefined) return send(await work());
  if (Array.isArray(key) || key.length === 0 || key.length > LONGEST_KEY)
    throw new HttpProblem(
      "bad-request",
      `Idempotency-Key must be one value of 1 to ${LONGEST_KEY} characters.`,
      {
        errors: [
          {
            where: "header idempotency-key",
            message: "It is empty, sent twice or too long.",
            remedy: "Send one random value, such as a UUID.",
          },
        ],
      },
    );

  const route = `${request.method} ${request.url.split("?")[0]}`;
  const claim = await store.idempotency.claim(key, route, fingerprint());
  switch (claim.kind) {
    case "answered":
      return send(claim.answer);
    case "running":
      throw new HttpProblem("already-running", "The first request with this key has not finished.", {
        headers: { "retry-after": "5" },
      });
    case "other-request":
      throw new HttpProblem("key-reused", "This Idempotency-Key was sent with another body.");
    case "first":
      try {
        const answer = await work();
        await store.idempotency.keep(key, route, answer);
        return send(answer);
      } catch (error) {
        await store.idempotency.release(key, route);
        throw error;
      }
  }
}

/** The same for the same request and files, however the multipart boundary was drawn. */
export function submissionFingerprint({ input, files }: Submission): string {
  const parts = Object.entries(files)
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([part, { bytes }]) => `${part}:${sha256(bytes)}`);
  return sha256(JSON.stringify([input, parts]));
}
