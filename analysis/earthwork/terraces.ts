/**
 * One tall wall beside a pad as several lower ones, set back from each other with level ground between them.
 * Tiers stand apart by the height of the lower one at least, and act apart only from twice the upper one's height on:
 * common practice, no source. Method: docs/methods/earthwork.md
 */
import { intersectionOf } from "../geometry/clip.js";
import { areaFt2, type Point, type Ring } from "../geometry/plane.js";
import { elevationAt } from "../terrain/index.js";
import type { Tin } from "../terrain/terrain.js";
import { orient, type Pad } from "./batter-zones.js";
import type { Wall } from "./earthwork.js";
import {
  type BenchRun,
  benchesOf,
  cutAt,
  endsOf,
  type Oriented,
  offsetLine,
  type Terrace,
  type Tier,
  tiersOf,
} from "./terrace-pads.js";
import { runsAlong, sideFacing } from "./walls.js";

/** Clear ground between two tiers: at least so many times the lower one's height, … */
const LOWER_TIMES = 1;
/** … and the upper one's, below which both are judged as one wall of their joint height. */
const UPPER_TIMES = 2;
const MOST_TIERS = 4;
const STATION_FT = 1;
/** Tiers of even height and the setback that makes them depend on each other: settled after a few rounds. */
const ROUNDS = 80;
const SETTLED_FT = 1e-4;
/** A corner sharper than this ends a terrace. */
const SHARPEST_COSINE = -0.8;
const SAME_FT = 0.01;
/** Rounding of polygons that only touch. */
const OVERLAP_FT2 = 0.5;
/** A bench may stand this much over the ground at its outer edge. */
const IN_THE_AIR_FT = 0.5;

/** Why a tall wall stays one: the tiers would leave the ground they may stand on, the ground climbs (or falls) too fast for them, or nobody surveyed it. */
export type NoTerraces = "no-room" | "too-steep" | "unsurveyed";

export interface Terraced {
  /** The pads with edges cut where terraces begin and end, then the terraces. */
  readonly pads: readonly Pad[];
  readonly tiers: readonly Tier[];
}

export interface TerraceLimits {
  /** Height a wall may hold, and from which height on one is set back. */
  readonly mostFt: number;
  readonly tallFromFt: number;
  /** Run per unit of rise of the slopes that close the ends of a terrace where there is room for them. */
  readonly cutBatter: number;
  readonly fillBatter: number;
  /** Whether a terrace may lie there. */
  readonly hasRoom: (ring: Ring) => boolean;
}

/** Least clear ground between two walls, one above the other, for each to be judged by its own height. */
export function spacingAskedFt(lowerFt: number, upperFt: number): number {
  return Math.max(LOWER_TIMES * lowerFt, UPPER_TIMES * upperFt);
}

/**
 * Every stretch of "wall" edge that would hold more than `tallFromFt` set back in two to four tiers of even height.
 * Null where no wall is that tall.
 */
export function terraceTallWalls(
  tin: Tin,
  pads: readonly Pad[],
  limits: TerraceLimits,
): Terraced | NoTerraces | null {
  let made: Pad[] = [...pads];
  const tiers: Tier[] = [];
  for (const pad of pads.map(orient)) {
    const others = pads.filter((other) => other !== pad && other.levelFt !== pad.levelFt);
    for (const sign of [1, -1] as const) {
      const stations = stationsOf(tin, pad, others, sign);
      for (;;) {
        const worst = tallestOf(stations);
        if (worst < 0 || stations[worst]!.heldFt <= limits.tallFromFt) break;
        const held = ({ at, outward }: Pick<Station, "at" | "outward">, outFt: number) =>
          sign * (elevationAt(tin, at[0] + outFt * outward[0], at[1] + outFt * outward[1]) - pad.levelFt);
        const terrace = settle(held, stations, worst, limits.mostFt);
        if (typeof terrace === "string") return terrace;
        const isFree = (ring: Ring) => limits.hasRoom(ring) && made.every((p) => !overlap(p.ring, ring));
        const benches = benchesOf(tin, pad, terrace, sign, limits, isFree);
        if (!benches.every(({ ring }) => isFree(ring))) return "no-room";
        made = [...made, ...benches].map((p) => cutAt(p, endsOf(terrace)));
        tiers.push(...tiersOf(terrace, sign));
        for (const i of terrace.benches[0]!.stations) stations[i]!.heldFt = 0;
      }
    }
  }
  return tiers.length > 0 ? { pads: made, tiers } : null;
}

