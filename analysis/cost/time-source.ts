/** How long the work takes, as one of the sources that drive the money. */
import { Source } from "./drivers.js";

/**
 * Months less their mean, over their standard deviation: near enough to normal scores to say when the work is
 * quick, ordinary or slow. The months are met again and again by the draws of the money, and so are their scores.
 */
export function timeSource(months: Float64Array, out: Float64Array): Source {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < months.length; i++) {
    sum += months[i]!;
    squares += months[i]! ** 2;
  }
  const mean = sum / months.length;
  const deviation = Math.sqrt(Math.max(0, squares / months.length - mean ** 2)) || 1;
  for (let i = 0; i < out.length; i++) out[i] = (months[i % months.length]! - mean) / deviation;
  return new Source("How long it takes to build", out, "quantity");
}
