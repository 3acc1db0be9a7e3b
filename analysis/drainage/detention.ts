/** Water to hold back so that a lot sheds no more after building than before. */
import { measure } from "../measure.js";
import { toYd3 } from "../units.js";
import type { Drainage } from "./drainage.js";

/**
 * Storage that keeps a peak, by the modified rational method: inflow rises to the peak after over the time of
 * concentration, stays there until the rain ends and falls as fast; what exceeds the peak before, let out evenly, is held.
 * V = 60·(Qa − Qb)·(d − t·Qb ÷ Qa), minutes and cfs, ft³; 0 where the peak does not rise. For rain not shorter than t.
 *
 * @see H. G. Poertner, "Practices in Detention of Urban Stormwater Runoff" (1974), from memory
 */
export function peakStorageFt3(
  afterCfs: number,
  beforeCfs: number,
  rainMin: number,
  concentrationMin: number,
): number {
  if (afterCfs <= beforeCfs) return 0;
  const riseMin = Math.min(concentrationMin, rainMin);
  return 60 * (afterCfs - beforeCfs) * (rainMin - (riseMin * beforeCfs) / afterCfs);
}

/** Depth of rain in so many minutes against that of an hour: US Weather Bureau Technical Paper 40 (1961), from memory. */
const DEPTH_TO_HOUR = [
  [5, 0.29],
  [10, 0.45],
  [15, 0.57],
  [30, 0.79],
  [60, 1],
] as const;

/**
 * Intensity of an hour's rain against that of a shorter one of the same frequency.
 *
 * @throws {RangeError} unless the shorter rain lasts 5 to 60 minutes, as requests may say.
 */
export function hourlyShare(rainMin: number): number {
  if (!(rainMin >= 5 && rainMin <= 60)) throw new RangeError(`rainMin must be 5 to 60, got ${rainMin}`);
  const i = Math.max(
    1,
    DEPTH_TO_HOUR.findIndex(([upTo]) => rainMin <= upTo),
  );
  const [m0, r0] = DEPTH_TO_HOUR[i - 1]!;
  const [m1, r1] = DEPTH_TO_HOUR[i]!;
  const ratio = r0 + ((r1 - r0) * Math.log(rainMin / m0)) / Math.log(m1 / m0);
  return rainMin / 60 / ratio;
}

/** Volumes below this are lost in the noise of the coefficients. Judgement. */
const LEAST_FT3 = 20;

/** Before and after building, the 10-year rain of so many minutes. */
export function detain(
  afterCfs: number,
  beforeCfs: number,
  rainMin: number,
  concentrationMin: number,
): Drainage["detention"] {
  const peakFt3 = peakStorageFt3(afterCfs, beforeCfs, rainMin, concentrationMin);
  const addedFt3 = 3_600 * Math.max(0, afterCfs - beforeCfs) * hourlyShare(rainMin);
  const share = Math.round((100 * (afterCfs - beforeCfs)) / beforeCfs);
  const yards = (ft3: number) => measure(toYd3(ft3), "yd³", 1);
  const peak = peakFt3 < LEAST_FT3 ? "almost no storage" : `about ${yards(peakFt3)} of storage`;
  return {
    peakFt3,
    addedFt3,
    allowedCfs: beforeCfs,
    peakCfs: afterCfs,
    rainMin,
    words:
      addedFt3 < LEAST_FT3
        ? "Roof and paving add little to the water this lot sheds."
        : `Roof and paving raise the 10-year peak of the lot by about ${share} %. Keeping the peak takes ${peak} (modified rational method); holding all that an hour of that rain adds takes about ${yards(addedFt3)}. The city's own rule decides which is asked for.`,
  };
}
