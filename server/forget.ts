/** Deletes for good: rows, kept answers and what the queue still knows. */
import type { Deps } from "./deps.js";

type Forgetting = Pick<Deps, "store" | "queue">;

/** @returns false when there is none. */
export function forgetStudy({ store, queue }: Forgetting, id: string): Promise<boolean> {
  return store.studies.remove(id, async (query, jobs) => {
    await queue.forget("job", jobs, query);
    await queue.forget("study", [id], query);
  });
}

/** With all its studies. What is being computed just now is thrown away when it is done. */
export function forgetComparison({ store, queue }: Forgetting, id: string): Promise<boolean> {
  return store.comparisons.remove(id, (query) => queue.forget("comparison", [id], query));
}
