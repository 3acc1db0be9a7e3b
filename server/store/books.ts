/** The builder's own cost books and saved defaults. */
import type { CostBook } from "../../analysis/book/book.js";
import type { RequestInput } from "../../analysis/request/index.js";
import type { Database } from "./database.js";

export interface SavedDefaults {
  readonly id: string;
  readonly name: string;
  readonly createdAt: string;
  readonly request: Partial<RequestInput>;
}

export function booksIn(db: Database) {
  return {
    put: async (book: CostBook) => {
      await db.query(
        "insert into cost_books (id, book) values ($1, $2::jsonb) on conflict (id) do update set book = excluded.book, created_at = now()",
        [book.id, JSON.stringify(book)],
      );
    },
    get: async (id: string): Promise<CostBook | undefined> =>
      (await db.query<{ book: CostBook }>("select book from cost_books where id = $1", [id]))[0]?.book,
    list: async (): Promise<readonly { id: string; name: string; date: string; region: string }[]> =>
      db.query(
        "select id, book->>'name' as name, book->>'date' as date, book->>'region' as region from cost_books order by id",
      ),
    remove: async (id: string): Promise<boolean> =>
      (await db.query("delete from cost_books where id = $1 returning id", [id])).length > 0,

    putDefaults: async (id: string, name: string, request: Partial<RequestInput>) => {
      await db.query(
        `insert into saved_defaults (id, name, request) values ($1, $2, $3::jsonb)
         on conflict (name) do update set request = excluded.request`,
        [id, name, JSON.stringify(request)],
      );
    },
    listDefaults: async (): Promise<SavedDefaults[]> =>
      (
        await db.query<Omit<SavedDefaults, "createdAt"> & { createdAt: Date }>(
          `select id, name, created_at as "createdAt", request from saved_defaults order by name`,
        )
      ).map((row) => ({ ...row, createdAt: row.createdAt.toISOString() })),
    removeDefaults: async (id: string): Promise<boolean> =>
      (await db.query("delete from saved_defaults where id = $1 returning id", [id])).length > 0,
  };
}
