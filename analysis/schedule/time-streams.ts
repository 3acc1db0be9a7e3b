/** Luck by step of the work, so that a step has the same in every scheme and in its flat twin. */
import { normals, uniforms } from "../chance/random-streams.js";
import { drawRange } from "../chance/ranges.js";
import type { Activity } from "./activities.js";
import { RAIN } from "./rates.js";

/** Share of the variance of a duration that is common to its phase: a slow city is slow at every step. Judgement, from memory. */
export const SHARED_PACE = 0.3;

/** Drawn when first asked for. */
export class TimeStreams {
  readonly draws: number;
  readonly #seed: number;
  readonly #kept = new Map<string, Float64Array>();

  constructor(seed: number, draws: number) {
    this.#seed = seed;
    this.draws = draws;
  }

  scores({ phase, id, stream = id }: Activity): Float64Array {
    return this.#keep(`step:${phase}:${stream}`, () => {
      const pace = this.#normal(`pace:${phase}`);
      const own = this.#normal(stream);
      const [ofPhase, ofStep] = [Math.sqrt(SHARED_PACE), Math.sqrt(1 - SHARED_PACE)];
      const out = new Float64Array(this.draws);
      for (let i = 0; i < out.length; i++) out[i] = ofPhase * pace[i]! + ofStep * own[i]!;
      return out;
    });
  }

  rain(): Float64Array {
    return this.#keep("rain factor", () => drawRange(RAIN, this.#normal("rain")));
  }

  /** Calendar month of the accepted offer, 0 = January; any month alike when the request does not say. */
  startMonths(given: number | null): Float64Array {
    if (given !== null) return new Float64Array(this.draws).fill(given - 1);
    return uniforms(this.#seed, "weeks:start-month", this.draws).map((u) => 12 * u);
  }

  #normal(name: string): Float64Array {
    return this.#keep(`normal:${name}`, () => normals(this.#seed, `weeks:${name}`, this.draws));
  }

  #keep(key: string, make: () => Float64Array): Float64Array {
    const found = this.#kept.get(key);
    if (found) return found;
    const made = make();
    this.#kept.set(key, made);
    return made;
  }
}
