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

/**
 * Turn, straight or counter-turn, turn: six candidates, the shortest kept. One is worked out only where its middle piece
 * and the least the others must turn are not longer already. Made once and asked again and again: searches ask for tens
 * of thousands of curves.
 *
 * @see L. E. Dubins, "On Curves of Minimal Length with a Constraint on Average Curvature", Am. J. Math. 79 (1957)
 */
export class ShortestCurve {
  // the curve found last, lengths in radii: 1 turns left, −1 right, 0 goes straight
  firstTurn: Side = 1;
  middleTurn: Side | 0 = 0;
  lastTurn: Side = 1;
  first = 0;
  middle = 0;
  last = 0;
  #least = Infinity;
  // radius 1, from the origin in direction a to (d, 0) in direction b: their sines and cosines, and the turn from a to b
  #d = 0;
  #sa = 0;
  #ca = 0;
  #sb = 0;
  #cb = 0;
  #turn = 0;

  /** Length of the shortest curve, ft. */
  between(from: Bearing, to: Bearing, radiusFt: number): number {
    const dx = to.x - from.x;
    const dy = to.y - from.y;
    const awayFt = Math.sqrt(dx * dx + dy * dy);
    const east = awayFt > 0 ? dx / awayFt : 1;
    const north = awayFt > 0 ? dy / awayFt : 0;
    this.#d = awayFt / radiusFt;
    this.#ca = from.ahead * east + from.up * north;
    this.#sa = from.up * east - from.ahead * north;
    this.#cb = to.ahead * east + to.up * north;
    this.#sb = to.up * east - to.ahead * north;
    this.#turn = Math.atan2(
      this.#ca * this.#sb - this.#sa * this.#cb,
      this.#ca * this.#cb + this.#sa * this.#sb,
    );
    this.#least = Infinity;
    this.#sameTurns(1);
    this.#sameTurns(-1);
    this.#otherTurn(1);
    this.#otherTurn(-1);
    // the middle one of three turns is more than half round
    if (this.#least > Math.PI) {
      this.#threeTurns(-1);
      this.#threeTurns(1);
    }
    return this.#least * radiusFt;
  }

  // written for a first turn to the left; to the right it is the same in a mirror, where sines and turns change sign

  /** Turn, straight, turn to the same side: its straight is the line between the circles' centres. */
  #sameTurns(side: Side): void {
    const x = this.#d + side * (this.#sa - this.#sb);
    const y = side * (this.#cb - this.#ca);
    const straight = Math.sqrt(x * x + y * y);
    const turn = fullTurn(side * this.#turn);
    if (straight + turn >= this.#least) return;
    // the straight of a line that is one arc has no direction
    const first = straight > ROUNDING ? fullTurn(side * this.#bend(x, y)) : turn;
    this.#take(side, 0, side, first, straight, fullTurn(turn - first));
  }

  /** Turn, straight, turn to the other side: its straight touches both circles between their centres, 2 from the line of them at its ends. */
  #otherTurn(side: Side): void {
    const x = this.#d + side * (this.#sa + this.#sb);
    const y = -side * (this.#ca + this.#cb);
    const straight2 = x * x + y * y - 4;
    if (straight2 < -ROUNDING) return;
    const straight = Math.sqrt(Math.max(0, straight2));
    if (straight + Math.abs(this.#turn) >= this.#least) return;
    const first = fullTurn(side * this.#bend(x * straight - 2 * side * y, y * straight + 2 * side * x));
    this.#take(side, 0, side === 1 ? -1 : 1, first, straight, fullTurn(first - side * this.#turn));
  }

  /** Turn, turn back, turn as at first: three circles that touch. */
  #threeTurns(side: Side): void {
    const x = this.#d + side * (this.#sa - this.#sb);
    const y = side * (this.#cb - this.#ca);
    const cosine = 1 - (x * x + y * y) / 8;
    if (cosine < -1) return;
    const middle = TURN - Math.acos(cosine);
    const first = fullTurn(middle / 2 + side * this.#bend(x, y));
    this.#take(side, side === 1 ? -1 : 1, side, first, middle, fullTurn(side * this.#turn + middle - first));
  }

  /** Angle from direction a to a vector. */
  #bend(x: number, y: number): number {
    return Math.atan2(y * this.#ca - x * this.#sa, x * this.#ca + y * this.#sa);
  }

  #take(firstTurn: Side, middleTurn: Side | 0, lastTurn: Side, first: number, middle: number, last: number) {
    const sum = first + middle + last;
    if (sum >= this.#least) return;
    this.#least = sum;
    this.firstTurn = firstTurn;
    this.middleTurn = middleTurn;
    this.lastTurn = lastTurn;
    this.first = first;
    this.middle = middle;
    this.last = last;
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
