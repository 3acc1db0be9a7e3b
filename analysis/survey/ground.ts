/** From shots to ground: sorted by description, blunders taken out, each with its reason. */
import { hilbertOrder, inOrder } from "../geometry/hilbert.js";
import type { Ring } from "../geometry/plane.js";
import type { StudyRequest } from "../request/request.js";
import { dropDuplicates } from "./duplicates.js";
import type { IntakeNotes } from "./notes.js";
import type { PointTable } from "./point-table.js";
import { checkEnough, checkReach, dropFarShots } from "./reach.js";
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
  const listed = sorted.ground;
  const near = new Uint8Array(listed.count).fill(1);
  dropFarShots(listed, boundary, near, forced, notes);
  dropUnmeasured(listed, near, forced, notes);
  const { ground: all, listedAs } = alongCurve(listed, near);
  const keep = new Uint8Array(all.count).fill(1);
  const { grid, repeats } = dropDuplicates(all, listedAs, keep, forced, notes);
  dropSpikes(all, grid, keep, forced, notes);
  const spacingFt = medianSpacingFt(all, grid, keep, listedAs);
  // those dropped, as listed, whichever look it was that dropped them
  for (let i = 0; i < all.count; i++) if (!keep[i]) near[listedAs[i]!] = 0;
  const ground = closeUp(all, keep);
  if (!checkEnough(ground, notes) || !checkReach(ground, boundary, notes)) return null;
  const lost = lostShots(near, repeats);
  return {
    ground,
    features: sorted.features,
    codes: sorted.codes,
    medianSpacingFt: spacingFt,
    lostRows: new Set(lost.map((i) => listed.row[i]!)),
    leftOut: placesOf(listed, lost, notes),
  };
}

/** The marked shots in the order of a curve that fills the plane, so that what is near is read together; and where each stood. */
function alongCurve(
  listed: GroundPoints,
  marks: Uint8Array,
): { ground: GroundPoints; listedAs: Uint32Array } {
  const marked = keepMarked(listed, marks);
  const order = hilbertOrder(marked.eastFt, marked.northFt) ?? Uint32Array.from(marked.row, (_, i) => i);
  const ground = {
    count: marked.count,
    eastFt: inOrder(marked.eastFt, order),
    northFt: inOrder(marked.northFt, order),
    elevFt: inOrder(marked.elevFt, order),
    row: inOrder(marked.row, order),
  };
  if (marked === listed) return { ground, listedAs: order };
  const places = new Uint32Array(marked.count);
  for (let i = 0, k = 0; i < listed.count; i++) if (marks[i]) places[k++] = i;
  return { ground, listedAs: inOrder(places, order) };
}

/** The kept shots moved up in their own columns: the last to use them all. */
function closeUp({ count, eastFt, northFt, elevFt, row }: GroundPoints, keep: Uint8Array): GroundPoints {
  let kept = 0;
  for (let i = 0; i < count; i++) {
    if (!keep[i]) continue;
    eastFt[kept] = eastFt[i]!;
    northFt[kept] = northFt[i]!;
    elevFt[kept] = elevFt[i]!;
    row[kept++] = row[i]!;
  }
  return {
    count: kept,
    eastFt: eastFt.subarray(0, kept),
    northFt: northFt.subarray(0, kept),
    elevFt: elevFt.subarray(0, kept),
    row: row.subarray(0, kept),
  };
}

function lostShots(keep: Uint8Array, repeats: ReadonlySet<number>): number[] {
  const lost: number[] = [];
  for (let i = 0; i < keep.length; i++) if (!keep[i] && !repeats.has(i)) lost.push(i);
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
