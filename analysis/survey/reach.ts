/** Is there enough ground, and is it where the lot is? */
import { type Box, boxOf, boxOfColumns, type Ring } from "../geometry/plane.js";
import { measure } from "../measure.js";
import { type IntakeNotes, rowsInWords } from "./notes.js";
import type { GroundPoints } from "./survey.js";

/** A survey thinner than this is a line of shots. */
const THINNEST_FT = 0.5;

/** More shots than this are a map sheet, not a lot and its surroundings. */
const MOST_SHOTS = 2_000_000;

/** False with a problem when there are not three shots, or millions. */
export function checkCount(count: number, notes: IntakeNotes): boolean {
  if (count > MOST_SHOTS) {
    notes.problems.push({
      code: "topo-too-many-shots",
      where: "topo",
      message: `${count} shots were sent; at most ${MOST_SHOTS} are read.`,
      remedy: "Cut the file to the lot and 200 ft around.",
    });
    return false;
  }
  if (count >= 3) return true;
  notes.problems.push({
    code: "topo-too-few-points",
    where: "topo",
    message: `${count} usable ground ${count === 1 ? "shot is" : "shots are"} left; a surface needs three, a lot needs dozens.`,
    remedy: "Send more ground shots; look at the rows that were left out and at survey.codes.",
  });
  return false;
}

/** False with a problem when no facet can be made. */
export function checkEnough(ground: GroundPoints, notes: IntakeNotes): boolean {
  if (!checkCount(ground.count, notes)) return false;
  if (widthAcross(ground) < THINNEST_FT) {
    notes.problems.push({
      code: "topo-on-one-line",
      where: "topo",
      message: "All ground shots lie on one line, so they describe a profile and not a surface.",
      remedy: "Check northings and eastings; send shots spread over the lot.",
    });
    return false;
  }
  return true;
}

/** Spread of the shots across their longest direction, ft; counted no further than THINNEST_FT. */
function widthAcross({ count, eastFt, northFt }: GroundPoints): number {
  let far = 0;
  let farFt2 = -1;
  for (let i = 1; i < count; i++) {
    const dx = eastFt[i]! - eastFt[0]!;
    const dy = northFt[i]! - northFt[0]!;
    const d2 = dx * dx + dy * dy;
    if (d2 > farFt2) {
      far = i;
      farFt2 = d2;
    }
  }
  if (farFt2 <= 0) return 0;
  const farFt = Math.sqrt(farFt2);
  const ux = (eastFt[far]! - eastFt[0]!) / farFt;
  const uy = (northFt[far]! - northFt[0]!) / farFt;
  let left = 0;
  let right = 0;
  for (let i = 1; i < count && left - right < THINNEST_FT; i++) {
    const across = ux * (northFt[i]! - northFt[0]!) - uy * (eastFt[i]! - eastFt[0]!);
    left = Math.max(left, across);
    right = Math.min(right, across);
  }
  return left - right;
}

/** Shots farther away than this, and than five times the size of the lot, say nothing of it. */
const FAR_FT = 2_000;
const FAR_LOTS = 5;
const MOST_NAMED = 500;

/** What is far from a lot: the box beyond which places are, how far that reaches, and how far a place lies away. */
export function farFromLot(boundary: Ring): {
  readonly farFt: number;
  readonly within: Box;
  readonly awayFt: (eastFt: number, northFt: number) => number;
} {
  const { minEastFt, minNorthFt, maxEastFt, maxNorthFt } = boxOf(boundary);
  const farFt = Math.max(FAR_FT, FAR_LOTS * Math.hypot(maxEastFt - minEastFt, maxNorthFt - minNorthFt));
  return {
    farFt,
    within: {
      minEastFt: minEastFt - farFt,
      minNorthFt: minNorthFt - farFt,
      maxEastFt: maxEastFt + farFt,
      maxNorthFt: maxNorthFt + farFt,
    },
    awayFt: (x, y) =>
      Math.hypot(Math.max(minEastFt - x, 0, x - maxEastFt), Math.max(minNorthFt - y, 0, y - maxNorthFt)),
  };
}

/** False too for a place that is no number. */
export function isWithin(box: Box, eastFt: number, northFt: number): boolean {
  return (
    eastFt >= box.minEastFt &&
    eastFt <= box.maxEastFt &&
    northFt >= box.minNorthFt &&
    northFt <= box.maxNorthFt
  );
}

