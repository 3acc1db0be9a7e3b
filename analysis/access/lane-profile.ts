/** Heights along a lane: as near the ground as the grade limits and the vertical curves let it lie. Method: docs/methods/access.md */

export interface ProfileRules {
  /** Largest grade of each interval, rise per foot. */
  readonly limits: Float64Array;
  readonly stepFt: number;
  /** Largest change of grade per foot of lane: 0.01 is a vertical curve of 1 ft for each percent. */
  readonly bendPerFt: number;
}

const MOST_ROUNDS = 160;
/** Rounds between looks at whether it has settled, and what counts as settled. */
const LOOK_EVERY = 10;
const SETTLED_FT = 0.0005;
/** Weight of keeping the rules against lying near the ground in each round; long lanes settle fast only when stiff. Found by trial. */
function stiffnessOf(intervals: number): number {
  return 4 + intervals ** 2 / 15;
}

/**
 * Largest rise the rules allow from end to end, ft: Σ eᵢ·step with eᵢ the steepest grade interval i can have while its
 * neighbours bend no faster than allowed.
 */
export function largestRiseFt(rules: ProfileRules): number {
  return steepestGrades(rules).reduce((sum, e) => sum + e, 0) * rules.stepFt;
}

/** eᵢ = minⱼ (limitⱼ + bend·step·|i − j|). */
function steepestGrades({ limits, stepFt, bendPerFt }: ProfileRules): Float64Array {
  const e = limits.slice();
  const bend = bendPerFt * stepFt;
  for (let i = 1; i < e.length; i++) e[i] = Math.min(e[i]!, e[i - 1]! + bend);
  for (let i = e.length - 2; i >= 0; i--) e[i] = Math.min(e[i]!, e[i + 1]! + bend);
  return e;
}

/**
 * Heights at the stations with both ends fixed: least squares to the ground under |grade| ≤ limit and |change of grade|
 * ≤ bend, found by alternating directions (a banded solve, a clamp, a price on what was clamped), then drawn towards a
 * profile known to keep the rules until every one of them holds. null when the ends lie farther apart than
 * `largestRiseFt`.
 *
 * @see S. Boyd et al., "Distributed Optimization and Statistical Learning via the Alternating Direction Method of Multipliers" (2011)
 */
export function fitProfile(
  groundFt: ArrayLike<number>,
  startFt: number,
  endFt: number,
  rules: ProfileRules,
): Float64Array | null {
  const n = rules.limits.length;
  const steep = steepestGrades(rules);
  const most = steep.reduce((sum, e) => sum + e, 0) * rules.stepFt;
  const share = most > 0 ? (endFt - startFt) / most : endFt === startFt ? 0 : Infinity;
  if (Math.abs(share) > 1) return null;
  const plain = new Float64Array(n + 1);
  plain[0] = startFt;
  for (let i = 0; i < n; i++) plain[i + 1] = plain[i]! + share * steep[i]! * rules.stepFt;
  plain[n] = endFt;
  if (n < 3) return plain;
  return drawnToward(plain, nearestHeights(groundFt, plain, rules), rules);
}

function nearestHeights(
  groundFt: ArrayLike<number>,
  plain: Float64Array,
  { limits, stepFt, bendPerFt }: ProfileRules,
): Float64Array {
  const n = limits.length;
  const bend = bendPerFt * stepFt * stepFt;
  const z = plain.slice();
  const startFt = z[0]!;
  const endFt = z[n]!;
  const stiffness = stiffnessOf(n);
  const solver = new BandSolver(n - 1, stiffness);
  const right = new Float64Array(n - 1);
  const mostRise = limits.map((limit) => limit * stepFt);
  const priceOfRise = new Float64Array(n);
  const priceOfTurn = new Float64Array(n - 1);
  // what each rise and turn is drawn to, less its price, times the stiffness; turns are counted from 1, none at either end
  const rises = new Float64Array(n);
  const turns = new Float64Array(n + 1);
  /** Fixed ends move over to the right-hand side. */
  const takeEndsOver = () => {
    rises[0]! += stiffness * startFt;
    rises[n - 1]! -= stiffness * endFt;
    turns[1]! -= stiffness * startFt;
    turns[n - 1]! -= stiffness * endFt;
  };
  for (let i = 0; i < n; i++) rises[i] = stiffness * (z[i + 1]! - z[i]!);
  for (let i = 1; i < n; i++) turns[i] = stiffness * (z[i + 1]! - 2 * z[i]! + z[i - 1]!);
  takeEndsOver();
  for (let round = 1; round <= MOST_ROUNDS; round++) {
    for (let k = 0; k < n - 1; k++)
      right[k] = groundFt[k + 1]! + rises[k]! - rises[k + 1]! + turns[k]! - 2 * turns[k + 1]! + turns[k + 2]!;
    solver.solve(right);
    let movedFt = 0;
    for (let k = 0; k < n - 1; k++) {
      movedFt = Math.max(movedFt, Math.abs(right[k]! - z[k + 1]!));
      z[k + 1] = right[k]!;
    }
    let brokenFt = 0;
    for (let i = 0; i < n; i++) {
      const rise = z[i + 1]! - z[i]!;
      const most = mostRise[i]!;
      const priced = rise + priceOfRise[i]!;
      const kept = Math.max(-most, Math.min(most, priced));
      priceOfRise[i] = priced - kept;
      rises[i] = stiffness * (2 * kept - priced);
      brokenFt = Math.max(brokenFt, Math.abs(rise - kept));
    }
    for (let i = 1; i < n; i++) {
      const turn = z[i + 1]! - 2 * z[i]! + z[i - 1]!;
      const priced = turn + priceOfTurn[i - 1]!;
      const kept = Math.max(-bend, Math.min(bend, priced));
      priceOfTurn[i - 1] = priced - kept;
      turns[i] = stiffness * (2 * kept - priced);
      brokenFt = Math.max(brokenFt, Math.abs(turn - kept));
    }
    takeEndsOver();
    if (round % LOOK_EVERY === 0 && Math.max(movedFt, brokenFt) < SETTLED_FT) break;
  }
  return z;
}

