/** Takes away what is past its time. */
import type { Deps } from "./deps.js";

const EVERY_MS = 60 * 60_000;
/** Surveys a form carried and no study came to use. */
const PASSING_SURVEY_DAYS = 2;
const IDEMPOTENCY_DAYS = 7;

/** One round. Several processes may do it at once: what is deleted stays deleted. */
export async function tidyUp({ store, config }: Pick<Deps, "store" | "config">): Promise<void> {
  const { retentionDays } = config;
  if (retentionDays > 0) {
    for (const id of await store.studies.idsOlderThan(retentionDays)) await store.studies.remove(id);
    await store.comparisons.removeOlderThan(retentionDays);
    await store.jobs.removeOlderThan(retentionDays);
  }
  await store.surveys.removeUnused({
    passing: PASSING_SURVEY_DAYS,
    kept: retentionDays > 0 ? retentionDays : null,
  });
  await store.idempotency.forgetOlderThan(IDEMPOTENCY_DAYS);
}

/** @returns how to stop. */
export function startHousekeeping(
  deps: Pick<Deps, "store" | "config">,
  onError: (error: unknown) => void,
): () => void {
  const round = () => tidyUp(deps).catch(onError);
  void round();
  const timer = setInterval(round, EVERY_MS);
  timer.unref();
  return () => clearInterval(timer);
}
