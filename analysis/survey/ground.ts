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
import type { GroundPoints, Survey, SurveyFeature } from "./survey.js";
import { dropUnmeasured } from "./zero-elevations.js";

export interface SettledGround {
  readonly ground: GroundPoints;
  readonly features: readonly SurveyFeature[];
  readonly codes: readonly CodeTaken[];
  readonly medianSpacingFt: number;
  /** Rows whose shot may not be used for anything: blanks, spikes, the loser of a conflict. */
  readonly lostRows: ReadonlySet<number>;
  readonly leftOut: NonNullable<Survey["leftOut"]>;
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
  const lost = lostShots(all, keep, repeats);
  return {
    ground,
    features: sorted.features,
    codes: sorted.codes,
    medianSpacingFt: medianSpacingFt(all, grid, keep),
    lostRows: new Set(lost.map((i) => all.row[i]!)),
    leftOut: placesOf(all, lost, notes),
  };
}

function lostShots({ count, row }: GroundPoints, keep: Uint8Array, repeats: ReadonlySet<number>): number[] {
  const lost: number[] = [];
  for (let i = 0; i < count; i++) if (!keep[i] && !repeats.has(row[i]!)) lost.push(i);
  return lost;
}

const MOST_SHOWN = 500;

function placesOf(
  ground: GroundPoints,
  lost: readonly number[],
  notes: IntakeNotes,
): NonNullable<Survey["leftOut"]> {
  const reasons = new Map(notes.excluded.map(({ row, reason }) => [row, reason]));
  return lost.slice(0, MOST_SHOWN).map((i) => ({
    at: [ground.eastFt[i]!, ground.northFt[i]!],
    row: ground.row[i]!,
    reason: reasons.get(ground.row[i]!) ?? "left out",
  }));
}
