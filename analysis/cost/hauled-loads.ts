/** Truckloads of the whole job as a range: pad, basement, driveway and pier spoil, out and in. */

import type { QuantityLine } from "../bill/bill.js";
import type { Percentiles } from "../chance/percentiles.js";
import { percentiles } from "../chance/percentiles.js";
import { bankFromCompacted, looseFromBank, truckload } from "../earthwork/index.js";
import type { StudyRequest } from "../request/request.js";
import { drawQuantity } from "./draw-costs.js";
import type { StudyDraws } from "./study-draws.js";

/** Draws looked at: loads are whole, and these know them to about two in a hundred. */
const LOAD_DRAWS = 2_500;

/** Loads, each percentile rounded up to a whole one: the hauled and the brought volume, loose, ÷ what one truck takes. */
export function hauledLoads(
  draws: StudyDraws,
  lines: readonly QuantityLine[],
  { soil, haul }: Pick<StudyRequest, "soil" | "haul">,
): Percentiles {
  const loose = new Float64Array(LOAD_DRAWS);
  const volume = new Float64Array(LOAD_DRAWS);
  for (const line of lines) {
    if (line.code !== "HAUL" && line.code !== "IMPORT") continue;
    drawQuantity(draws, line, null, volume);
    if (line.code === "IMPORT")
      for (let i = 0; i < volume.length; i++)
        volume[i] = looseFromBank(bankFromCompacted(volume[i]!, soil), soil);
    for (let i = 0; i < loose.length; i++) loose[i]! += volume[i]!;
  }
  const { looseYd3 } = truckload(haul);
  const { p10, p50, p90 } = percentiles(loose);
  const whole = (volumeYd3: number) => Math.ceil(volumeYd3 / looseYd3 - 1e-9);
  return { p10: whole(p10), p50: whole(p50), p90: whole(p90) };
}
