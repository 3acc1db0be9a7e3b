/** Durations as low, likely and high, in weeks. */

export type Weeks = readonly [low: number, likely: number, high: number];

const WORKDAYS_A_WEEK = 5;
export const NO_TIME: Weeks = [0, 0, 0];

/** From working days. */
export function days([low, likely, high]: Weeks): Weeks {
  return [low / WORKDAYS_A_WEEK, likely / WORKDAYS_A_WEEK, high / WORKDAYS_A_WEEK];
}

/** Weeks for a quantity at a rate per working day: the fastest rate gives the shortest time. */
export function atRate(quantity: number, [slow, likely, fast]: Weeks): Weeks {
  return days([quantity / fast, quantity / likely, quantity / slow]);
}

export function scaled([low, likely, high]: Weeks, times: number): Weeks {
  return [low * times, likely * times, high * times];
}

/** A share of the way from one to the other, 0 to 1. */
export function between(from: Weeks, to: Weeks, share: number): Weeks {
  return plus(scaled(from, 1 - share), scaled(to, share));
}

/** One after the other with the same crew: quick or slow together. */
export function plus(a: Weeks, b: Weeks): Weeks {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
}

/** Side by side, the slower holding up the other. */
export function slower(a: Weeks, b: Weeks): Weeks {
  return [Math.max(a[0], b[0]), Math.max(a[1], b[1]), Math.max(a[2], b[2])];
}
