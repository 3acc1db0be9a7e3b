/** What the service is built from: everything that touches the world, so that tests can bring their own. */
import type { CostBook } from "../analysis/book/book.js";
import type { BuilderKey } from "./builder-key.js";
import type { Config } from "./config.js";
import type { Queue } from "./queue/queue.js";
import type { Store } from "./store/store.js";
import type { Workshop } from "./tasks/work.js";

export interface Deps {
  readonly config: Config;
  readonly store: Store;
  readonly workshop: Workshop;
  readonly queue: Queue;
  readonly key: BuilderKey;
  /** The default cost book. */
  readonly book: CostBook;
}
