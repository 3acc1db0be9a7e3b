/** Invented lots of four sizes, the same on every machine: rolling ground that falls to a street along the south. */
import { SQUARE_FEET_PER_ACRE } from "../../analysis/units.js";

export interface SeededLot {
  readonly name: string;
  readonly acres: number;
  readonly points: number;
  /** Warm runs whose median is reported. */
  readonly runs: number;
}

export const SEEDED_LOTS: readonly SeededLot[] = [
  { name: "1 acre, 400 points", acres: 1, points: 400, runs: 15 },
  { name: "1 acre, 5,000 points", acres: 1, points: 5_000, runs: 9 },
  { name: "10 acres, 100,000 points", acres: 10, points: 100_000, runs: 5 },
  { name: "40 acres, 1,000,000 points", acres: 40, points: 1_000_000, runs: 3 },
];

/** Shots reach this share of the lot's width beyond its lines. */
const BEYOND = 0.1;
const SOUTH = 5_000;
const WEST = 2_000;

export interface SeededFiles {
  readonly topo: Uint8Array;
  readonly boundary: Uint8Array;
  /** x0, y0, x1, y1, … as Delaunator takes them. */
  readonly xy: Float64Array;
}

/** Topo (point, northing, easting, elevation, description) and boundary as a surveyor would send them. */
export function writeLot({ acres, points }: SeededLot): SeededFiles {
  const widthFt = Math.sqrt(acres * SQUARE_FEET_PER_ACRE);
  const random = randomFrom(2026);
  const xy = new Float64Array(2 * points);
  // 40 bytes are enough for any row of this file
  const topo = Buffer.alloc(40 * points + 64);
  let end = topo.write("point,northing,easting,elevation,description\n");
  for (let i = 0; i < points; i++) {
    const x = widthFt * (-BEYOND + (1 + 2 * BEYOND) * random());
    const y = widthFt * (-BEYOND + (1 + 2 * BEYOND) * random());
    xy[2 * i] = x;
    xy[2 * i + 1] = y;
    const z = groundFt(x, y, widthFt) + 0.1 * (random() - 0.5);
    end += topo.write(
      `${i + 1},${(SOUTH + y).toFixed(2)},${(WEST + x).toFixed(2)},${z.toFixed(2)},GS\n`,
      end,
    );
  }
  const corners = [
    [0, 0],
    [1, 0.02],
    [0.97, 1],
    [0.4, 1.02],
    [0.02, 0.9],
  ].map(([x, y], i) => `${i + 1},${(SOUTH + y! * widthFt).toFixed(2)},${(WEST + x! * widthFt).toFixed(2)}`);
  return {
    topo: topo.subarray(0, end),
    boundary: Buffer.from(`corner,northing,easting\n${corners.join("\n")}\n`),
    xy,
  };
}

/** About 20 % steep with swells; the same shape at every size. */
function groundFt(x: number, y: number, widthFt: number): number {
  const [u, v] = [x / widthFt, y / widthFt];
  return 500 + widthFt * (0.2 * v + 0.03 * Math.sin(5 * u) + 0.02 * Math.cos(8 * (u + v)));
}

/** Numerical Recipes' quick generator: good enough to scatter shots, and the same everywhere. */
function randomFrom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
