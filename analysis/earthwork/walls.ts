/** Retaining walls: how much earth each length of a wall holds. Heights are measured, nothing is designed. */
import type { Point, Ring } from "../geometry/plane.js";
import { signedAreaFt2 } from "../geometry/plane.js";
import { elevationAt } from "../terrain/index.js";
import type { Tin } from "../terrain/terrain.js";
import { orient, type Pad } from "./batter-zones.js";
import type { Wall } from "./earthwork.js";

/** Bottom of the footing below the lower ground: common practice, no source; frost and the engineer decide. */
export const FOOTING_BELOW_GRADE_FT = 1.5;
/** Upper limits of the height classes; above the last the class is open. */
const CLASS_LIMITS_FT = [4, 6, 8, 10, 12] as const;
/** Less earth than this needs no wall: it is rolled over and dressed by hand, or held by a curb. */
export const LEAST_WALL_FT = 0.5;
/** A slope that would meet the ground more than this many edge heights up (or down) is a scar: a wall stands instead. Judgement, common practice. */
export const CATCH_TO_EDGE = 2;
/** Ground behind a wall steeper than this leans on it: common practice, no source. */
export const SURCHARGE_SLOPE_PCT = 10;
const PROFILE_STEP_FT = 1;
/** How far behind the wall the ground is looked at. */
const BEHIND_FT = 10;

/** Ground less `levelFt` along a line, evenly spaced from end to end; NaN off the survey. */
export function groundHeights(
  tin: Tin,
  line: readonly Point[],
  levelFt: number,
  stepFt = PROFILE_STEP_FT,
): number[] {
  return evenly(line, stepFt).map(([x, y]) => elevationAt(tin, x, y) - levelFt);
}

export type Segment = readonly [from: Point, to: Point];

export interface WallParts {
  readonly kind: Wall["kind"];
  readonly where: Wall["where"];
  readonly line: readonly Point[];
  /** Retained height along the line, evenly spaced; below 0 or NaN counts as nothing held. */
  readonly heightsFt: readonly number[];
  readonly surcharge: boolean;
}

/**
 * A wall from its retained heights: tallest, length and face (∫ height dl) where it holds at least half a foot, and
 * both by height class. Heights run straight between the given ones; class limits are cut exactly.
 */
export function retainingWall({ kind, where, line, heightsFt, surcharge }: WallParts): Wall {
  const held = heightsFt.map((h) => (Number.isNaN(h) ? 0 : Math.max(0, h)));
  const stepFt = lengthOf(line) / Math.max(1, held.length - 1);
  const retainedFt = Math.max(0, ...held);
  const limits = [LEAST_WALL_FT, ...CLASS_LIMITS_FT, Number.POSITIVE_INFINITY];
  const classes = [...CLASS_LIMITS_FT, null].map((upToFt) => ({ upToFt, lengthFt: 0, faceFt2: 0 }));
  for (let i = 1; i < held.length; i++)
    for (let k = 0; k < classes.length; k++) {
      const [share, mean] = between(held[i - 1]!, held[i]!, limits[k]!, limits[k + 1]!);
      classes[k]!.lengthFt += share * stepFt;
      classes[k]!.faceFt2 += share * stepFt * mean;
    }
  return {
    kind,
    retainedFt,
    totalFt: retainedFt + FOOTING_BELOW_GRADE_FT,
    lengthFt: classes.reduce((sum, { lengthFt }) => sum + lengthFt, 0),
    faceFt2: classes.reduce((sum, { faceFt2 }) => sum + faceFt2, 0),
    where,
    surcharge,
    line,
    heightsFt: held,
    classes,
  };
}

/** Side of a pad an edge lies on, seen by somebody who looks downhill: its outward normal against the fall line. */
export function sideOf(ring: Ring, edge: number, downhill: Point): Exclude<Wall["where"], "between"> {
  const [px, py] = ring[edge]!;
  const [qx, qy] = ring[(edge + 1) % ring.length]!;
  const out = signedAreaFt2(ring) > 0 ? 1 : -1;
  return sideFacing([out * (qy - py), out * (px - qx)], downhill);
}

/** The same by the direction the side looks in. */
export function sideFacing([nx, ny]: Point, [fallEast, fallNorth]: Point): Exclude<Wall["where"], "between"> {
  const down = nx * fallEast + ny * fallNorth;
  const left = ny * fallEast - nx * fallNorth;
  if (Math.abs(down) >= Math.abs(left)) return down > 0 ? "downhill" : "uphill";
  return left > 0 ? "left" : "right";
}

