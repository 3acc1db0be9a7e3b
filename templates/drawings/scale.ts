/** A straight scale from values to percent of a chart's width, with round ticks. */

export interface Scale {
  readonly ticks: readonly number[];
  readonly at: (value: number) => number;
}

/** Room kept free at both ends for half of the first and last tick's words. */
const EDGE_PCT = 7;

export function scaleOver(values: readonly number[], { fromZero = false, mostTicks = 4 } = {}): Scale {
  const low = fromZero ? Math.min(0, ...values) : Math.min(...values);
  const high = Math.max(...values, low + 1e-9);
  const step = roundStep((high - low) / mostTicks);
  const first = Math.floor(low / step + 1e-9) * step;
  const last = Math.ceil(high / step - 1e-9) * step;
  const ticks: number[] = [];
  for (let i = 0; first + i * step <= last + step / 2; i++) ticks.push(first + i * step);
  const span = last - first || 1;
  return { ticks, at: (value) => EDGE_PCT + ((100 - 2 * EDGE_PCT) * (value - first)) / span };
}

function roundStep(rough: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(rough, 1e-9)));
  const lead = rough / power;
  return power * (lead <= 1 ? 1 : lead <= 2 ? 2 : lead <= 2.5 ? 2.5 : lead <= 5 ? 5 : 10);
}

export function pct(value: number): string {
  return `${Math.round(value * 100) / 100}%`;
}
