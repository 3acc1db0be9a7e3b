/** Which rules a trial breaks, and what that weighs against it in the search. */

/** A limit that a trial breaks: by how much, in the rule's own unit. */
export interface Breach {
  readonly code: string;
  readonly measured: number;
  readonly limit: number;
}

/** A trial that breaks a rule loses against any that keeps it, and the less the further it breaks it. Arbitrary, large against any site cost. */
const PENALTY_USD = 200_000;
const PENALTY_PER_UNIT_USD = 100_000;

/** Collects the broken limits of one look after another; used again and again, so that looks that break nothing cost nothing. */
export class Limits {
  penaltyUsd = 0;
  readonly #broken: Breach[] = [];

  reset(): void {
    this.penaltyUsd = 0;
    this.#broken.length = 0;
  }

  atMost(code: string, measured: number, limit: number): void {
    if (measured > limit) this.breaks(code, measured, limit);
  }

  atLeast(code: string, measured: number, limit: number): void {
    if (measured < limit) this.breaks(code, measured, limit);
  }

  breaks(code: string, measured: number, limit: number): void {
    this.penaltyUsd += PENALTY_USD + PENALTY_PER_UNIT_USD * Math.abs(measured - limit);
    this.#broken.push({ code, measured, limit });
  }

  get breaches(): readonly Breach[] {
    return [...this.#broken];
  }
}
