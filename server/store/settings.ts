/** Few values of the service itself. */
import type { Database } from "./database.js";

export function settingsIn({ query }: Database) {
  return {
    get: async (name: string): Promise<unknown> => {
      const [row] = await query<{ value: unknown }>("select value from settings where name = $1", [name]);
      return row?.value;
    },
    /** Keeps the first value when several processes set one at once; returns what is kept. */
    setOnce: async (name: string, value: unknown): Promise<unknown> => {
      await query("insert into settings (name, value) values ($1, $2::jsonb) on conflict (name) do nothing", [
        name,
        JSON.stringify(value),
      ]);
      const [row] = await query<{ value: unknown }>("select value from settings where name = $1", [name]);
      return row!.value;
    },
  };
}
