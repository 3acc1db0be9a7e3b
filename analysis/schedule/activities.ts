/** The order of work and how long each step takes, from the bill. Method: docs/methods/schedule.md */
import type { QuantityLine } from "../bill/bill.js";
import type { StudyRequest } from "../request/request.js";
import type { Activity, SiteHardness } from "./activity.js";
import { groundWork } from "./ground-work.js";
import { houseWork, paperWork } from "./office-and-house-work.js";

/**
 * Activities in an order in which each comes after those it waits for.
 * Groundwork takes quantity ÷ production rate, so what is not on the bill takes no time and is left out.
 */
export function listActivities(
  lines: readonly QuantityLine[],
  site: SiteHardness,
  haul: StudyRequest["haul"],
): readonly Activity[] {
  return withoutIdle(listSteps(lines, site, haul));
}

/** The same with what takes no time. */
export function listSteps(
  lines: readonly QuantityLine[],
  site: SiteHardness,
  haul: StudyRequest["haul"],
): readonly Activity[] {
  const ground = groundWork(lines, site, haul);
  const waitedFor = new Set(ground.flatMap((a) => a.after));
  const lastOnGround = ground.map((a) => a.id).filter((id) => !waitedFor.has(id));
  return [...paperWork(site), ...ground, ...houseWork(site, lastOnGround)];
}

/** Drops what takes no time; whoever waited for it waits for what it waited for. */
function withoutIdle(activities: readonly Activity[]): Activity[] {
  const standsFor = new Map<string, readonly string[]>();
  const kept: Activity[] = [];
  for (const activity of activities) {
    const after = [...new Set(activity.after.flatMap((id) => standsFor.get(id) ?? [id]))];
    if (activity.weeks[2] > 0) kept.push({ ...activity, after });
    else standsFor.set(activity.id, after);
  }
  return kept;
}
