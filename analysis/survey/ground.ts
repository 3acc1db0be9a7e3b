/** From shots to ground: sorted by description, blunders taken out, each with its reason. */
import type { Ring } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { dropDuplicates } from "./duplicates.js";
import type { IntakeNotes } from "./notes.js";
import type { PointTable } from "./point-table.js";
import { checkEnough, checkReach, dropFarShots } from "./reach.js";
import { gridOfShots } from "./shot-grid.js";
import { type CodeTaken, keepMarked, sortShots } from "./sort-shots.js";
import { medianSpacingFt } from "./spacing.js";
import { dropSpikes } from "./spikes.js";
import type { GroundPoints, SurveyFeature } from "./survey.js";
import { dropUnmeasured } from "./zero-elevations.js";

export interface SettledGround {
  readonly ground: GroundPoints;
  readonly features: readonly SurveyFeature[];
  readonly codes: readonly CodeTaken[];
  readonly medianSpacingFt: number;
  /** Rows whose shot may not be used for anything: blanks, spikes, the loser of a conflict. */
  readonly lostRows: ReadonlySet<number>;
}

/** Null with a problem when too little ground is left, or none of it near the lot. The caller's keepRows are never dropped. */
export function settleGround(
  table: PointTable,
  boundary: Ring,
  { survey }: StudyRequest,
  notes: IntakeNotes,
): SettledGround | null {
  const forced = new Set(survey.keepRows ?? []);
  const sorted = sortShots(table, survey.codes, forced, notes);
  const all = sorted.ground;
  const keep = new Uint8Array(all.count).fill(1);
  dropFarShots(all, boundary, keep, forced, notes);
  dropUnmeasured(all, keep, forced, notes);
  const repeats = dropDuplicates(all, keep, forced, notes);
  const grid = gridOfShots(all, keep);
  dropSpikes(all, grid, keep, forced, notes);
  const ground = keepMarked(all, keep);
  if (!checkEnough(ground, notes) || !checkReach(ground, boundary, notes)) return null;
  const lostRows = new Set<number>();
  keep.forEach((kept, i) => {
    if (!kept && !repeats.has(all.row[i]!)) lostRows.add(all.row[i]!);
  });
  return {
    ground,
    features: sorted.features,
    codes: sorted.codes,
    medianSpacingFt: medianSpacingFt(all, grid, keep),
    lostRows,
  };
}