/**
 * Walls along the edges of pads marked "wall". An edge that runs along another pad holds the step between them
 * (counted once, on the higher pad); every other one holds the ground above the pad, and, as a second wall, the pad
 * above the ground.
 */
export function padWalls(tin: Tin, pads: readonly Pad[], downhill: Point): Wall[] {
  const walls: Wall[] = [];
  const turned = pads.map(orient);
  turned.forEach(({ ring, levelFt, sides }, p) => {
    ring.forEach((from, edge) => {
      if (sides[edge] !== "wall") return;
      const line: Segment = [from, ring[(edge + 1) % ring.length]!];
      const where = sideOf(ring, edge, downhill);
      const neighbour = turned.find((other, q) => q !== p && runsAlong(other.ring, line));
      if (neighbour) {
        const stepFt = levelFt - neighbour.levelFt;
        if (stepFt > LEAST_WALL_FT)
          walls.push(
            retainingWall({
              kind: "site",
              where: "between",
              line,
              heightsFt: [stepFt, stepFt],
              surcharge: false,
            }),
          );
        return;
      }
      const heights = groundHeights(tin, line, levelFt);
      const cut = retainingWall({
        kind: "site",
        where,
        line,
        heightsFt: heights,
        surcharge: leansOn(tin, line),
      });
      const fill = retainingWall({
        kind: "site",
        where,
        line,
        heightsFt: heights.map((h) => -h),
        surcharge: false,
      });
      walls.push(...[cut, fill].filter(({ lengthFt }) => lengthFt > 0));
    });
  });
  return walls;
}

/** True when the ground behind the edge of a counter-clockwise pad goes on rising away from it. */
function leansOn(tin: Tin, [[px, py], [qx, qy]]: Segment): boolean {
  const length = Math.hypot(qx - px, qy - py);
  const nx = (qy - py) / length;
  const ny = (px - qx) / length;
  return [0.25, 0.5, 0.75].some((t) => {
    const x = px + t * (qx - px);
    const y = py + t * (qy - py);
    const rise = elevationAt(tin, x + BEHIND_FT * nx, y + BEHIND_FT * ny) - elevationAt(tin, x, y);
    return (100 * rise) / BEHIND_FT > SURCHARGE_SLOPE_PCT;
  });
}

/** Share of a straight height profile from h0 to h1 that lies in [low, high), and the mean height of that share. */
function between(h0: number, h1: number, low: number, high: number): [share: number, mean: number] {
  const min = Math.min(h0, h1);
  const max = Math.max(h0, h1);
  if (max - min < 1e-9) return h0 >= low && h0 < high ? [1, h0] : [0, 0];
  const from = Math.max(min, low);
  const to = Math.min(max, high);
  return to > from ? [(to - from) / (max - min), (from + to) / 2] : [0, 0];
}

/** True when the middle of a segment lies on an edge of the ring. */
export function runsAlong(ring: Ring, [[px, py], [qx, qy]]: Segment): boolean {
  const x = (px + qx) / 2;
  const y = (py + qy) / 2;
  return ring.some(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(bx - ax, by - ay);
    const off = Math.abs((bx - ax) * (y - ay) - (by - ay) * (x - ax)) / length;
    const along = ((bx - ax) * (x - ax) + (by - ay) * (y - ay)) / length;
    return off < 0.01 && along > 0 && along < length;
  });
}

function lengthOf(line: readonly Point[]): number {
  let sum = 0;
  for (let i = 1; i < line.length; i++)
    sum += Math.hypot(line[i]![0] - line[i - 1]![0], line[i]![1] - line[i - 1]![1]);
  return sum;
}

/** Points along a line, the same distance apart (about `stepFt`), both ends included. */
function evenly(line: readonly Point[], stepFt: number): Point[] {
  const total = lengthOf(line);
  const count = Math.max(1, Math.ceil(total / stepFt));
  const points: Point[] = [];
  let leg = 1;
  let before = 0;
  for (let k = 0; k <= count; k++) {
    const at = (k * total) / count;
    let length = legLength(line, leg);
    while (leg < line.length - 1 && at > before + length) {
      before += length;
      leg++;
      length = legLength(line, leg);
    }
    const t = length > 0 ? Math.min(1, (at - before) / length) : 0;
    const [ax, ay] = line[leg - 1]!;
    const [bx, by] = line[leg]!;
    points.push([ax + t * (bx - ax), ay + t * (by - ay)]);
  }
  return points;
}

function legLength(line: readonly Point[], leg: number): number {
  return Math.hypot(line[leg]![0] - line[leg - 1]![0], line[leg]![1] - line[leg - 1]![1]);
}