/** I + ρ(D₁ᵀD₁ + D₂ᵀD₂) over the inner stations, D₁ and D₂ first and second differences with fixed ends: five diagonals, factored once. */
class BandSolver {
  readonly #d: Float64Array;
  readonly #l1: Float64Array;
  readonly #l2: Float64Array;

  constructor(m: number, rho: number) {
    const diagonal = new Float64Array(m).fill(1 + rho * (2 + 6));
    const first = new Float64Array(m).fill(rho * (-1 - 4));
    const second = new Float64Array(m).fill(rho);
    // the first and the last inner station lie in one second difference less
    diagonal[0]! -= rho;
    diagonal[m - 1]! -= rho;
    this.#d = new Float64Array(m);
    // none beyond the last row
    this.#l1 = new Float64Array(m + 1);
    this.#l2 = new Float64Array(m + 2);
    for (let i = 0; i < m; i++) {
      const l2 = i > 1 ? second[i]! / this.#d[i - 2]! : 0;
      const l1 =
        i > 0 ? (first[i]! - (i > 1 ? l2 * this.#l1[i - 1]! * this.#d[i - 2]! : 0)) / this.#d[i - 1]! : 0;
      this.#l2[i] = l2;
      this.#l1[i] = l1;
      this.#d[i] =
        diagonal[i]! - (i > 0 ? l1 * l1 * this.#d[i - 1]! : 0) - (i > 1 ? l2 * l2 * this.#d[i - 2]! : 0);
    }
  }

  /** In place. */
  solve(x: Float64Array): void {
    const m = x.length;
    const d = this.#d;
    const l1 = this.#l1;
    const l2 = this.#l2;
    for (let i = 1, before = x[0]!, beforeThat = 0; i < m; i++) {
      const here = x[i]! - (l1[i]! * before + l2[i]! * beforeThat);
      x[i] = here;
      beforeThat = before;
      before = here;
    }
    for (let i = m - 1, after = 0, afterThat = 0; i >= 0; i--) {
      const here = x[i]! / d[i]! - (l1[i + 1]! * after + l2[i + 2]! * afterThat);
      x[i] = here;
      afterThat = after;
      after = here;
    }
  }
}

/** As far from `plain` towards `near` as every rule allows: the rules are convex, `plain` keeps them. */
function drawnToward(
  plain: Float64Array,
  near: Float64Array,
  { limits, stepFt, bendPerFt }: ProfileRules,
): Float64Array {
  const n = limits.length;
  const bend = bendPerFt * stepFt * stepFt;
  let share = 1;
  const keep = (from: number, to: number, most: number) => {
    if (Math.abs(to) > most)
      share = Math.min(share, Math.max(0, (most - Math.sign(to) * from) / Math.abs(to - from)));
  };
  for (let i = 0; i < n; i++) keep(plain[i + 1]! - plain[i]!, near[i + 1]! - near[i]!, limits[i]! * stepFt);
  for (let i = 0; i + 1 < n; i++)
    keep(plain[i + 2]! - 2 * plain[i + 1]! + plain[i]!, near[i + 2]! - 2 * near[i + 1]! + near[i]!, bend);
  return plain.map((z, i) => z + share * (near[i]! - z));
}