function overlap(a: Ring, b: Ring): boolean {
  return areaFt2(intersectionOf([[a]], [[b]])) > OVERLAP_FT2;
}

/** A place on a pad's walled edge, and the height held there: of ground above the pad, or of the pad above the ground. */
interface Station {
  readonly at: Point;
  readonly outward: Point;
  readonly edge: number;
  readonly walled: boolean;
  heldFt: number;
}

/** Height held so far outside a place on the edge. */
type Held = (from: Pick<Station, "at" | "outward">, outFt: number) => number;

function stationsOf(tin: Tin, { ring, sides, levelFt }: Oriented, others: readonly Pad[], sign: 1 | -1) {
  const stations: Station[] = [];
  ring.forEach((from, edge) => {
    const to = ring[(edge + 1) % ring.length]!;
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
    const outward: Point = [(to[1] - from[1]) / length, (from[0] - to[0]) / length];
    const walled =
      sides[edge] === "wall" && !others.some((other) => runsAlong(other.ring, [from, to] as const));
    const count = Math.max(1, Math.ceil(length / STATION_FT));
    for (let k = 0; k <= count; k++) {
      const t = k / count;
      const at: Point = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
      const heldFt = walled ? sign * (elevationAt(tin, at[0], at[1]) - levelFt) : 0;
      stations.push({ at, outward, edge, walled, heldFt: Number.isNaN(heldFt) ? 0 : heldFt });
    }
  });
  return stations;
}

function tallestOf(stations: readonly Station[]): number {
  let worst = -1;
  stations.forEach(({ heldFt }, i) => {
    if (heldFt > (stations[worst]?.heldFt ?? 0)) worst = i;
  });
  return worst;
}

/** Fewest even tiers that keep the limit, with the ground's rise over the setbacks counted in. */
function settle(
  held: Held,
  stations: readonly Station[],
  worst: number,
  mostFt: number,
): Terrace | NoTerraces {
  for (let tiers = 2; tiers <= MOST_TIERS; tiers++) {
    let tierFt = stations[worst]!.heldFt / tiers;
    let terrace: Terrace | null = null;
    for (let round = 0; round < ROUNDS; round++) {
      if (tierFt > mostFt) break;
      const spacingFt = spacingAskedFt(tierFt, tierFt);
      const benches = benchRuns(held, stations, worst, tiers, tierFt);
      if (typeof benches === "string") return benches;
      terrace = { tiers, tierFt, spacingFt, benches };
      const outFt = (tiers - 1) * spacingFt;
      const upper = benches.at(-1)!;
      const topFt = Math.max(
        ...upper.stations.map((i) => held(stations[i]!, outFt)),
        ...cornersOf(upper).map((corner) => held(corner, outFt)),
      );
      if (Number.isNaN(topFt)) return "unsurveyed";
      const next = Math.max(topFt, stations[worst]!.heldFt) / tiers;
      const isSettled = Math.abs(next - tierFt) < SETTLED_FT;
      tierFt = next;
      if (isSettled) break;
    }
    if (terrace && tierFt <= mostFt) return terrace;
  }
  return "too-steep";
}

/** Corners of the line, each with the way its offset moves: farther than one foot for every foot. */
function cornersOf({ line, normals }: BenchRun): Pick<Station, "at" | "outward">[] {
  const moved = offsetLine({ line, normals }, 1);
  return line.map((at, i) => ({ at, outward: [moved[i]![0] - at[0], moved[i]![1] - at[1]] }));
}

