/** What is graded for a house, in its own axes: rectangles at set heights over a base level, and the sides around them. */
import type { Point } from "../geometry/plane.js";
import type { Rect } from "./footprints.js";

export type Part = "house" | "garage" | "apron";

export interface Tile {
  readonly rect: Rect;
  readonly part: Part;
  /** Height of this rectangle over the base level, ft. */
  readonly offsetFt: number;
}

/** One stretch of the outside edge, counter-clockwise (the graded ground lies to its left). */
export interface Side {
  readonly from: Point;
  readonly to: Point;
  readonly outward: Point;
  readonly offsetFt: number;
  /** "open" ground may be sloped or walled; a "house-wall" holds the earth itself. */
  readonly hold: "open" | "house-wall";
}

/** An outside corner between two open sides that turn away from each other. */
export interface Corner {
  readonly at: Point;
  readonly from: Point;
  readonly to: Point;
  readonly offsetFt: number;
  /** Sides that end and begin here, as indices of `sides`. */
  readonly between: readonly [number, number];
}

/** Where two tiles of different height meet. */
export interface Step {
  readonly lengthFt: number;
  readonly riseFt: number;
  /** True where one of the two is under the house: its own wall holds the step. */
  readonly inHouse: boolean;
  readonly from: Point;
  readonly to: Point;
}

export interface Layout {
  readonly tiles: readonly Tile[];
  readonly sides: readonly Side[];
  readonly corners: readonly Corner[];
  readonly steps: readonly Step[];
  readonly areaFt2: number;
}

const SAME_FT = 1e-6;

export interface Aprons {
  /** Extra graded ground beyond each face of the footprint, ft. */
  readonly plusU: number;
  readonly minusU: number;
  readonly plusV: number;
  readonly minusV: number;
}

interface Edge {
  /** Face of a tile: the fixed coordinate, the range along it, and the tile. */
  readonly axis: "u" | "v";
  readonly outwardSign: 1 | -1;
  readonly at: number;
  readonly low: number;
  readonly high: number;
  readonly tile: Tile;
}

/**
 * Sides, corners and steps of disjoint rectangles that may touch. `houseWall` says which outside faces are
 * walls of the house itself.
 */
export function layOut(
  tiles: readonly Tile[],
  houseWall: (tile: Tile, outward: Point) => boolean = () => false,
): Layout {
  const edges = tiles.flatMap(edgesOf);
  const sides: Side[] = [];
  const steps: Step[] = [];
  for (let i = 0; i < edges.length; i++) {
    const edge = edges[i]!;
    const touching: Edge[] = [];
    // every tile has its edges in the same order: of each only the one that looks the other way can touch
    for (let j = (i % 4) ^ 1; j < edges.length; j += 4) {
      const other = edges[j]!;
      if (
        Math.abs(other.at - edge.at) < SAME_FT &&
        Math.min(other.high, edge.high) - Math.max(other.low, edge.low) > SAME_FT
      )
        touching.push(other);
    }
    for (const other of touching) {
      const rise = edge.tile.offsetFt - other.tile.offsetFt;
      if (!(rise > SAME_FT)) continue;
      const low = Math.max(other.low, edge.low);
      const high = Math.min(other.high, edge.high);
      steps.push({
        lengthFt: high - low,
        riseFt: rise,
        inHouse: edge.tile.part === "house" || other.tile.part === "house",
        from: pointOn(edge, low),
        to: pointOn(edge, high),
      });
    }
    for (const [low, high] of uncovered(edge, touching)) {
      const outward: Point = edge.axis === "u" ? [edge.outwardSign, 0] : [0, edge.outwardSign];
      // counter-clockwise: the outward normal is the direction turned a quarter clockwise
      const rising = edge.axis === "u" ? edge.outwardSign > 0 : edge.outwardSign < 0;
      sides.push({
        from: pointOn(edge, rising ? low : high),
        to: pointOn(edge, rising ? high : low),
        outward,
        offsetFt: edge.tile.offsetFt,
        hold: houseWall(edge.tile, outward) ? "house-wall" : "open",
      });
    }
  }
  return {
    tiles: tiles.map(alike),
    sides,
    corners: cornersOf(sides),
    steps,
    areaFt2: tiles.reduce((sum, { rect }) => sum + (rect.u1 - rect.u0) * (rect.v1 - rect.v0), 0),
  };
}

/** The search reads tiles so often that it matters to the engine whether all of them were written in one place. */
function alike({ rect: { u0, v0, u1, v1 }, part, offsetFt }: Tile): Tile {
  return { rect: { u0, v0, u1, v1 }, part, offsetFt };
}

