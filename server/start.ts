/** Puts the service together from its settings. */
import { readFileSync } from "node:fs";
import { parseCostBook } from "../analysis/book/index.js";
import { buildApp } from "./app.js";
import { readBuilderKey } from "./builder-key.js";
import type { Config } from "./config.js";
import type { Deps } from "./deps.js";
import { startHousekeeping } from "./housekeeping.js";
import { openQueue } from "./queue/queue.js";
import { startWorking } from "./queue/start-working.js";
import { rootPath } from "./root.js";
import { openPostgres } from "./store/database.js";
import { openEmbedded } from "./store/embedded.js";
import { openStore } from "./store/store.js";
import { openWorkshop } from "./tasks/workshop-process.js";

export function readDefaultBook() {
  const reading = parseCostBook(JSON.parse(readFileSync(rootPath("demo-data/cost-book.json"), "utf8")));
  if (!reading.ok)
    throw new Error(
      `demo-data/cost-book.json: ${reading.problems.map((p) => `${p.where} ${p.message}`).join("; ")}`,
    );
  return reading.book;
}

/** Opens database, queue and threads. The caller closes what it gets, in the order of `close`. */
export async function openDeps(
  config: Config,
  onError: (error: unknown) => void,
): Promise<Deps & { close: () => Promise<void> }> {
  const book = readDefaultBook();
  const db = config.databaseUrl
    ? await openPostgres(config.databaseUrl)
    : await openEmbedded(config.dataFolder);
  const store = await openStore(db);
  const key = await readBuilderKey(store, config);
  const workshop = openWorkshop(config);
  const queue = await openQueue(db, {
    studySeconds: config.studySeconds,
    onError,
  });
  const deps: Deps = { config, store, workshop, queue, key, book };
  return {
    ...deps,
    close: async () => {
      await queue.stop();
      await workshop.close();
      await store.close();
    },
  };
}

export async function startService(config: Config) {
  let onError = (error: unknown) => console.error(error);
  const deps = await openDeps(config, (error) => onError(error));
  const app = await buildApp(deps);
  onError = (error) => app.log.error({ err: error }, "work");
  if (config.workHere) await startWorking(deps, onError);
  const stopTidying = startHousekeeping(deps, onError);
  return {
    app,
    deps,
    stop: async () => {
      const tidied = stopTidying();
      await app.close();
      await tidied;
      await deps.close();
    },
  };
}
