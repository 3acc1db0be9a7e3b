/** Percentiles of draws. */

export interface Percentiles {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/** Draws in a bucket, about; and at most this many buckets. */
const DRAWS_A_BUCKET = 10;
const MOST_BUCKETS = 1024;

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
  const buckets = Math.max(1, Math.min(MOST_BUCKETS, Math.floor(n / DRAWS_A_BUCKET)));
  const scale = (buckets - 1e-6) / (max - min);
  // short-lived small arrays stay on the young heap, where typed ones would not
  const counts = new Array<number>(buckets).fill(0);
  for (let i = 0; i < n; i++) counts[((draws[i]! - min) * scale) | 0]!++;

  const wanted = ps.map((p) => p * (n - 1));
  const ranks = [...new Set(wanted.flatMap((at) => [Math.floor(at), Math.ceil(at)]))].sort((a, b) => a - b);
  const kept = new Array<number[] | null>(buckets).fill(null);
  const places: { readonly rank: number; readonly bucket: number[]; readonly before: number }[] = [];
  let before = 0;
  let b = 0;
  for (const rank of ranks) {
    while (before + counts[b]! <= rank) before += counts[b++]!;
    kept[b] ??= [];
    places.push({ rank, bucket: kept[b]!, before });
  }
  for (let i = 0; i < n; i++) kept[((draws[i]! - min) * scale) | 0]?.push(draws[i]!);
  for (const bucket of kept) bucket?.sort((x, y) => x - y);
  const ranked = new Map(places.map(({ rank, bucket, before }) => [rank, bucket[rank - before]!]));
  return wanted.map((at) => {
    const low = ranked.get(Math.floor(at))!;
    return low + (at - Math.floor(at)) * (ranked.get(Math.ceil(at))! - low);
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
