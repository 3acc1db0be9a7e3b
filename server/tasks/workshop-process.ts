/**
 * The workshop in a process of its own, at lower priority. In the service's process its threads would hold up the
 * answers: memory is handed out to all threads of a process under one lock, and garbage is collected by shared helpers.
 */
import { type ChildProcess, fork } from "node:child_process";
import { availableParallelism } from "node:os";
import { fileURLToPath } from "node:url";
import { threadModule } from "../root.js";
import { type CheckMade, type StudyMade, TooBusy, TooHeavy, type Workshop } from "./work.js";
import type { Delivery, Limits, Order } from "./workshop-main.js";

/** Threads that stay ready when there is nothing to do: each holds some 150 MB once it has studied. */
const MOST_KEPT_WARM = 2;

interface Waiting {
  readonly resolve: (made: StudyMade | CheckMade | null) => void;
  readonly reject: (error: Error) => void;
  readonly onStep: ((step: string) => void) | undefined;
}

export function openWorkshop(settings: {
  /** Null: one per processor. */
  readonly threads: number | null;
  readonly studySeconds: number;
  /** Whether it will be asked to warm up. */
  readonly warmUp: boolean;
}): Workshop {
  const threads = settings.threads ?? availableParallelism();
  const { studySeconds } = settings;
  const kept = settings.warmUp ? Math.min(threads, MOST_KEPT_WARM) : 1;
  const waiting = new Map<number, Waiting>();
  let orders = 0;
  let warming = 0;
  let closing = false;
  let child: ChildProcess | null = null;

  const take = (delivery: Delivery) => {
    const one = waiting.get(delivery.id);
    if ("step" in delivery) return one?.onStep?.(delivery.step);
    waiting.delete(delivery.id);
    if ("made" in delivery) one?.resolve(delivery.made);
    else one?.reject(errorOf(delivery));
  };

  /** A process that was killed or broke fails what it had in hand; the next order starts another. */
  const start = (): ChildProcess => {
    const started = forkWorkshop({ threads, kept, studySeconds });
    started.on("message", take);
    started.on("error", () => {});
    started.on("exit", (code, signal) => {
      if (child === started) child = null;
      for (const { reject } of waiting.values())
        reject(new Error(`The workshop ended while it worked (${signal ?? code}).`));
      waiting.clear();
    });
    return started;
  };
  child = start();

  const ask = <T extends StudyMade | CheckMade | null>(
    order: (id: number) => Order,
    onStep?: (step: string) => void,
  ) =>
    new Promise<T>((resolve, reject) => {
      if (closing) return reject(new Error("The workshop is closed."));
      child ??= start();
      const id = ++orders;
      waiting.set(id, { resolve: (made) => resolve(made as T), reject, onStep });
      child.send(order(id), (error) => {
        if (!error) return;
        waiting.delete(id);
        reject(error);
      });
    });

  return {
    study: (study, onStep) => ask<StudyMade>((id) => ({ id, study, steps: onStep !== undefined }), onStep),
    check: (check) => ask<CheckMade>((id) => ({ id, check })),
    warmUp: async (book) => {
      warming++;
      // Ended or killed meanwhile: nobody misses it.
      await ask<null>((id) => ({ id, warmUp: book })).catch(() => {});
      warming--;
    },
    load: () => ({ threads, waiting: Math.max(0, waiting.size - warming - threads) }),
    close: async () => {
      closing = true;
      const last = child;
      if (!last) return;
      await new Promise<void>((resolve) => {
        last.once("exit", () => resolve());
        last.disconnect();
      });
    },
  };
}

function forkWorkshop(limits: Limits): ChildProcess {
  const { url, execArgv } = threadModule("tasks/workshop-main");
  return fork(fileURLToPath(url), [JSON.stringify(limits)], {
    execArgv,
    // Typed arrays travel as they are.
    serialization: "advanced",
  });
}

function errorOf({ failed, message, stack }: Extract<Delivery, { failed: string }>): Error {
  if (failed === "too-heavy") return new TooHeavy(message);
  if (failed === "too-busy") return new TooBusy(message);
  return Object.assign(new Error(message), { stack });
}
