/** Sizes of trees, as field crews write them. */

/** Largest trunk believed, inches. */
const WIDEST_TRUNK_IN = 150;

/**
 * Trunk diameter in a tree's description, inches: "OAK 18", '18" OAK', "OAK18IN", "PINE 40CM", "OAK 12,14" (several
 * stems: the root of the sum of squares, common practice, no source). Null when none is written.
 */
export function trunkInches(description: string): number | null {
  const text = description.toUpperCase();
  const numbers = Array.from(text.matchAll(/\d+(?:\.\d+)?/g), ([digits]) => Number(digits));
  const perIn = /\d\s*CM\b/.test(text) ? 1 / 2.54 : 1;
  const stems =
    /\d\s*X\s*\d/.test(text) && numbers.length === 2
      ? Array(Math.min(12, numbers[0]!)).fill(numbers[1]!)
      : numbers;
  const trunk = Math.sqrt(stems.reduce((sum, d) => sum + d * d, 0)) * perIn;
  return trunk >= 1 && trunk <= WIDEST_TRUNK_IN ? trunk : null;
}
