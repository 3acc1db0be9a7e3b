/** What the spread of a sum comes from. Method: docs/methods/cost.md */
import type { Driver, SpreadShares } from "./cost.js";

const MOST_DRIVERS = 6;
/** Draws looked at for the shares: enough to put them right to about two points. */
const DRIVER_DRAWS = 2_000;
/** Five points of probability to either side of P50, and of P10 and P90, as standard normal scores. */
const MIDDLE = 0.1257;
const OUTER = [1.0364, 1.6449] as const;

/** One independent source of chance. */
export class Source {
  readonly name: string;
  readonly scores: Float64Array;
  /** Normal scores of a price or a quantity, or 0/1 of an event. */
  readonly kind: "price" | "quantity" | "event";
  /** Sum of squares about their mean of the scores looked at. */
  readonly squaresOff: number;
  #bands: readonly Uint32Array[] | null = null;

  constructor(name: string, scores: Float64Array, kind: Source["kind"]) {
    this.name = name;
    this.scores = scores;
    this.kind = kind;
    let sum = 0;
    let squares = 0;
    const n = Math.min(DRIVER_DRAWS, scores.length);
    for (let i = 0; i < n; i++) {
      sum += scores[i]!;
      squares += scores[i]! * scores[i]!;
    }
    this.squaresOff = squares - sum ** 2 / n;
  }

  /** The draws in which it lies near its P10, near its P50, near its P90; an event: does not happen, never, does. */
  get bands(): readonly Uint32Array[] {
    this.#bands ??= this.#findBands();
    return this.#bands;
  }

  #findBands(): Uint32Array[] {
    const yesNo = this.kind === "event";
    const found = [0, 1, 2].map(() => new Uint32Array(this.scores.length));
    const counts = [0, 0, 0];
    for (let i = 0; i < this.scores.length; i++) {
      const band = bandOf(this.scores[i]!, yesNo);
      if (band >= 0) found[band]![counts[band]!++] = i;
    }
    // copied, for a source that is kept would keep the whole room
    return found.map((draws, band) => draws.slice(0, counts[band]!));
  }
}

export interface Drivers {
  readonly strongest: readonly Driver[];
  readonly spread: SpreadShares;
}

/**
 * The sources are independent and the sum close to linear in their scores, so the squared correlations are
 * shares of the variance; they fall short of 1 by what is not linear. The swing is the mean of the sum over
 * the draws in which the source lies near its P10, P50, P90 (an event: does not happen, does not, does).
 */
export function findDrivers(sum: Float64Array, sources: readonly Source[]): Drivers {
  const n = Math.min(DRIVER_DRAWS, sum.length);
  let mean = 0;
  for (let i = 0; i < n; i++) mean += sum[i]!;
  mean /= n;
  const off = new Float64Array(n);
  let squares = 0;
  for (let i = 0; i < n; i++) {
    const d = sum[i]! - mean;
    off[i] = d;
    squares += d * d;
  }
  const ranked =
    squares === 0
      ? []
      : sources
          .map((source) => ({ source, share: squaredCorrelation(source, off, squares) }))
          .sort((a, b) => b.share - a.share);
  const shareOf = (kind: Source["kind"]) =>
    ranked.reduce((total, { source, share }) => total + (source.kind === kind ? share : 0), 0);
  return {
    strongest: ranked
      .slice(0, MOST_DRIVERS)
      .map(({ source, share }) => ({ name: source.name, share, swingUsd: swing(source, sum, mean) })),
    spread: { prices: shareOf("price"), quantities: shareOf("quantity"), events: shareOf("event") },
  };
}

function squaredCorrelation({ scores, squaresOff }: Source, off: Float64Array, squares: number): number {
  let cross = 0;
  for (let i = 0; i < off.length; i++) cross += scores[i]! * off[i]!;
  return squaresOff > 0 ? cross ** 2 / (squaresOff * squares) : 0;
}

function swing({ bands, kind }: Source, sum: Float64Array, mean: number): Driver["swingUsd"] {
  const [low, middle, high] = bands.map((draws) => {
    let total = 0;
    for (let k = 0; k < draws.length; k++) total += sum[draws[k]!]!;
    return draws.length > 0 ? total / draws.length : mean;
  });
  return { p10: low!, p50: kind === "event" ? low! : middle!, p90: high! };
}

/** 0 near P10, 1 near P50, 2 near P90, −1 elsewhere. */
function bandOf(score: number, yesNo: boolean): number {
  if (yesNo) return score === 1 ? 2 : 0;
  const size = Math.abs(score);
  if (size <= MIDDLE) return 1;
  return size < OUTER[0] || size > OUTER[1] ? -1 : score > 0 ? 2 : 0;
}
