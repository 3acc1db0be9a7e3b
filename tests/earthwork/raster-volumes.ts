/** Cut and fill by brute force: a fine raster, distances to the pads by hand, and a flood from the pads outward. */
import type { Point, Ring } from "../../analysis/geometry/plane.js";

export interface RasterPad {
  readonly ring: Ring;
  readonly levelFt: number;
}

export interface RasterOptions {
  readonly pads: readonly RasterPad[];
  readonly cutBatter: number;
  readonly fillBatter: number;
  readonly cellFt: number;
  readonly marginFt: number;
  /** Points outside are left alone. */
  readonly limit?: Ring;
  /** Edges (pad, edge) that carry no bank: ground whose nearest pad point lies on one, or on its ends, is left alone. */
  readonly bare?: (pad: number, edge: number) => boolean;
}

function inside(ring: Ring, x: number, y: number): boolean {
  let odd = false;
  for (let i = 0; i < ring.length; i++) {
    const [ax, ay] = ring[i]!;
    const [bx, by] = ring[(i + 1) % ring.length]!;
    if (ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax)) odd = !odd;
  }
  return odd;
}

/** Nearest edge and whether its end is the nearest point. */
function nearest(ring: Ring, x: number, y: number): { d: number; edge: number; t: number } {
  let best = { d: Infinity, edge: -1, t: 0 };
  ring.forEach(([ax, ay], edge) => {
    const [bx, by] = ring[(edge + 1) % ring.length]!;
    const t = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2);
    const s = Math.max(0, Math.min(1, t));
    const d = Math.hypot(x - ax - s * (bx - ax), y - ay - s * (by - ay));
    if (d < best.d) best = { d, edge, t };
  });
  return best;
}

/** Sums over cells of `cellFt`; the ground is any function, NaN where there is none. */
export function rasterVolumes(groundFt: (x: number, y: number) => number, options: RasterOptions) {
  const { pads, cutBatter, fillBatter, cellFt, marginFt, limit, bare = () => false } = options;
  const corners: Point[] = pads.flatMap(({ ring }) => [...ring]);
  const west = Math.min(...corners.map(([x]) => x)) - marginFt;
  const south = Math.min(...corners.map(([, y]) => y)) - marginFt;
  const cols = Math.ceil((Math.max(...corners.map(([x]) => x)) + marginFt - west) / cellFt);
  const rows = Math.ceil((Math.max(...corners.map(([, y]) => y)) + marginFt - south) / cellFt);
  const depth = new Float64Array(cols * rows).fill(Number.NaN);
  const onPad = new Uint8Array(cols * rows);
  for (let i = 0; i < cols * rows; i++) {
    const x = west + ((i % cols) + 0.5) * cellFt;
    const y = south + (Math.floor(i / cols) + 0.5) * cellFt;
    const ground = groundFt(x, y);
    const held = pads.find(({ ring }) => inside(ring, x, y));
    if (held) {
      onPad[i] = 1;
      depth[i] = ground - held.levelFt;
      continue;
    }
    if (limit && !inside(limit, x, y)) continue;
    let best = { d: Infinity, edge: -1, t: 0, pad: -1 };
    pads.forEach(({ ring }, pad) => {
      const near = nearest(ring, x, y);
      if (near.d < best.d) best = { ...near, pad };
    });
    const { ring, levelFt } = pads[best.pad]!;
    const other =
      best.t <= 0
        ? (best.edge + ring.length - 1) % ring.length
        : best.t >= 1
          ? (best.edge + 1) % ring.length
          : best.edge;
    if (bare(best.pad, best.edge) || bare(best.pad, other)) continue;
    const high = levelFt + best.d / cutBatter;
    const low = levelFt - best.d / fillBatter;
    depth[i] = ground > high ? ground - high : ground < low ? ground - low : 0;
  }
  const sum = { cutFt3: 0, fillFt3: 0, cutFt2: 0, fillFt2: 0 };
  for (const sign of [1, -1]) {
    const reached = new Uint8Array(cols * rows);
    const queue: number[] = [];
    const add = (i: number) => {
      if (!reached[i] && sign * depth[i]! > 0) {
        reached[i] = 1;
        queue.push(i);
      }
    };
    for (let i = 0; i < cols * rows; i++) if (onPad[i]) add(i);
    while (queue.length > 0) {
      const i = queue.pop()!;
      sum[sign > 0 ? "cutFt3" : "fillFt3"] += Math.abs(depth[i]!) * cellFt * cellFt;
      sum[sign > 0 ? "cutFt2" : "fillFt2"] += cellFt * cellFt;
      if (i % cols > 0) add(i - 1);
      if (i % cols < cols - 1) add(i + 1);
      if (i >= cols) add(i - cols);
      if (i < cols * (rows - 1)) add(i + cols);
    }
  }
  return sum;
}
