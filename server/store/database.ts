/** One way to speak SQL: the embedded database by default, PostgreSQL 15 or later where DATABASE_URL is set. */
import pg from "pg";

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

/** The rows of the last statement that has any. */
export function lastRows(results: readonly (Row[] | undefined)[]): Row[] {
  return results.findLast((rows) => rows !== undefined && rows.length > 0) ?? [];
}
