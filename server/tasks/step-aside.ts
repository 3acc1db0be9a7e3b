/** Lets answers go first. */
import { readdirSync } from "node:fs";
import { constants, setPriority } from "node:os";

/** Lowers the priority of this process. Where that cannot be done, nothing happens and nothing is lost but speed. */
export function stepAside(): void {
  for (const id of threads())
    try {
      setPriority(id, constants.priority.PRIORITY_BELOW_NORMAL);
    } catch {}
}

/** Linux keeps a priority for each thread, and a new thread takes that of the one that makes it. */
function threads(): number[] {
  try {
    return readdirSync("/proc/self/task").map(Number);
  } catch {
    return [process.pid];
  }
}
