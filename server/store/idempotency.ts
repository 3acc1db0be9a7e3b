/** First answers kept under the caller's Idempotency-Key, so that a repeated POST does its work once. */
import type { Database, Query } from "./database.js";

export interface KeptAnswer {
  readonly status: number;
  readonly location: string | null;
  readonly body: string;
}

export type Claim =
  | { readonly kind: "first" }
  | { readonly kind: "answered"; readonly answer: KeptAnswer }
  | { readonly kind: "running" }
  | { readonly kind: "other-request" };

/** A claim whose work never ended (the process was killed) may be taken over after this. */
const ABANDONED_MINUTES = 15;

/** Kept answers that made what is being deleted: they repeat it word for word. */
export async function forgetAnswers(query: Query, locations: readonly string[]): Promise<void> {
  await query("delete from idempotency where location = any($1::text[])", [locations]);
}

export function idempotencyIn(db: Database) {
  return {
    claim: async (key: string, route: string, bodyHash: string): Promise<Claim> => {
      const taken = await db.query(
        `insert into idempotency (key, route, body_hash) values ($1, $2, $3)
         on conflict (key, route) do update set created_at = now()
           where idempotency.status is null and idempotency.body_hash = excluded.body_hash
             and idempotency.created_at < now() - make_interval(mins => $4)
         returning key`,
        [key, route, bodyHash, ABANDONED_MINUTES],
      );
      if (taken.length > 0) return { kind: "first" };
      const [row] = await db.query<{
        bodyHash: string;
        status: number | null;
        location: string | null;
        body: string;
      }>(
        `select body_hash as "bodyHash", status, location, body from idempotency where key = $1 and route = $2`,
        [key, route],
      );
      if (!row) return { kind: "first" };
      if (row.bodyHash !== bodyHash) return { kind: "other-request" };
      if (row.status === null) return { kind: "running" };
      return { kind: "answered", answer: { status: row.status, location: row.location, body: row.body } };
    },

    keep: async (key: string, route: string, { status, location, body }: KeptAnswer) => {
      await db.query(
        "update idempotency set status = $3, location = $4, body = $5 where key = $1 and route = $2",
        [key, route, status, location, body],
      );
    },

    /** A request that failed may be sent again under the same key. */
    release: async (key: string, route: string) => {
      await db.query("delete from idempotency where key = $1 and route = $2 and status is null", [
        key,
        route,
      ]);
    },

    forgetOlderThan: async (days: number) => {
      await db.query("delete from idempotency where created_at < now() - make_interval(days => $1)", [days]);
    },
  };
}