/** Bench k runs around the tallest place as far as the ground holds k tiers on both its edges: no bench stands in the air. */
function benchRuns(
  held: Held,
  stations: readonly Station[],
  worst: number,
  tiers: number,
  tierFt: number,
): BenchRun[] | NoTerraces {
  const spacingFt = spacingAskedFt(tierFt, tierFt);
  const runs: BenchRun[] = [];
  for (let k = 1; k < tiers; k++) {
    const below = runs.at(-1)?.stations;
    const run = runAround(stations, worst, (i) => {
      if (below && !below.includes(i)) return false;
      const outer = held(stations[i]!, k * spacingFt);
      const inner = k === 1 ? stations[i]!.heldFt : held(stations[i]!, (k - 1) * spacingFt);
      return inner >= k * tierFt && outer >= k * tierFt - IN_THE_AIR_FT;
    });
    if (!run) return Number.isNaN(held(stations[worst]!, k * spacingFt)) ? "unsurveyed" : "too-steep";
    runs.push(run);
  }
  return runs;
}

/** The unbroken stretch of stations around one for which `holds`, as a line; null where it is no stretch. */
function runAround(
  stations: readonly Station[],
  worst: number,
  holds: (station: number) => boolean,
): BenchRun | null {
  const n = stations.length;
  if (!holds(worst)) return null;
  const reach = (step: 1 | -1): number[] => {
    const run: number[] = [];
    for (let k = 1, i = worst; k < n; k++) {
      const next = (i + step + n) % n;
      const [a, b] = [stations[i]!, stations[next]!];
      if (!b.walled || (a.edge !== b.edge && !bendsOutward(a, b, step)) || !holds(next)) break;
      run.push(next);
      i = next;
    }
    return run;
  };
  const after = reach(1);
  const before = reach(-1).filter((i) => !after.includes(i));
  const run = [...before.reverse(), worst, ...after];
  // a corner alone of the next edge is not a stretch of it
  const edgeAt = (k: number) => stations[run.at(k)!]!.edge;
  if (run.length > 1 && edgeAt(0) !== edgeAt(1)) run.shift();
  if (run.length > 1 && edgeAt(-1) !== edgeAt(-2)) run.pop();
  const line: Point[] = [];
  const normals: Point[] = [];
  run.forEach((i, k) => {
    const { at, edge, outward } = stations[i]!;
    const starts = k === 0 || stations[run[k - 1]!]!.edge !== edge;
    if (starts) normals.push(outward);
    if (starts || k === run.length - 1) line.push(at);
  });
  return line.length < 2 ? null : { line, normals, stations: run };
}

/** Neighbouring edges of a counter-clockwise pad that turn left, not too sharply. */
function bendsOutward(a: Station, b: Station, step: 1 | -1): boolean {
  const [p, q] = step > 0 ? [a.outward, b.outward] : [b.outward, a.outward];
  const cross = p[0] * q[1] - p[1] * q[0];
  return cross > -1e-6 && p[0] * q[0] + p[1] * q[1] > SHARPEST_COSINE;
}

/** Walls that are tiers of a terrace, told so. */
export function tieredWalls(walls: readonly Wall[], tiers: readonly Tier[], downhill: Point): Wall[] {
  const at = (p: Point, q: Point) => Math.hypot(p[0] - q[0], p[1] - q[1]) < SAME_FT;
  return walls.map((wall) => {
    const [a, b] = [wall.line[0]!, wall.line.at(-1)!];
    const tier = tiers.find(({ line: [p, q] }) => (at(a, p) && at(b, q)) || (at(a, q) && at(b, p)));
    if (!tier) return wall;
    const { nth, of, spacingFt } = tier;
    return { ...wall, where: sideFacing(tier.outward, downhill), tier: { nth, of, spacingFt } };
  });
}
