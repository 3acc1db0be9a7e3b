/** The shortest line forward from one pose to another with no turn tighter than a radius. Method: docs/methods/access.md */

/** A place and a direction of travel as a unit vector. */
export interface Bearing {
  readonly x: number;
  readonly y: number;
  readonly ahead: number;
  readonly up: number;
}

/** Left or right. */
type Side = 1 | -1;
const SIDES = [1, -1] as const;

/**
 * Turn, straight or counter-turn, turn: six candidates, the shortest kept. One is worked out only where its middle piece
 * and the least the others must turn are not longer already. Made once and asked again and again: searches ask for
 * hundreds of thousands of curves.
 *
 * @see L. E. Dubins, "On Curves of Minimal Length with a Constraint on Average Curvature", Am. J. Math. 79 (1957)
 */
export class ShortestCurve {
  // of the curve found last, lengths in radii: 1 turns left, −1 right, 0 goes straight
  firstTurn: Side = 1;
  middleTurn: Side | 0 = 0;
  lastTurn: Side = 1;
  first = 0;
  middle = 0;
  last = 0;

  /** Length of the shortest curve, ft; `belowFt` where none is shorter, and its pieces then say nothing. */
  between(from: Bearing, to: Bearing, radiusFt: number, belowFt = Infinity): number {
    const dx = to.x - from.x;
    const dy = to.y - from.y;
    const awayFt = Math.sqrt(dx * dx + dy * dy);
    if (awayFt >= belowFt) return belowFt;
    const east = awayFt > 0 ? dx / awayFt : 1;
    const north = awayFt > 0 ? dy / awayFt : 0;
    // radius 1, from the origin in direction a to (d, 0) in direction b: their sines and cosines, and the turn from a to b
    const d = awayFt / radiusFt;
    const ca = from.ahead * east + from.up * north;
    const sa = from.up * east - from.ahead * north;
    const cb = to.ahead * east + to.up * north;
    const sb = to.up * east - to.ahead * north;
    const turn = Math.atan2(ca * sb - sa * cb, ca * cb + sa * sb);
    let least = belowFt / radiusFt;
    // each is written for a first turn to the left; to the right it is the same in a mirror, where sines and turns change sign
    // turn, straight, turn to the same side: the straight is as long as the way between the circles' centres
    for (const side of SIDES) {
      const x = d + side * (sa - sb);
      const y = side * (cb - ca);
      const straight = Math.sqrt(x * x + y * y);
      const turned = fullTurn(side * turn);
      const sine = side * (y * ca - x * sa);
      const cosine = x * ca + y * sa;
      if (straight + Math.max(turned, quadrant(sine, cosine)) >= least) continue;
      // the straight of a line that is one arc has no direction
      const start = straight > ROUNDING ? fullTurn(Math.atan2(sine, cosine)) : turned;
      const sum = start + straight + fullTurn(turned - start);
      if (sum >= least) continue;
      least = sum;
      this.#keep(sum, start, side, straight, 0, side);
    }
    // turn, straight, turn to the other side: the straight touches both circles, 2 to the side of the way between their centres
    for (const side of SIDES) {
      const x = d + side * (sa + sb);
      const y = -side * (ca + cb);
      const straight2 = x * x + y * y - 4;
      if (straight2 < -ROUNDING) continue;
      const straight = Math.sqrt(Math.max(0, straight2));
      const toX = x * straight - 2 * side * y;
      const toY = y * straight + 2 * side * x;
      const sine = side * (toY * ca - toX * sa);
      const cosine = toX * ca + toY * sa;
      if (straight + Math.max(Math.abs(turn), quadrant(sine, cosine)) >= least) continue;
      const start = fullTurn(Math.atan2(sine, cosine));
      const sum = start + straight + fullTurn(start - side * turn);
      if (sum >= least) continue;
      least = sum;
      this.#keep(sum, start, side, straight, 0, side === 1 ? -1 : 1);
    }
    // turn, turn back by more than half a circle, turn as at first: three circles that touch
    if (least > Math.PI)
      for (const side of SIDES) {
        const x = d + side * (sa - sb);
        const y = side * (cb - ca);
        const cosine = 1 - (x * x + y * y) / 8;
        if (cosine < -1) continue;
        const back = TURN - Math.acos(cosine);
        if (back + fullTurn(side * turn + back) >= least) continue;
        const start = fullTurn(back / 2 + side * Math.atan2(y * ca - x * sa, x * ca + y * sa));
        const sum = start + back + fullTurn(side * turn + back - start);
        if (sum >= least) continue;
        least = sum;
        this.#keep(sum, start, side, back, side === 1 ? -1 : 1, side);
      }
    return least * radiusFt;
  }

  #keep(
    sum: number,
    first: number,
    firstTurn: Side,
    middle: number,
    middleTurn: Side | 0,
    lastTurn: Side,
  ): void {
    this.first = first;
    this.firstTurn = firstTurn;
    this.middle = middle;
    this.middleTurn = middleTurn;
    this.last = sum - first - middle;
    this.lastTurn = lastTurn;
  }
}

const TURN = 2 * Math.PI;
/** Lengths and angles, at radius 1, that are rounding of none. */
const ROUNDING = 1e-7;

/** An angle in [0, 2π); a hair below a full turn is rounding of none. */
function fullTurn(angle: number): number {
  const turn = angle - TURN * Math.floor(angle / TURN);
  return turn > TURN - ROUNDING ? 0 : turn;
}

/** A turn of so much sine and cosine is at least this, by its quadrant alone. */
function quadrant(sine: number, cosine: number): number {
  if (sine >= -ROUNDING * Math.abs(cosine)) return cosine >= 0 ? 0 : Math.PI / 2;
  return cosine < 0 ? Math.PI : 1.5 * Math.PI;
}