/** Highest wall between levels outside the house. */
export function tallestSiteStepFt({ steps }: Layout): number {
  return steps.reduce((most, { inHouse, riseFt }) => (inHouse ? most : Math.max(most, riseFt)), 0);
}

/**
 * Aprons by the direction each face looks in: `downhill` is a unit vector in (u, v). Blended smoothly
 * from uphill over side to downhill, so that turning the house never makes them jump.
 */
export function apronsTowards(
  apron: { readonly uphill: number; readonly side: number; readonly downhill: number },
  downhill: Point,
): Aprons {
  const along = (cosine: number) =>
    apron.side + ((cosine > 0 ? apron.downhill : apron.uphill) - apron.side) * cosine * cosine;
  return {
    plusU: along(downhill[0]),
    minusU: along(-downhill[0]),
    plusV: along(downhill[1]),
    minusV: along(-downhill[1]),
  };
}

export function grown({ u0, v0, u1, v1 }: Rect, a: Aprons): Rect {
  return { u0: u0 - a.minusU, v0: v0 - a.minusV, u1: u1 + a.plusU, v1: v1 + a.plusV };
}

/** The rectangles in order, each without what earlier ones take. */
export function stacked(tiles: readonly Tile[]): Tile[] {
  const placed: Tile[] = [];
  for (const tile of tiles) {
    let left = [tile.rect];
    for (const { rect } of placed) left = left.flatMap((r) => rectMinus(r, rect));
    placed.push(...left.map((rect) => ({ ...tile, rect })));
  }
  return placed;
}

/** What of `rect` lies outside `taken`, as disjoint rectangles. */
export function rectMinus(rect: Rect, taken: Rect): Rect[] {
  const v0 = Math.max(rect.v0, taken.v0);
  const v1 = Math.min(rect.v1, taken.v1);
  const u0 = Math.max(rect.u0, taken.u0);
  const u1 = Math.min(rect.u1, taken.u1);
  if (u1 - u0 <= SAME_FT || v1 - v0 <= SAME_FT) return [rect];
  return [
    { ...rect, v1: v0 },
    { ...rect, v0: v1 },
    { u0: rect.u0, v0, u1: u0, v1 },
    { u0: u1, v0, u1: rect.u1, v1 },
  ].filter((r) => r.u1 - r.u0 > SAME_FT && r.v1 - r.v0 > SAME_FT);
}

function edgesOf(tile: Tile): Edge[] {
  const { u0, v0, u1, v1 } = tile.rect;
  return [
    { axis: "u", outwardSign: 1, at: u1, low: v0, high: v1, tile },
    { axis: "u", outwardSign: -1, at: u0, low: v0, high: v1, tile },
    { axis: "v", outwardSign: 1, at: v1, low: u0, high: u1, tile },
    { axis: "v", outwardSign: -1, at: v0, low: u0, high: u1, tile },
  ];
}

function pointOn(edge: Edge, along: number): Point {
  return edge.axis === "u" ? [edge.at, along] : [along, edge.at];
}

function uncovered(edge: Edge, touching: readonly Edge[]): [number, number][] {
  let open: [number, number][] = [[edge.low, edge.high]];
  if (touching.length === 0) return open;
  for (const { low, high } of touching)
    open = open.flatMap(([a, b]): [number, number][] => {
      if (high <= a || low >= b) return [[a, b]];
      return [
        [a, Math.max(a, low)],
        [Math.min(b, high), b],
      ];
    });
  return open.filter(([a, b]) => b - a > SAME_FT);
}

/** Corners where an open side ends and another begins, turning left by a quarter (outside corners only). */
function cornersOf(sides: readonly Side[]): Corner[] {
  const corners: Corner[] = [];
  for (let i = 0; i < sides.length; i++) {
    const a = sides[i]!;
    if (a.hold !== "open") continue;
    for (let j = 0; j < sides.length; j++) {
      const b = sides[j]!;
      if (b.hold !== "open") continue;
      const du = a.to[0] - b.from[0];
      const dv = a.to[1] - b.from[1];
      if (du * du + dv * dv > SAME_FT * SAME_FT) continue;
      const turn = a.outward[0] * b.outward[1] - a.outward[1] * b.outward[0];
      if (turn < 0.5) continue;
      const offsetFt = Math.min(a.offsetFt, b.offsetFt);
      corners.push({ at: a.to, from: a.outward, to: b.outward, offsetFt, between: [i, j] });
    }
  }
  return corners;
}
