/** The process of the workshop: the thread pool, asked from outside. It ends when the service lets go of it. */

import type { CostBook } from "../../analysis/book/book.js";
import { stepAside } from "./step-aside.js";
import { openThreadPool } from "./thread-pool.js";
import {
  type CheckMade,
  type StudyMade,
  type StudyTask,
  type Submission,
  TooBusy,
  TooHeavy,
} from "./work.js";

export interface Limits {
  readonly threads: number;
  readonly kept: number;
  readonly studySeconds: number;
}

export type Order =
  | { readonly id: number; readonly study: StudyTask; readonly steps: boolean }
  | { readonly id: number; readonly check: Submission }
  | { readonly id: number; readonly warmUp: CostBook };

export type Delivery =
  | { readonly id: number; readonly step: string }
  | { readonly id: number; readonly made: StudyMade | CheckMade | null }
  | {
      readonly id: number;
      readonly failed: "too-heavy" | "too-busy" | "fault";
      readonly message: string;
      readonly stack: string;
    };

stepAside();
const limits = JSON.parse(process.argv[2]!) as Limits;
const pool = openThreadPool(limits, (error) => console.error(error));
const deliver = (delivery: Delivery) => {
  if (process.connected) process.send!(delivery);
};

function workOn(order: Order): Promise<StudyMade | CheckMade | null> {
  if ("check" in order) return pool.check(order.check);
  if ("warmUp" in order) return pool.warmUp(order.warmUp).then(() => null);
  const { id, study, steps } = order;
  return pool.study(study, steps ? (step) => deliver({ id, step }) : undefined);
}

process.on("message", (order: Order) => {
  const { id } = order;
  workOn(order).then(
    (made) => deliver({ id, made }),
    (error: unknown) => {
      const failed =
        error instanceof TooHeavy ? "too-heavy" : error instanceof TooBusy ? "too-busy" : "fault";
      const { message, stack = "" } = error instanceof Error ? error : new Error(String(error));
      deliver({ id, failed, message, stack });
    },
  );
});
process.on("disconnect", () => process.exit(0));
// Ctrl-C reaches every process of a terminal: the service decides when this one ends.
for (const signal of ["SIGINT", "SIGTERM"] as const) process.on(signal, () => {});
