/** Where everything is kept: one repository, cut by what it keeps. */
import { booksIn } from "./books.js";
import { comparisonsIn } from "./comparisons.js";
import type { Database } from "./database.js";
import { idempotencyIn } from "./idempotency.js";
import { jobsIn } from "./jobs.js";
import { migrate } from "./migrations.js";
import { settingsIn } from "./settings.js";
import { studiesIn } from "./studies.js";
import { surveysIn } from "./surveys.js";

export type Store = Awaited<ReturnType<typeof openStore>>;

export async function openStore(db: Database) {
  await migrate(db);
  return {
    db,
    settings: settingsIn(db),
    surveys: surveysIn(db),
    studies: studiesIn(db),
    jobs: jobsIn(db),
    comparisons: comparisonsIn(db),
    idempotency: idempotencyIn(db),
    books: booksIn(db),
    /** @throws when the database does not answer. */
    ping: async () => {
      await db.query("select 1");
    },
    close: () => db.close(),
  };
}
