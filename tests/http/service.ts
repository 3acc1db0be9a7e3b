/** The service in a test: embedded database in memory, opened once a file; the analysis at once or in real threads. */
import type { FastifyInstance } from "fastify";
import { buildApp } from "../../server/app.js";
import { type BuilderKey, readBuilderKey } from "../../server/builder-key.js";
import { type Config, readConfig } from "../../server/config.js";
import type { Deps } from "../../server/deps.js";
import { openQueue } from "../../server/queue/queue.js";
import { startWorking } from "../../server/queue/start-working.js";
import { readDefaultBook } from "../../server/start.js";
import type { Database } from "../../server/store/database.js";
import { openEmbedded } from "../../server/store/embedded.js";
import { openStore } from "../../server/store/store.js";
import type { Workshop } from "../../server/tasks/work.js";
import { openWorkshop } from "../../server/tasks/workshop-process.js";

export const KEY = "a-key-for-tests-only";
export const withKey = { authorization: `Bearer ${KEY}` };

export interface TestService {
  readonly app: FastifyInstance;
  readonly deps: Deps;
  readonly key: BuilderKey;
  readonly close: () => Promise<void>;
}

/** On an embedded database in memory. */
export async function openService(
  settings: Record<string, string> = {},
  workshop?: Workshop,
): Promise<TestService> {
  return openServiceOn(await openEmbedded(null), settings, workshop);
}

export async function openServiceOn(
  db: Database,
  settings: Record<string, string>,
  workshop?: Workshop,
): Promise<TestService> {
  const config: Config = readConfig({
    LOTBRIEF_KEY: KEY,
    LOTBRIEF_LOG: "error",
    LOTBRIEF_REQUESTS_PER_MINUTE: "100000",
    LOTBRIEF_THREADS: "2",
    LOTBRIEF_WARM_UP: "no",
    ...settings,
  });
  const store = await openStore(db);
  const key = await readBuilderKey(store, config);
  const queue = await openQueue(db, { studySeconds: config.studySeconds, onError: (e) => console.error(e) });
  const deps: Deps = {
    config,
    store,
    key,
    queue,
    workshop: workshop ?? openWorkshop(config),
    book: readDefaultBook(),
  };
  const app = await buildApp(deps);
  if (config.workHere) await startWorking(deps, (e) => console.error(e));
  await app.ready();
  return {
    app,
    deps,
    key,
    close: async () => {
      await app.close();
      await queue.stop();
      await deps.workshop.close();
      await store.close();
    },
  };
}
