/** Length alone of the shortest line between two poses: asked for thousands of doors, where the pieces of the line are not. */
import type { Pose } from "./lane-path.js";

const TURN = 2 * Math.PI;

/** Sum of the pieces of `shortestPieces`, without laying them out. */
export function shortestCurveFt(from: Pose, to: Pose, radiusFt: number): number {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const d = Math.sqrt(dx * dx + dy * dy) / radiusFt;
  const bearing = Math.atan2(dy, dx);
  const a = from.heading - bearing;
  const b = to.heading - bearing;
  const sa = Math.sin(a);
  const sb = Math.sin(b);
  const ca = Math.cos(a);
  const cb = Math.cos(b);
  const even = d * d - 2 * Math.cos(a - b);
  const odd = d * d + 2 * Math.cos(a - b);
  let least = Infinity;

  // turn, straight, the same turn
  const left2 = 2 + even + 2 * d * (sa - sb);
  if (left2 >= 0) {
    const t = Math.atan2(cb - ca, d + sa - sb);
    least = Math.min(least, ahead(t - a) + Math.sqrt(left2) + ahead(b - t));
  }
  const right2 = 2 + even + 2 * d * (sb - sa);
  if (right2 >= 0) {
    const t = Math.atan2(ca - cb, d - sa + sb);
    least = Math.min(least, ahead(a - t) + Math.sqrt(right2) + ahead(t - b));
  }
  // turn, straight, the other turn
  const leftRight2 = odd - 2 + 2 * d * (sa + sb);
  if (leftRight2 >= 0) {
    const p = Math.sqrt(leftRight2);
    const t = Math.atan2(-ca - cb, d + sa + sb) - Math.atan2(-2, p);
    least = Math.min(least, ahead(t - a) + p + ahead(t - b));
  }
  const rightLeft2 = odd - 2 - 2 * d * (sa + sb);
  if (rightLeft2 >= 0) {
    const p = Math.sqrt(rightLeft2);
    const t = Math.atan2(ca + cb, d - sa - sb) - Math.atan2(2, p);
    least = Math.min(least, ahead(a - t) + p + ahead(b - t));
  }
  // three turns
  const rightLeftRight = (6 - even + 2 * d * (sa - sb)) / 8;
  if (Math.abs(rightLeftRight) <= 1) {
    const p = TURN - Math.acos(rightLeftRight);
    const t = ahead(a - Math.atan2(ca - cb, d - sa + sb) + p / 2);
    least = Math.min(least, t + p + ahead(a - b - t + p));
  }
  const leftRightLeft = (6 - even + 2 * d * (sb - sa)) / 8;
  if (Math.abs(leftRightLeft) <= 1) {
    const p = TURN - Math.acos(leftRightLeft);
    const t = ahead(-a - Math.atan2(ca - cb, d + sa - sb) + p / 2);
    least = Math.min(least, t + p + ahead(b - a - t + p));
  }
  return least * radiusFt;
}

/** An angle in [0, 2π); a hair below a full turn is rounding of none. */
function ahead(angle: number): number {
  const turn = angle - TURN * Math.floor(angle / TURN);
  return turn > TURN - 1e-9 ? 0 : turn;
}
