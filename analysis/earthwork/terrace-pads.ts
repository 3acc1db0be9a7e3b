/** The shape of a terrace beside a pad: its tiers as lines, the level ground between them as pads. */
import type { Point, Ring } from "../geometry/plane.js";
import { elevationAt } from "../terrain/index.js";
import type { Tin } from "../terrain/terrain.js";
import { orient, type Pad, type Side } from "./batter-zones.js";

/** Ground kept free beyond the foot of a slope. */
const END_MARGIN_FT = 1;
const SAME_FT = 0.01;

export type Oriented = ReturnType<typeof orient>;

export interface Tier {
  /** Face of the wall in plan, two corners. */
  readonly line: readonly [Point, Point];
  /** Away from the pad. */
  readonly outward: Point;
  /** 1 is the lowest of `of`. */
  readonly nth: number;
  readonly of: number;
  readonly spacingFt: number;
}

/** A stretch of a pad's edge that one bench lies beside. */
export interface BenchRun {
  /** Its ends and the corners of the pad between them. */
  readonly line: readonly Point[];
  /** Outward from each leg of the line. */
  readonly normals: readonly Point[];
  readonly stations: readonly number[];
}

export interface Terrace {
  readonly tiers: number;
  readonly tierFt: number;
  readonly spacingFt: number;
  /** From the pad outward, one fewer than the tiers. */
  readonly benches: readonly BenchRun[];
}

/** The line moved outward, with sharp corners. */
export function offsetLine(
  { line, normals }: Pick<BenchRun, "line" | "normals">,
  distanceFt: number,
): Point[] {
  return line.map(([x, y], k) => {
    const before = normals[Math.max(0, k - 1)]!;
    const after = normals[Math.min(k, normals.length - 1)]!;
    const scale = distanceFt / (1 + before[0] * after[0] + before[1] * after[1]);
    return [x + scale * (before[0] + after[0]), y + scale * (before[1] + after[1])];
  });
}

/** Where benches begin and end on the faces they lie against: edges are cut there. */
export function endsOf({ benches, spacingFt }: Terrace): Point[] {
  return benches.flatMap((run, k) => {
    const face = offsetLine(run, k * spacingFt);
    return [face[0]!, face.at(-1)!];
  });
}

/** Level ground between the tiers. Its ends run out in slopes where there is room, else in walls. */
export function benchesOf(
  tin: Tin,
  pad: Oriented,
  terrace: Terrace,
  sign: 1 | -1,
  { cutBatter, fillBatter }: { readonly cutBatter: number; readonly fillBatter: number },
  isFree: (ring: Ring) => boolean,
): Pad[] {
  const batter = sign > 0 ? cutBatter : fillBatter;
  return terrace.benches.map((run, k) => {
    const inner = offsetLine(run, k * terrace.spacingFt);
    const outer = offsetLine(run, (k + 1) * terrace.spacingFt);
    const levelFt = pad.levelFt + sign * (k + 1) * terrace.tierFt;
    const endSide = (atInner: Point, atOuter: Point): Side => {
      const heldFt = sign * (elevationAt(tin, atOuter[0], atOuter[1]) - levelFt);
      const reachFt = batter * heldFt + END_MARGIN_FT;
      const length = Math.hypot(atOuter[0] - atInner[0], atOuter[1] - atInner[1]);
      // square to the end, away from the terrace
      const [nx, ny] = [(atOuter[1] - atInner[1]) / length, (atInner[0] - atOuter[0]) / length];
      const side = atInner === inner[0] ? -1 : 1;
      const out = ([x, y]: Point, from: number): Point => [x - side * from * nx, y - side * from * ny];
      const beyond = [
        out(atInner, SAME_FT),
        out(atOuter, SAME_FT),
        out(atOuter, reachFt),
        out(atInner, reachFt),
      ];
      return batter > 0 && reachFt > 0 && isFree(beyond) ? "batter" : "wall";
    };
    const faces = inner.length - 1;
    const walls = (): Side[] => new Array<Side>(faces).fill("wall");
    return {
      // outside the pad, so seen from the terrace the pad's own direction is turned round
      ring: [...[...inner].reverse(), ...outer],
      levelFt,
      sides: [...walls(), endSide(inner[0]!, outer[0]!), ...walls(), endSide(inner.at(-1)!, outer.at(-1)!)],
    };
  });
}

export function tiersOf(terrace: Terrace, sign: 1 | -1): Tier[] {
  return Array.from({ length: terrace.tiers }, (_, k) => {
    const run = terrace.benches[Math.min(k, terrace.benches.length - 1)]!;
    const face = offsetLine(run, k * terrace.spacingFt);
    return face.slice(1).map(
      (to, i): Tier => ({
        line: [face[i]!, to],
        outward: run.normals[i]!,
        nth: sign > 0 ? k + 1 : terrace.tiers - k,
        of: terrace.tiers,
        spacingFt: terrace.spacingFt,
      }),
    );
  }).flat();
}

/** The pad with corners put in where a terrace begins or ends along one of its edges. */
export function cutAt(pad: Pad, places: readonly Point[]): Pad {
  const { ring, sides } = orient(pad);
  const corners: Point[] = [];
  const kept: Side[] = [];
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along = ([x, y]: Point) => ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / length;
    const off = ([x, y]: Point) => Math.abs((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / length;
    corners.push(a);
    kept.push(sides[i]!);
    const on = places
      .filter((p) => off(p) < SAME_FT && along(p) > SAME_FT && along(p) < length - SAME_FT)
      .sort((p, q) => along(p) - along(q));
    for (const place of on) {
      corners.push(place);
      kept.push(sides[i]!);
    }
  });
  return { ...pad, ring: corners, sides: kept };
}
