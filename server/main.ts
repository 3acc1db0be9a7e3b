/** The service: reads its settings, listens, stops when asked to. */
import { readConfig } from "./config.js";
import { startService } from "./start.js";

async function main(): Promise<void> {
  const config = readConfig(process.env);
  console.log("Opening the database. The first time takes some seconds.");
  const { app, deps, stop } = await startService(config);
  const address = await app.listen({ host: config.host, port: config.port });
  if (deps.key.madeNow !== null)
    console.log(
      `\nThe builder's key, shown this once:\n\n  ${deps.key.madeNow}\n\nKeep it; LOTBRIEF_KEY replaces it.\n`,
    );
  console.log(`Lotbrief serves ${address}`);
  if (config.warmUp) void deps.workshop.warmUp(deps.book);

  let stopping = false;
  for (const signal of ["SIGINT", "SIGTERM"] as const)
    process.on(signal, () => {
      // A second signal does not wait for what is still running.
      if (stopping) process.exit(1);
      stopping = true;
      console.log("Stopping: no new requests, finishing what runs.");
      stop().then(
        () => process.exit(0),
        (error) => {
          console.error(error);
          process.exit(1);
        },
      );
    });
}

main().catch((error: unknown) => {
  console.error(error instanceof Error ? error.message : error);
  process.exit(1);
});
