/** Shots that stand alone above or below the ground round them: busts of the rod, of the pencil, of cut-off digits. */
import { measure } from "../measure.js";
import { type IntakeNotes, rowsInWords } from "./notes.js";
import { heightAbove, leastSquaresPlane, type Neighbours, steadiestPlane } from "./plane-fit.js";
import { findNearest, type Nearest, roomForNearest, type ShotGrid } from "./shot-grid.js";
import { screenByCells } from "./spike-screen.js";
import type { GroundPoints } from "./survey.js";

/** Neighbours a shot is held against. */
const NEIGHBOURS = 12;
/** Fewer neighbours than this say nothing. */
const FEWEST = 6;
/** Nothing lower than this is called a spike: boulders, walls and banks are real. */
export const LEAST_SPIKE_FT = 8;
/** A spike stands out by this many times the usual misfit, of its neighbours and of the whole survey. */
const MISFITS = 6;
/** Beyond this and twice as many misfits, neighbours may share the fault (a run of cut-off digits). */
const GROSS_FT = 50;
const GROSS_SHARERS = 4;
/** Half-width of a normal distribution that holds half of it, inverted: median to sigma. */
const MEDIAN_TO_SIGMA = 1.4826;
/** Surveys larger than this are screened by cells before single shots are looked at. */
const MOST_SINGLY = 2_000;
/** Candidates looked at closely; more than this is rough ground or tree tops, not busts. */
const MOST_CANDIDATES = 20_000;
const MOST_NAMED = 500;

/**
 * Marks spikes in `keep`. A shot is a spike when it stands off the steadiest plane through its 12 nearest neighbours by
 * more than 8 ft, 6 misfits of those neighbours and 6 of the whole survey, and no neighbour stands off with it.
 */
export function dropSpikes(
  ground: GroundPoints,
  grid: ShotGrid,
  keep: Uint8Array,
  forced: ReadonlySet<number>,
  notes: IntakeNotes,
): void {
  const room = { nearest: roomForNearest(NEIGHBOURS), near: roomForNeighbours() };
  const { candidates, usualMisfitFt } =
    ground.count > MOST_SINGLY
      ? screenByCells(ground, grid, keep, LEAST_SPIKE_FT / 2)
      : screenSingly(ground, grid, keep, room);
  const spikes: { shot: number; evidence: string }[] = [];
  for (const shot of candidates.slice(0, MOST_CANDIDATES)) {
    if (forced.has(ground.row[shot]!)) continue;
    const evidence = judge(ground, grid, keep, shot, usualMisfitFt, room);
    if (evidence) spikes.push({ shot, evidence });
  }
  if (spikes.length === 0) return;
  spikes.sort((a, b) => ground.row[a.shot]! - ground.row[b.shot]!);
  for (const { shot, evidence } of spikes) {
    keep[shot] = 0;
    if (notes.excluded.length < MOST_NAMED)
      notes.excluded.push({ row: ground.row[shot]!, reason: "spike", evidence });
  }
  const rows = spikes.map(({ shot }) => ground.row[shot]!);
  notes.warnings.push({
    code: "spikes-excluded",
    message: `${spikes.length === 1 ? "One shot stands" : `${spikes.length} shots stand`} far off the ground round ${spikes.length === 1 ? "it" : "them"} and ${spikes.length === 1 ? "was" : "were"} left out: ${rowsInWords(rows)}. Row ${rows[0]}: ${spikes[0]!.evidence}.`,
    remedy: "Ask the surveyor; if a shot is right, name its row in survey.keepRows.",
    rows: rows.slice(0, MOST_NAMED),
  });
}

interface Room {
  readonly nearest: Nearest;
  readonly near: Neighbours;
}

function roomForNeighbours(): Neighbours {
  return {
    count: 0,
    dx: new Float64Array(NEIGHBOURS),
    dy: new Float64Array(NEIGHBOURS),
    z: new Float64Array(NEIGHBOURS),
  };
}

function gather(
  ground: GroundPoints,
  grid: ShotGrid,
  keep: Uint8Array,
  shot: number,
  { nearest, near }: Room,
): void {
  findNearest(grid, ground, keep, shot, nearest);
  near.count = nearest.count;
  for (let k = 0; k < nearest.count; k++) {
    const j = nearest.shots[k]!;
    near.dx[k] = ground.eastFt[j]! - ground.eastFt[shot]!;
    near.dy[k] = ground.northFt[j]! - ground.northFt[shot]!;
    near.z[k] = ground.elevFt[j]!;
  }
}

function screenSingly(ground: GroundPoints, grid: ShotGrid, keep: Uint8Array, room: Room) {
  const offs: number[] = [];
  const candidates: number[] = [];
  for (let i = 0; i < ground.count; i++) {
    if (!keep[i]) continue;
    gather(ground, grid, keep, i, room);
    if (room.near.count < FEWEST) continue;
    const plane = leastSquaresPlane(room.near);
    const off = plane ? Math.abs(ground.elevFt[i]! - plane.atPlace) : Infinity;
    if (plane) offs.push(off);
    if (off > LEAST_SPIKE_FT / 2) candidates.push(i);
  }
  const median = Float64Array.from(offs).sort()[offs.length >> 1] ?? 0;
  return { candidates, usualMisfitFt: MEDIAN_TO_SIGMA * median };
}

/** What speaks against a shot, in words; null when it may be ground. */
function judge(
  ground: GroundPoints,
  grid: ShotGrid,
  keep: Uint8Array,
  shot: number,
  usualMisfitFt: number,
  room: Room,
): string | null {
  gather(ground, grid, keep, shot, room);
  const { near } = room;
  if (near.count < FEWEST) return null;
  const steady = steadiestPlane(near);
  if (!steady) return null;
  const z = ground.elevFt[shot]!;
  const off = z - steady.plane.atPlace;
  // small samples: the usual correction of the median distance for the three shots the plane was drawn through
  const misfitFt = Math.max(MEDIAN_TO_SIGMA * (1 + 5 / (near.count - 3)) * steady.medianOff, usualMisfitFt);
  if (Math.abs(off) <= Math.max(LEAST_SPIKE_FT, MISFITS * misfitFt)) return null;
  let sharers = 0;
  for (let k = 0; k < near.count; k++)
    if (heightAbove(steady.plane, near.dx[k]!, near.dy[k]!, near.z[k]!) / off > 0.5) sharers++;
  const gross = Math.abs(off) > Math.max(GROSS_FT, 2 * MISFITS * misfitFt);
  if (sharers > (gross ? GROSS_SHARERS : 0)) return null;
  return `${measure(Number(z.toFixed(2)), "ft")} stands ${measure(Number(Math.abs(off).toFixed(1)), "ft")} ${off > 0 ? "above" : "below"} the plane of its ${near.count} nearest shots, half of which lie within ${measure(Number(steady.medianOff.toFixed(1)), "ft")} of it${cutOffDigits(off, misfitFt)}`;
}

/** Whole hundreds that would put the shot on the ground suggest leading digits were lost. */
function cutOffDigits(off: number, misfitFt: number): string {
  const hundreds = Math.round(-off / 100) * 100;
  return hundreds > 0 && Math.abs(off + hundreds) < Math.max(2 * misfitFt, 1)
    ? `; with ${measure(hundreds, "ft")} more it would fit, as if leading digits were cut off`
    : "";
}
