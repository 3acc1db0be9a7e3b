/** Luck by step of the work, so that a step has the same in every scheme and in its flat twin. */

import { kept } from "../chance/kept.js";
import { normals, uniforms } from "../chance/random-streams.js";
import { drawRange } from "../chance/ranges.js";
import type { Activity } from "./activity.js";
import { RAIN } from "./rates.js";
import { type HalfScores, halves } from "./simulate-network.js";

/** Share of the variance of a duration that is common to its phase: a slow city is slow at every step. Judgement, from memory. */
export const SHARED_PACE = 0.3;

/** Drawn when first asked for. */
export class TimeStreams {
  readonly draws: number;
  readonly #seed: number;
  readonly #normals = new Map<string, Float64Array>();
  readonly #halves = new Map<string, HalfScores>();
  #rain: Float64Array | null = null;

  constructor(seed: number, draws: number) {
    this.#seed = seed;
    this.draws = draws;
  }

  scores({ phase, id, stream = id }: Activity): HalfScores {
    return kept(this.#halves, `${phase}:${stream}`, () => {
      const scores = together(this.#normal(`pace:${phase}`), this.#normal(stream));
      return halves(scores, scores);
    });
  }

  rain(): Float64Array {
    this.#rain ??= drawRange(RAIN, this.#normal("rain"));
    return this.#rain;
  }

  /** Calendar month of the accepted offer, 0 = January; any month alike when the request does not say. */
  startMonths(given: number | null): Float64Array {
    if (given !== null) return new Float64Array(this.draws).fill(given - 1);
    return uniforms(this.#seed, "weeks:start-month", this.draws).map((u) => 12 * u);
  }

  #normal(name: string): Float64Array {
    return kept(this.#normals, name, () => normals(this.#seed, `weeks:${name}`, this.draws));
  }
}

/** Scores of a step: what its phase has in common, and its own. */
function together(pace: Float64Array, own: Float64Array): Float64Array {
  const scores = new Float64Array(own.length);
  const [ofPhase, ofStep] = [Math.sqrt(SHARED_PACE), Math.sqrt(1 - SHARED_PACE)];
  for (let i = 0; i < scores.length; i++) scores[i] = ofPhase * pace[i]! + ofStep * own[i]!;
  return scores;
}
