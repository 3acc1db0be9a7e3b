/** More hands for the jobs of a service on PostgreSQL: works off the queue and answers nobody. */
import { readConfig } from "./config.js";
import { startWorking } from "./queue/start-working.js";
import { openDeps } from "./start.js";

async function main(): Promise<void> {
  const config = readConfig(process.env);
  if (config.databaseUrl === null)
    throw new Error(
      "A worker shares the jobs of a service on PostgreSQL: set DATABASE_URL. The embedded database belongs to one process.",
    );
  const onError = (error: unknown) => console.error(error);
  const deps = await openDeps(config, onError);
  await startWorking(deps, onError);
  console.log("Lotbrief works off the queue.");
  if (config.warmUp) void deps.workshop.warmUp(deps.book);
  for (const signal of ["SIGINT", "SIGTERM"] as const)
    process.once(signal, () => {
      deps.close().then(
        () => process.exit(0),
        () => process.exit(1),
      );
    });
}

main().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error);
  process.exit(1);
});
