/** Columns of draws: one number for each draw, cut from large blocks so that a study does not allocate each alone. */

const COLUMNS_A_BLOCK = 16;

export class ColumnPool {
  readonly length: number;
  readonly #blocks: Float64Array[] = [];
  #taken = 0;

  constructor(length: number) {
    this.length = length;
  }

  /** A column whose contents are left over from before. */
  take(): Float64Array {
    const block = Math.floor(this.#taken / COLUMNS_A_BLOCK);
    this.#blocks[block] ??= new Float64Array(COLUMNS_A_BLOCK * this.length);
    const at = (this.#taken++ % COLUMNS_A_BLOCK) * this.length;
    return this.#blocks[block].subarray(at, at + this.length);
  }

  /** Every column taken so far may be handed out again. */
  giveBackAll(): void {
    this.#taken = 0;
  }
}

/** A multiple of a column. */
export interface Part {
  readonly column: Float64Array;
  readonly times: number;
}

/** out = Σ times × column over the draws of `out`, four columns at a pass. */
export function sumParts(parts: readonly Part[], out: Float64Array): Float64Array {
  const [first] = parts;
  if (!first) return out.fill(0);
  const none: Part = { column: first.column, times: 0 };
  for (let k = 0; k < parts.length; k += 4) {
    const [a, b = none, c = none, d = none] = [parts[k]!, parts[k + 1], parts[k + 2], parts[k + 3]];
    const [x, y, z, w] = [a.column, b.column, c.column, d.column];
    const [p, q, r, s] = [a.times, b.times, c.times, d.times];
    if (k === 0) for (let i = 0; i < out.length; i++) out[i] = p * x[i]! + q * y[i]! + r * z[i]! + s * w[i]!;
    else for (let i = 0; i < out.length; i++) out[i]! += p * x[i]! + q * y[i]! + r * z[i]! + s * w[i]!;
  }
  return out;
}