/** Marks shots far from the lot in `keep`: other jobs in the same file, and coordinates with digits lost. */
export function dropFarShots(
  { count, eastFt, northFt, row }: GroundPoints,
  boundary: Ring,
  keep: Uint8Array,
  forced: ReadonlySet<number>,
  notes: IntakeNotes,
): void {
  const { farFt, within, awayFt } = farFromLot(boundary);
  const rows: number[] = [];
  let dropped = 0;
  for (let i = 0; i < count; i++) {
    if (isWithin(within, eastFt[i]!, northFt[i]!)) continue;
    if (forced.has(row[i]!)) continue;
    keep[i] = 0;
    dropped++;
    if (rows.push(row[i]!) > MOST_NAMED) rows.pop();
    else if (notes.excluded.length < MOST_NAMED)
      notes.excluded.push({
        row: row[i]!,
        reason: "far from the lot",
        evidence: `${measure(Math.round(awayFt(eastFt[i]!, northFt[i]!)), "ft")} away; digits may be missing from its coordinates`,
      });
  }
  if (dropped > 0)
    notes.warnings.push({
      code: "far-shots",
      message: `${dropped} ${dropped === 1 ? "shot lies" : "shots lie"} more than ${measure(Math.round(farFt), "ft")} from the lot and ${dropped === 1 ? "was" : "were"} left out: ${rowsInWords(rows)}.`,
      remedy: "Check the coordinates of these rows.",
      rows,
    });
}

/** Directions in which the survey's outermost shot is looked for. */
const DIRECTIONS = 32;
/** A corner this far beyond the outermost shots is worth a word. */
const BEYOND_FT = 1;

/** False with a problem when the whole lot lies beyond the outermost shots; a warning names corners that do. */
export function checkReach(ground: GroundPoints, boundary: Ring, notes: IntakeNotes): boolean {
  const beyondFt = new Float64Array(boundary.length);
  let missFt = 0;
  const blocks = blocksOf(ground);
  for (let k = 0; k < DIRECTIONS; k++) {
    const ux = Math.cos((2 * Math.PI * k) / DIRECTIONS);
    const uy = Math.sin((2 * Math.PI * k) / DIRECTIONS);
    const aheadFt = farthestAlong(ground, blocks, ux, uy);
    const past = boundary.map(([x, y]) => x * ux + y * uy - aheadFt);
    past.forEach((ft, i) => {
      beyondFt[i] = Math.max(beyondFt[i]!, ft);
    });
    missFt = Math.max(missFt, Math.min(...past));
  }
  if (missFt > 0) {
    notes.problems.push({
      code: "topo-misses-lot",
      where: "topo",
      message: `The ground shots do not reach the lot: the nearest of them is at least ${missFt.toFixed(0)} ft away.`,
      remedy: "Send both files in one coordinate system and unit; look for cut-off leading digits.",
    });
    return false;
  }
  const beyond = beyondFt.filter((ft) => ft > BEYOND_FT).length;
  if (beyond > 0)
    notes.warnings.push({
      code: "corners-beyond-shots",
      message: `${beyond} of ${boundary.length} lot corners lie beyond the outermost ground shots, by up to ${measure(Math.round(Math.max(...beyondFt)), "ft")}: the ground there was not surveyed.`,
      remedy: `Ask for the topo to be extended over the whole lot and ${measure(25, "ft")} beyond its lines.`,
    });
  return true;
}

/** Shots in a row, near each other for the most part, whose box says whether they need a look. */
const BLOCK = 256;

function blocksOf({ count, eastFt, northFt }: GroundPoints): Box[] {
  const boxes: Box[] = [];
  for (let from = 0; from < count; from += BLOCK)
    boxes.push(boxOfColumns(eastFt, northFt, from, Math.min(count, from + BLOCK)));
  return boxes;
}

/** How far the outermost shot lies in a direction. */
function farthestAlong(
  { count, eastFt, northFt }: GroundPoints,
  blocks: readonly Box[],
  ux: number,
  uy: number,
): number {
  let farthest = -Infinity;
  blocks.forEach(({ minEastFt, minNorthFt, maxEastFt, maxNorthFt }, b) => {
    const most = ux * (ux > 0 ? maxEastFt : minEastFt) + uy * (uy > 0 ? maxNorthFt : minNorthFt);
    if (most <= farthest) return;
    for (let i = b * BLOCK; i < Math.min(count, (b + 1) * BLOCK); i++) {
      const along = eastFt[i]! * ux + northFt[i]! * uy;
      if (along > farthest) farthest = along;
    }
  });
  return farthest;
}
