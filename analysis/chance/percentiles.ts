/** Percentiles of draws. */

export interface Percentiles {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

const BUCKETS = 1024;

/**
 * The values below which the shares `ps` of the draws lie, straight between neighbouring draws; exact.
 * Draws are counted into even buckets and only the buckets that hold a wanted rank are sorted: much quicker than sorting all.
 */
export function quantiles(draws: Float64Array, ps: readonly number[]): number[] {
  const n = draws.length;
  let min = Infinity;
  let max = -Infinity;
  for (let i = 0; i < n; i++) {
    const x = draws[i]!;
    if (x < min) min = x;
    if (x > max) max = x;
  }
  if (!(max > min)) return ps.map(() => min);
  const scale = (BUCKETS - 1) / (max - min);
  const bucketOf = new Uint16Array(n);
  const start = new Uint32Array(BUCKETS + 1);
  for (let i = 0; i < n; i++) {
    const b = Math.floor((draws[i]! - min) * scale);
    bucketOf[i] = b;
    start[b + 1]!++;
  }
  for (let b = 0; b < BUCKETS; b++) start[b + 1]! += start[b]!;

  const sorted = new Map<number, Float64Array>();
  const ranked = (rank: number) => {
    let b = 0;
    let above = BUCKETS;
    while (above - b > 1) {
      const mid = (b + above) >> 1;
      if (start[mid]! <= rank) b = mid;
      else above = mid;
    }
    let bucket = sorted.get(b);
    if (!bucket) {
      bucket = new Float64Array(start[b + 1]! - start[b]!);
      for (let i = 0, k = 0; i < n; i++) if (bucketOf[i] === b) bucket[k++] = draws[i]!;
      sorted.set(b, bucket.sort());
    }
    return bucket[rank - start[b]!]!;
  };
  return ps.map((p) => {
    const at = p * (n - 1);
    const below = Math.floor(at);
    const low = ranked(below);
    return at === below ? low : low + (at - below) * (ranked(below + 1) - low);
  });
}

export function percentiles(draws: Float64Array): Percentiles {
  const [p10, p50, p90] = quantiles(draws, [0.1, 0.5, 0.9]);
  return { p10: p10!, p50: p50!, p90: p90! };
}

/**
 * Standard error of each percentile from the finite number of draws, without assuming a shape:
 * the number of draws below the true percentile is binomial, so half the distance between the draws
 * one binomial sigma below and above, ranks n·p ∓ √(n·p·(1 − p)).
 */
export function samplingErrors(draws: Float64Array): Percentiles {
  const around = [0.1, 0.5, 0.9].flatMap((p) => {
    const sigma = Math.sqrt((p * (1 - p)) / draws.length);
    return [Math.max(0, p - sigma), Math.min(1, p + sigma)];
  });
  const q = quantiles(draws, around);
  return { p10: (q[1]! - q[0]!) / 2, p50: (q[3]! - q[2]!) / 2, p90: (q[5]! - q[4]!) / 2 };
}

/** Percentiles after multiplying by a positive factor and adding a fixed sum. */
export function shifted({ p10, p50, p90 }: Percentiles, add: number, times = 1): Percentiles {
  return { p10: p10 * times + add, p50: p50 * times + add, p90: p90 * times + add };
}
