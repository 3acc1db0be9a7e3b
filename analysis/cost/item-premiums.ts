/** What the hill adds, item by item: the same draw on the hill and on the flat lot, subtracted. */
import { type Part, sumParts } from "../chance/columns.js";
import { type Percentiles, percentiles } from "../chance/percentiles.js";
import type { CostPart } from "./draw-costs.js";

/**
 * Premium of each code of the two bills as a range over the first draws, as many as `scratch` holds. In every
 * draw the premiums of all codes add up to the premium of the whole; their middles do not.
 *
 * @param known percentiles of columns met before, which many schemes share
 */
export function itemPremiums(
  hill: readonly CostPart[],
  flat: readonly CostPart[],
  scratch: Float64Array,
  known: Map<Float64Array, Percentiles>,
): ReadonlyMap<string, Percentiles> {
  const byCode = new Map<string, Map<Float64Array, number>>();
  const add = ({ code, column, times }: CostPart, sign: 1 | -1) => {
    const columns = byCode.get(code) ?? new Map<Float64Array, number>();
    columns.set(column, (columns.get(column) ?? 0) + sign * times);
    byCode.set(code, columns);
  };
  for (const part of hill) add(part, 1);
  for (const part of flat) add(part, -1);
  return new Map(
    [...byCode].map(([code, columns]) => {
      const parts = [...columns]
        .map(([column, times]): Part => ({ column, times }))
        .filter(({ times }) => times !== 0);
      if (parts.length > 1) return [code, percentiles(sumParts(parts, scratch))];
      const [only] = parts;
      return [code, only ? multipleOf(only, scratch.length, known) : { p10: 0, p50: 0, p90: 0 }];
    }),
  );
}

function multipleOf(
  { column, times }: Part,
  draws: number,
  known: Map<Float64Array, Percentiles>,
): Percentiles {
  const one = known.get(column) ?? percentiles(column.subarray(0, draws));
  known.set(column, one);
  const [p10, p90] = times > 0 ? [one.p10, one.p90] : [one.p90, one.p10];
  return { p10: p10 * times, p50: one.p50 * times, p90: p90 * times };
}
