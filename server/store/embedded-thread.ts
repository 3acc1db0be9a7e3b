/** The thread of the embedded database: PostgreSQL in WebAssembly computes on the thread that calls it. */
import { parentPort, workerData } from "node:worker_threads";
import { PGlite, type Transaction } from "@electric-sql/pglite";
import { lastRows, type Row } from "./database.js";

/** What the thread is asked; `transaction` numbers the one a query runs in. */
export type Asked =
  | {
      readonly call: "query";
      readonly sql: string;
      readonly values: readonly unknown[];
      readonly transaction: number | null;
    }
  | { readonly call: "script"; readonly sql: string }
  | { readonly call: "begin" | "commit" | "rollback"; readonly transaction: number }
  | { readonly call: "close" };
export type Question = Asked & { readonly id: number };

export type Reply =
  | { readonly id: number; readonly rows: Row[] }
  | { readonly id: number; readonly error: unknown };

export interface ThreadData {
  /** Null: in memory. */
  readonly folder: string | null;
}

interface Open {
  readonly inside: Transaction;
  readonly end: (keep: boolean) => Promise<void>;
}

class TakenBack extends Error {}

const port = parentPort!;
const { folder } = workerData as ThreadData;
const db = await PGlite.create({ ...(folder === null ? {} : { dataDir: folder }) });
const open = new Map<number, Open>();

async function answer(asked: Question): Promise<Row[]> {
  switch (asked.call) {
    case "query": {
      const through = asked.transaction === null ? db : openOne(asked.transaction).inside;
      return (await through.query<Row>(asked.sql, [...asked.values])).rows;
    }
    case "script":
      return lastRows((await db.exec(asked.sql)).map(({ rows }) => rows as Row[]));
    case "begin":
      await begin(asked.transaction);
      return [];
    case "commit":
    case "rollback": {
      const { end } = openOne(asked.transaction);
      open.delete(asked.transaction);
      await end(asked.call === "commit");
      return [];
    }
    case "close":
      await db.close();
      return [];
  }
}

function openOne(number: number): Open {
  const one = open.get(number);
  if (!one) throw new RangeError(`no transaction ${number} is open`);
  return one;
}

/** Other queries wait until `end`: the database has one session. */
function begin(number: number): Promise<void> {
  return new Promise((begun, refused) => {
    const whole = db.transaction(
      (inside) =>
        new Promise<void>((commit, rollback) => {
          open.set(number, {
            inside,
            end: async (keep) => {
              if (keep) commit();
              else rollback(new TakenBack());
              await whole.catch((error: unknown) => {
                if (!(error instanceof TakenBack)) throw error;
              });
            },
          });
          begun();
        }),
    );
    whole.catch(refused);
  });
}

port.on("message", (asked: Question) => {
  answer(asked).then(
    (rows) => port.postMessage({ id: asked.id, rows } satisfies Reply),
    (error: unknown) => port.postMessage({ id: asked.id, error } satisfies Reply),
  );
});
