/** The chosen trial as rings with levels, each edge sloped or held: what the exact earthwork is computed from. */
import { unionOf } from "../geometry/clip.js";
import type { Point, Ring } from "../geometry/plane.js";
import { cornersOf } from "./footprint-outline.js";
import type { Layout, Tile } from "./layout.js";
import { CLOSE, type Judge, type Trial } from "./model.js";
import type { Moved } from "./moved.js";
import { onLot } from "./place.js";

export type EdgeHold = "batter" | "wall" | "vertical";

export interface PlannedPad {
  readonly ring: Ring;
  readonly levelFt: number;
  /** How edge ring[i] → ring[i + 1] is held; "vertical" is a wall of the house or another pad. */
  readonly sides: readonly EdgeHold[];
}

export interface PlannedSurface {
  readonly pads: readonly PlannedPad[];
  /** The close look at the same trial, for what the exact surface does not tell. */
  readonly sketched: Moved;
}

/** Ends of edges that are the same place, ft. */
const SAME_FT = 0.01;
/** Polygons are joined to this. */
const ROUNDING_FT = 0.001;
/** A slope shorter than this between two walls is a wall too. */
const SHORTEST_SLOPE_FT = 5;

/** Looks closely once more, then turns runs of stations into runs of wall or slope along each pad's edge. */
export function planSurface(trial: Trial, { sketch }: Judge): PlannedSurface {
  const { layout, place } = trial;
  sketch.read(place, layout, { ...CLOSE, lenient: true });
  const sketched = structuredClone(sketch.measure(trial.levelFt, true));
  const held = heldStretches(layout, sketch.walledParts(), (p) => onLot(place, p));
  const pads = decksOf(layout).flatMap(({ offsetFt, rings }) =>
    rings.map((ring) =>
      withHolds(
        ring.map((p) => onLot(place, p)),
        trial.levelFt + offsetFt,
        held,
      ),
    ),
  );
  return { pads, sketched };
}

/** Tiles of one height as rings: joined where they touch, singly where joining would leave a hole. */
function decksOf({ tiles }: Layout): { offsetFt: number; rings: Ring[] }[] {
  const byOffset = new Map<number, Tile[]>();
  for (const tile of tiles) byOffset.set(tile.offsetFt, [...(byOffset.get(tile.offsetFt) ?? []), tile]);
  return [...byOffset].map(([offsetFt, same]) => {
    const singly = same.map(({ rect }) => cornersOf(rect));
    const joined = unionOf(singly);
    return {
      offsetFt,
      rings: joined.some((polygon) => polygon.length > 1)
        ? singly
        : joined.map(([outer]) => straightened(outer!)),
    };
  });
}

/** Joining leaves corners in the middle of straight sides, a rounding off the line; they are dropped. */
function straightened(ring: Ring): Ring {
  return ring.filter(([x, y], i) => {
    const [px, py] = ring[(i + ring.length - 1) % ring.length]!;
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    return Math.abs((x - px) * (ny - py) - (y - py) * (nx - px)) > ROUNDING_FT * Math.hypot(nx - px, ny - py);
  });
}

/** A stretch of outside edge that is one thing from end to end. */
interface Stretch {
  readonly from: Point;
  readonly to: Point;
  readonly hold: EdgeHold;
}

function heldStretches(
  { sides }: Layout,
  walled: readonly (readonly boolean[])[],
  place: (p: Point) => Point,
): Stretch[] {
  return sides.flatMap((side, i): Stretch[] => {
    const at = (t: number): Point => [
      side.from[0] + t * (side.to[0] - side.from[0]),
      side.from[1] + t * (side.to[1] - side.from[1]),
    ];
    if (side.hold === "house-wall") return [{ from: place(side.from), to: place(side.to), hold: "vertical" }];
    const length = Math.hypot(side.to[0] - side.from[0], side.to[1] - side.from[1]);
    return runsOf(walled[i]!, length).map(({ start, end, wall }) => ({
      from: place(at(start)),
      to: place(at(end)),
      hold: wall ? "wall" : "batter",
    }));
  });
}

/** Runs of equal parts as fractions of the side; a short slope beside a wall joins it. */
function runsOf(
  walled: readonly boolean[],
  lengthFt: number,
): { start: number; end: number; wall: boolean }[] {
  const n = walled.length;
  const runs: { start: number; end: number; wall: boolean }[] = [];
  for (let i = 0; i < n; ) {
    let j = i;
    while (j < n && walled[j] === walled[i]) j++;
    const short = ((j - i) / n) * lengthFt < SHORTEST_SLOPE_FT && j - i < n;
    const wall = walled[i]! || short;
    const last = runs[runs.length - 1];
    if (last && last.wall === wall) last.end = j / n;
    else runs.push({ start: i / n, end: j / n, wall });
    i = j;
  }
  return runs;
}

/** Splits the edges of a ring where what holds them changes; edges against other pads stand vertical. */
function withHolds(ring: Ring, levelFt: number, stretches: readonly Stretch[]): PlannedPad {
  const corners: Point[] = [];
  const sides: EdgeHold[] = [];
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length]!;
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const along = ([x, y]: Point) => ((x - a[0]) * (b[0] - a[0]) + (y - a[1]) * (b[1] - a[1])) / length;
    const off = ([x, y]: Point) => Math.abs((b[0] - a[0]) * (y - a[1]) - (b[1] - a[1]) * (x - a[0])) / length;
    const on = stretches
      .filter((s) => off(s.from) < SAME_FT && off(s.to) < SAME_FT && along(s.to) > along(s.from))
      .map((s) => ({ start: Math.max(0, along(s.from)), end: Math.min(length, along(s.to)), hold: s.hold }))
      .filter((s) => s.end - s.start > SAME_FT)
      .sort((p, q) => p.start - q.start);
    const put = (at: number, hold: EdgeHold) => {
      if (sides.length > 0 && at > 0 && sides[sides.length - 1] === hold) return;
      corners.push([a[0] + (at / length) * (b[0] - a[0]), a[1] + (at / length) * (b[1] - a[1])]);
      sides.push(hold);
    };
    let reached = 0;
    for (const { start, end, hold } of on) {
      if (start - reached > SAME_FT) put(reached, "vertical");
      put(start - reached > SAME_FT ? start : reached, hold);
      reached = end;
    }
    if (length - reached > SAME_FT) put(reached, "vertical");
  });
  return { ring: corners, levelFt, sides };
}
