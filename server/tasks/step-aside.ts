/** Lets answers go first: on Linux a thread may lower its own priority. */
import { readlinkSync } from "node:fs";
import { constants, setPriority } from "node:os";
import { basename } from "node:path";

/** Lowers the priority of the thread that calls. Where that cannot be done, nothing happens and nothing is lost but speed. */
export function stepAside(): void {
  try {
    // PID/task/TID: Linux takes a thread's number where others take a process's.
    setPriority(
      Number(basename(readlinkSync("/proc/thread-self"))),
      constants.priority.PRIORITY_BELOW_NORMAL,
    );
  } catch {}
}
