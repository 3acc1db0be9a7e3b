/** One way to speak SQL: the embedded database by default, PostgreSQL 15 or later where DATABASE_URL is set. */
import { mkdir } from "node:fs/promises";
import { PGlite } from "@electric-sql/pglite";
import pg from "pg";
import lockfile from "proper-lockfile";

export type Row = Record<string, unknown>;
export type Query = <T = Row>(sql: string, values?: readonly unknown[]) => Promise<T[]>;

export interface Database {
  readonly kind: "embedded" | "postgresql";
  readonly query: Query;
  /** Several statements without values; returns the rows of the last one that has any. */
  readonly script: (sql: string) => Promise<Row[]>;
  /** All or nothing: `query` inside runs in the transaction. */
  readonly transaction: <T>(work: (query: Query) => Promise<T>) => Promise<T>;
  readonly close: () => Promise<void>;
}

/**
 * Opens the embedded database in a folder, or in memory when `folder` is null.
 * @throws {Error} when another process holds the folder: two would lose rows silently.
 */
export async function openEmbedded(folder: string | null): Promise<Database> {
  let release = async () => {};
  if (folder !== null) {
    await mkdir(folder, { recursive: true });
    release = await lockfile.lock(folder, { realpath: true, stale: 15_000, update: 5000 }).catch((cause) => {
      throw new Error(
        `Another process uses the data folder ${folder}. Stop it, or choose another with LOTBRIEF_DATA.`,
        { cause },
      );
    });
  }
  const db = await PGlite.create({ ...(folder === null ? {} : { dataDir: folder }) });
  const query: Query = async <T>(sql: string, values: readonly unknown[] = []) =>
    (await db.query<T>(sql, [...values])).rows;
  return {
    kind: "embedded",
    query,
    script: async (sql) => lastRows((await db.exec(sql)).map(({ rows }) => rows as Row[])),
    transaction: (work) =>
      db.transaction((tx) =>
        work(
          async <T>(sql: string, values: readonly unknown[] = []) =>
            (await tx.query<T>(sql, [...values])).rows,
        ),
      ),
    close: async () => {
      await db.close();
      await release();
    },
  };
}

export async function openPostgres(url: string): Promise<Database> {
  // bigint counts fit a double: read them as numbers, like the embedded database does.
  const types = new pg.TypeOverrides();
  types.setTypeParser(20, Number);
  const pool = new pg.Pool({ connectionString: url, max: 10, types, application_name: "lotbrief" });
  // An idle connection that breaks is replaced by the pool; without a listener it would end the process.
  pool.on("error", () => {});
  const over =
    (client: pg.Pool | pg.PoolClient): Query =>
    async <T>(sql: string, values: readonly unknown[] = []) =>
      (await client.query(sql, [...values])).rows as T[];
  return {
    kind: "postgresql",
    query: over(pool),
    script: async (sql) =>
      lastRows([(await pool.query(sql)) as pg.QueryResult | pg.QueryResult[]].flat().map(({ rows }) => rows)),
    transaction: async (work) => {
      const client = await pool.connect();
      try {
        await client.query("begin");
        const result = await work(over(client));
        await client.query("commit");
        return result;
      } catch (error) {
        await client.query("rollback").catch(() => {});
        throw error;
      } finally {
        client.release();
      }
    },
    close: () => pool.end(),
  };
}

function lastRows(results: readonly (Row[] | undefined)[]): Row[] {
  return results.findLast((rows) => rows !== undefined && rows.length > 0) ?? [];
}
