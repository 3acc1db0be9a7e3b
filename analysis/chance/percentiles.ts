/** Percentiles of draws. */

/** Draws in a bucket, about; and at most this many buckets. */
const DRAWS_A_BUCKET = 20;
const MOST_BUCKETS = 512;
/** Draws looked at to lay the buckets where most draws are. */
const LOOKED_AT = 100;

export interface Percentiles {
  readonly p10: number;
  readonly p50: number;
  readonly p90: number;
}

/**
 * The values below which the shares `ps` of the draws lie, straight between neighbouring draws; exact.
 * Draws are counted into even buckets, what lies beyond the first and last in these, and only the buckets that hold
 * a wanted rank are sorted: much quicker than sorting all.
 */
export function quantiles(draws: Float64Array, ps: readonly number[]): number[] {
  const n = draws.length;
  let [min, max] = rangeOf(draws, Math.max(1, Math.floor(n / LOOKED_AT)));
  if (!(max > min)) [min, max] = rangeOf(draws, 1);
  if (!(max > min)) return ps.map(() => min);
  const last = Math.max(1, Math.min(MOST_BUCKETS, Math.floor(n / DRAWS_A_BUCKET))) - 1;
  const scale = last / (max - min);
  const counts = new Int32Array(last + 1);
  const bucketOf = new Uint16Array(n);
  for (let i = 0; i < n; i++) {
    const b = Math.min(last, Math.max(0, (draws[i]! - min) * scale)) | 0;
    bucketOf[i] = b;
    counts[b]!++;
  }

  const kept: { readonly values: number[] }[] = [];
  const keptAt = new Int16Array(last + 1).fill(-1);
  const keepRank = (rank: number) => {
    let before = 0;
    let b = 0;
    while (before + counts[b]! <= rank) before += counts[b++]!;
    if (keptAt[b]! < 0) keptAt[b] = kept.push({ values: [] }) - 1;
    const { values } = kept[keptAt[b]!]!;
    return () => values[rank - before]!;
  };
  const wanted = ps.map((p) => {
    const at = p * (n - 1);
    const below = Math.floor(at);
    return { share: at - below, low: keepRank(below), high: keepRank(Math.ceil(at)) };
  });
  for (let i = 0; i < n; i++) {
    const k = keptAt[bucketOf[i]!]!;
    if (k >= 0) kept[k]!.values.push(draws[i]!);
  }
  for (const { values } of kept) sortFew(values);
  return wanted.map(({ share, low, high }) => low() + share * (high() - low()));
}

/** By insertion: quicker than the library's for the few numbers of a bucket. */
function sortFew(values: number[]): void {
  if (values.length > 100) {
    values.sort((a, b) => a - b);
    return;
  }
  for (let i = 1; i < values.length; i++) {
    const x = values[i]!;
    let k = i;
    for (; k > 0 && values[k - 1]! > x; k--) values[k] = values[k - 1]!;
    values[k] = x;
  }
}

function rangeOf(draws: Float64Array, step: number): [min: number, max: number] {
  let min = Infinity;
  let max = -Infinity;
  for (let i = 0; i < draws.length; i += step) {
    const x = draws[i]!;
    if (x < min) min = x;
    if (x > max) max = x;
  }
  return [min, max];
}

export function percentiles(draws: Float64Array): Percentiles {
  const [p10, p50, p90] = quantiles(draws, [0.1, 0.5, 0.9]);
  return { p10: p10!, p50: p50!, p90: p90! };
}

export interface Summary extends Percentiles {
  readonly p80: number;
  readonly samplingError: Percentiles;
}

/**
 * Percentiles with the standard error of each from the finite number of draws, without assuming a shape:
 * the number of draws below the true percentile is binomial, so half the distance between the draws
 * one binomial sigma below and above, ranks n·p ∓ √(n·p·(1 − p)).
 */
export function summarise(draws: Float64Array): Summary {
  const shares = [0.1, 0.5, 0.9];
  const around = shares.flatMap((p) => {
    const sigma = Math.sqrt((p * (1 - p)) / draws.length);
    return [Math.max(0, p - sigma), Math.min(1, p + sigma)];
  });
  const [p10, p50, p90, p80, ...q] = quantiles(draws, [...shares, 0.8, ...around]);
  return {
    p10: p10!,
    p50: p50!,
    p80: p80!,
    p90: p90!,
    samplingError: { p10: (q[1]! - q[0]!) / 2, p50: (q[3]! - q[2]!) / 2, p90: (q[5]! - q[4]!) / 2 },
  };
}

/** Percentiles after multiplying by a positive factor and adding a fixed sum. */
export function shifted({ p10, p50, p90 }: Percentiles, add: number, times = 1): Percentiles {
  return { p10: p10 * times + add, p50: p50 * times + add, p90: p90 * times + add };
}
