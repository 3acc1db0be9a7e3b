/** Pieces of one surface share most of their sides: what only parts piece from piece is taken out before they are joined. */

/** A corner in whole units of the polygon clipper. */
interface Corner {
  readonly x: number;
  readonly y: number;
}

/**
 * Loops with the same winding number everywhere as the pieces (x0, y0, x1, y1, … each), corners rounded to whole units:
 * sides that two pieces run along in opposite directions are left out, for in the sum of winding numbers they cancel.
 */
export function withoutSharedSides(pieces: readonly Float64Array[], unitsPerFt: number): Corner[][] {
  const corners = new Corners();
  const sides = new Sides();
  for (const xy of pieces) {
    const last = xy.length - 2;
    if (last < 0) continue;
    let from = corners.numberOf(Math.round(xy[last]! * unitsPerFt), Math.round(xy[last + 1]! * unitsPerFt));
    for (let i = 0; i <= last; i += 2) {
      const to = corners.numberOf(Math.round(xy[i]! * unitsPerFt), Math.round(xy[i + 1]! * unitsPerFt));
      if (from !== to) sides.run(from, to);
      from = to;
    }
  }
  return sides.loops(corners.all.length).map((loop) => loop.map((k) => corners.all[k]!));
}

/** Corners numbered in the order they are met. */
class Corners {
  readonly all: Corner[] = [];
  readonly #numbers = new Map<number, number[]>();

  numberOf(x: number, y: number): number {
    // corners of one key are told apart below: it need not be the key of one alone
    const key = (Math.imul(x, 0x9e3779b1) ^ y) | 0;
    const same = this.#numbers.get(key);
    if (same)
      for (const number of same) {
        const corner = this.all[number]!;
        if (corner.x === x && corner.y === y) return number;
      }
    const number = this.all.push({ x, y }) - 1;
    if (same) same.push(number);
    else this.#numbers.set(key, [number]);
    return number;
  }
}

/** Sides between numbered corners, each kept at its lower corner with how often it is run along, upwards less downwards. */
class Sides {
  readonly #first: number[] = [];
  readonly #next: number[] = [];
  readonly #low: number[] = [];
  readonly #high: number[] = [];
  readonly #net: number[] = [];

  run(from: number, to: number): void {
    const low = Math.min(from, to);
    const high = Math.max(from, to);
    while (this.#first.length <= low) this.#first.push(-1);
    let side = this.#first[low]!;
    while (side >= 0 && this.#high[side] !== high) side = this.#next[side]!;
    if (side < 0) {
      side = this.#net.push(0) - 1;
      this.#low.push(low);
      this.#high.push(high);
      this.#next.push(this.#first[low]!);
      this.#first[low] = side;
    }
    this.#net[side]! += from < to ? 1 : -1;
  }

  /** The sides not cancelled, followed from corner to corner: as many lead to each as lead away from it. */
  loops(corners: number): number[][] {
    const away: number[][] = Array.from({ length: corners }, () => []);
    const starts: number[] = [];
    for (const [side, net] of this.#net.entries())
      for (let k = Math.abs(net); k > 0; k--) {
        const [from, to] =
          net > 0 ? [this.#low[side]!, this.#high[side]!] : [this.#high[side]!, this.#low[side]!];
        starts.push(from);
        away[from]!.push(to);
      }
    const loops: number[][] = [];
    for (const start of starts) {
      const chain = [start];
      const at = new Map([[start, 0]]);
      for (;;) {
        const next = away[chain[chain.length - 1]!]!.pop();
        if (next === undefined) break;
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
}
