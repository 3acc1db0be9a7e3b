/** What the hill adds, item by item: the same draw on the hill and on the flat lot, subtracted. */
import { type Part, sumParts } from "../chance/columns.js";
import { type Percentiles, percentiles } from "../chance/percentiles.js";
import type { CostPart } from "./draw-costs.js";

/**
 * Premium of each code of the two bills as a range over the first draws, as many as `scratch` holds. In every
 * draw the premiums of all codes add up to the premium of the whole; their middles do not.
 */
export function itemPremiums(
  hill: readonly CostPart[],
  flat: readonly CostPart[],
  scratch: Float64Array,
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
      const parts = [...columns].map(([column, times]): Part => ({ column, times }));
      return [code, percentiles(sumParts(parts, scratch))];
    }),
  );
}
