/** The builder's key: who holds it may list, change and delete lots. Only its hash is kept. */
import { createHash, createHmac, randomBytes, timingSafeEqual } from "node:crypto";
import type { FastifyRequest } from "fastify";
import type { Config } from "./config.js";
import { HttpProblem } from "./errors.js";
import type { Store } from "./store/store.js";

const SESSION_COOKIE = "lotbrief_session";
const SESSION_DAYS = 14;

export interface BuilderKey {
  /** The key itself when it was made just now, to be printed once. */
  readonly madeNow: string | null;
  readonly opens: (candidate: string) => boolean;
  /** A cookie value for the browser of whoever gave the key. */
  readonly newSession: (now: Date) => string;
  readonly sessionOpens: (value: string, now: Date) => boolean;
  /** Where the outside sees the service, when the operator says it: a proxy may change Host. */
  readonly publicOrigin: string | null;
}

const digest = (text: string) => createHash("sha256").update(text, "utf8").digest();

/** The key of the settings; else the one made at first start. */
export async function readBuilderKey(
  store: Pick<Store, "settings">,
  { key: given, publicUrl }: Pick<Config, "key" | "publicUrl">,
): Promise<BuilderKey> {
  let madeNow: string | null = null;
  let keyHash: Buffer;
  if (given !== null) keyHash = digest(given);
  else {
    const fresh = randomBytes(24).toString("base64url");
    const kept = (await store.settings.setOnce(
      "builder-key-sha256",
      digest(fresh).toString("hex"),
    )) as string;
    keyHash = Buffer.from(kept, "hex");
    if (keyHash.equals(digest(fresh))) madeNow = fresh;
  }
  // Sessions are signed with what only the key's owner could know, so a new key ends every session.
  const sign = (text: string) => createHmac("sha256", keyHash).update(`session ${text}`).digest("base64url");
  return {
    madeNow,
    publicOrigin: publicUrl === null ? null : new URL(publicUrl).origin,
    opens: (candidate) => timingSafeEqual(digest(candidate), keyHash),
    newSession: (now) => {
      const until = String(now.getTime() + SESSION_DAYS * 86_400_000);
      return `${until}.${sign(until)}`;
    },
    sessionOpens: (value, now) => {
      const [until = "", signature = ""] = value.split(".");
      const [given, right] = [Buffer.from(signature), Buffer.from(sign(until))];
      return given.length === right.length && timingSafeEqual(given, right) && Number(until) > now.getTime();
    },
  };
}

export function sessionCookie(value: string, secure: boolean): string {
  const age = value === "" ? 0 : SESSION_DAYS * 86_400;
  return `${SESSION_COOKIE}=${value}; Path=/; Max-Age=${age}; HttpOnly; SameSite=Strict${secure ? "; Secure" : ""}`;
}

/** True when the request carries the key, or the session of a browser that gave it. */
export function holdsKey(request: FastifyRequest, key: BuilderKey): boolean {
  const { authorization, cookie } = request.headers;
  if (authorization !== undefined) {
    const [scheme = "", candidate = ""] = authorization.split(" ");
    return scheme.toLowerCase() === "bearer" && key.opens(candidate);
  }
  const session = cookie?.split(/;\s*/).find((pair) => pair.startsWith(`${SESSION_COOKIE}=`));
  return session !== undefined && key.sessionOpens(session.slice(SESSION_COOKIE.length + 1), new Date());
}

/**
 * For routes of the builder. A session acts only from the service's own pages: SameSite=Strict keeps the cookie at home,
 * and the origin is checked as well.
 * @throws {HttpProblem} 401 without key, 403 from another site.
 */
export function needKey(request: FastifyRequest, key: BuilderKey): void {
  if (!holdsKey(request, key))
    throw new HttpProblem(
      "key-needed",
      request.headers.authorization
        ? "The key is not the right one."
        : "Send the builder's key: Authorization: Bearer KEY.",
    );
  const { origin, host, authorization } = request.headers;
  if (authorization === undefined && request.method !== "GET" && request.method !== "HEAD")
    if (origin !== undefined && origin !== key.publicOrigin && !sameHost(origin, host))
      throw new HttpProblem("not-from-here", `Origin ${origin} is another site.`);
}

function sameHost(origin: string, host: string | undefined): boolean {
  return URL.canParse(origin) && new URL(origin).host === host;
}
