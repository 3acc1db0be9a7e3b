/** How a number is written: the only rounding of a number that a person reads. */

/**
 * The step a number is printed in: the largest of 1, 2 or 5 times a power of ten that is not larger than the doubt,
 * so that 1,234 ± 300 reads 1,200 and 5.23 ± 0.1 reads 5.2.
 */
export function stepFor(doubt: number): number {
  if (!(doubt > 0)) throw new RangeError(`doubt must be a number > 0, got ${doubt}`);
  const power = 10 ** Math.floor(Math.log10(doubt) + 1e-9);
  const lead = doubt / power;
  return power * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
}

/** The same in powers of ten alone: for converted values, which steps of 2 or 5 would push off their round originals. */
export function tenfoldStep(doubt: number): number {
  const step = stepFor(doubt);
  return 10 ** Math.floor(Math.log10(step) + 1e-9);
}

/** Less than this of dirt is not told apart. Judgement. */
const LEAST_DOUBT_YD3 = 5;

/** The doubt a volume of a pad is written with wherever it is told: one sigma of the survey, never under 5 yd³. */
export function volumeDoubtYd3({ uncertaintyYd3 }: { readonly uncertaintyYd3: number }): number {
  return Math.max(LEAST_DOUBT_YD3, uncertaintyYd3);
}

/** The multiple of the step nearest to the value; never −0. */
export function roundTo(value: number, step: number): number {
  const rounded = Math.round(value / step) * step;
  return rounded === 0 ? 0 : rounded;
}

/** A number with thousands set apart and as many decimals as its step needs. */
export function written(value: number, step: number): string {
  const decimals = Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9)));
  const rounded = roundTo(value, step);
  return signed(rounded, Math.abs(rounded).toFixed(decimals));
}

/** A number somebody chose, as they wrote it, to six figures: no trailing zeros, thousands set apart. */
export function given(value: number): string {
  return signed(value, String(Number(Math.abs(value).toPrecision(6))));
}

function signed(value: number, digits: string): string {
  return `${value < 0 ? "−" : ""}${grouped(digits)}`;
}

function grouped(text: string): string {
  const [whole, fraction] = text.split(".");
  return `${whole!.replace(/\B(?=(\d{3})+$)/g, ",")}${fraction ? `.${fraction}` : ""}`;
}
