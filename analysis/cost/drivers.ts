/** What the spread of a sum comes from. Method: docs/methods/cost.md */
import type { Driver, SpreadShares } from "./cost.js";

/** One independent source of chance. */
export interface Source {
  readonly name: string;
  readonly scores: Float64Array;
  /** Sum of squares about their mean of the scores of the first DRIVER_DRAWS draws. */
  readonly squaresOff: number;
  /** Normal scores of a price or a quantity, or 0/1 of an event. */
  readonly kind: "price" | "quantity" | "event";
}

const MOST_DRIVERS = 6;
/** Draws looked at for the shares: enough to put them right to about two points. */
export const DRIVER_DRAWS = 2_500;
/** Five points of probability to either side of P50, and of P10 and P90, as standard normal scores. */
const MIDDLE = 0.1257;
const OUTER = [1.0364, 1.6449] as const;

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
    ranked.reduce((sum, { source, share }) => sum + (source.kind === kind ? share : 0), 0);
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

function swing({ scores, kind }: Source, sum: Float64Array, mean: number): Driver["swingUsd"] {
  const totals = [0, 0, 0];
  const counts = [0, 0, 0];
  for (let i = 0; i < sum.length; i++) {
    const band = bandOf(scores[i]!, kind === "event");
    if (band < 0) continue;
    totals[band]! += sum[i]!;
    counts[band]!++;
  }
  const at = (band: number) => (counts[band]! > 0 ? totals[band]! / counts[band]! : mean);
  return kind === "event" ? { p10: at(0), p50: at(0), p90: at(2) } : { p10: at(0), p50: at(1), p90: at(2) };
}

/** 0 near P10, 1 near P50, 2 near P90, −1 elsewhere. */
function bandOf(score: number, yesNo: boolean): number {
  if (yesNo) return score === 1 ? 2 : 0;
  const size = Math.abs(score);
  if (size <= MIDDLE) return 1;
  return size < OUTER[0] || size > OUTER[1] ? -1 : score > 0 ? 2 : 0;
}
