/** Pieces of one surface share most of their sides: what only parts piece from piece is taken out before they are joined. */

import type { Corner } from "./spikes.js";

/**
 * Loops with the same winding number everywhere as the pieces (x0, y0, x1, y1, … each), corners rounded to whole units:
 * sides that two pieces run along in opposite directions are left out, for in the sum of winding numbers they cancel.
 */
export function withoutSharedSides(pieces: readonly Float64Array[], unitsPerFt: number): Corner[][] {
  let most = 0;
  for (const xy of pieces) most += xy.length / 2;
  const corners = new Pairs(most);
  const sides = new Pairs(most);
  /** How often each side is run along from its lower corner to its higher one, less the other way. */
  const net = new Int32Array(most);
  for (const xy of pieces) {
    const last = xy.length - 2;
    if (last < 0) continue;
    let from = corners.numberOf(Math.round(xy[last]! * unitsPerFt), Math.round(xy[last + 1]! * unitsPerFt));
    for (let i = 0; i <= last; i += 2) {
      const to = corners.numberOf(Math.round(xy[i]! * unitsPerFt), Math.round(xy[i + 1]! * unitsPerFt));
      if (from < to) net[sides.numberOf(from, to)]!++;
      else if (from > to) net[sides.numberOf(to, from)]!--;
      from = to;
    }
  }
  return loopsOf(sides, net, corners.count).map((loop) =>
    loop.map((k): Corner => ({ x: corners.first[k]!, y: corners.second[k]! })),
  );
}

/** Pairs of whole numbers, numbered in the order they are met. */
class Pairs {
  count = 0;
  readonly first: Float64Array;
  readonly second: Float64Array;
  /** Numbers of pairs by a hash of them, the next free place where two have the same; −1 where free. */
  readonly #table: Int32Array;

  constructor(most: number) {
    this.first = new Float64Array(most);
    this.second = new Float64Array(most);
    this.#table = new Int32Array(2 ** Math.ceil(Math.log2(2 * most + 2))).fill(-1);
  }

  numberOf(a: number, b: number): number {
    const mask = this.#table.length - 1;
    let at = (Math.imul(a, 0x9e3779b1) ^ Math.imul(b, 0x85ebca6b)) >>> 7;
    for (;;) {
      at &= mask;
      const known = this.#table[at]!;
      if (known < 0) break;
      if (this.first[known] === a && this.second[known] === b) return known;
      at++;
    }
    const number = this.count++;
    this.#table[at] = number;
    this.first[number] = a;
    this.second[number] = b;
    return number;
  }
}

/** The sides that are left, followed from corner to corner: as many lead to each as lead away from it. */
function loopsOf(sides: Pairs, net: Int32Array, corners: number): number[][] {
  /** Sides that lead away from each corner, as lists: the last put in, and for each the one before it. */
  const lastFrom = new Int32Array(corners).fill(-1);
  const before: number[] = [];
  const from: number[] = [];
  const to: number[] = [];
  for (let side = 0; side < sides.count; side++)
    for (let k = Math.abs(net[side]!); k > 0; k--) {
      const upwards = net[side]! > 0;
      const start = upwards ? sides.first[side]! : sides.second[side]!;
      from.push(start);
      to.push(upwards ? sides.second[side]! : sides.first[side]!);
      before.push(lastFrom[start]!);
      lastFrom[start] = before.length - 1;
    }
  const loops: number[][] = [];
  for (const start of from) {
    if (lastFrom[start]! < 0) continue;
    const chain = [start];
    const at = new Map([[start, 0]]);
    for (;;) {
      const here = chain[chain.length - 1]!;
      const side = lastFrom[here]!;
      if (side < 0) break;
      lastFrom[here] = before[side]!;
      const next = to[side]!;
      const met = at.get(next);
      if (met === undefined) {
        at.set(next, chain.length);
        chain.push(next);
        continue;
      }
      // back at a corner of the chain: what lies since then is a loop of its own
      const since = chain.splice(met + 1);
      for (const corner of since) at.delete(corner);
      loops.push([next, ...since]);
    }
  }
  return loops;
}
