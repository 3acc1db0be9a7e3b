/** Water to hold back so that a lot sheds no more after building than before. */
import { measure } from "../measure.js";
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

/** Depth of rain in so many minutes against that of an hour: US Weather Bureau Technical Paper 40 (1961), from memory; two hours by common ratio. */
const DEPTH_TO_HOUR = [
  [5, 0.29],
  [10, 0.45],
  [15, 0.57],
  [30, 0.79],
  [60, 1],
  [120, 1.2],
] as const;

/** Intensity of an hour's rain against that of a shorter or longer one of the same frequency. */
export function hourlyShare(rainMin: number): number {
  const last = DEPTH_TO_HOUR.length - 1;
  const minutes = Math.max(DEPTH_TO_HOUR[0][0], Math.min(DEPTH_TO_HOUR[last]![0], rainMin));
  const i = Math.max(
    1,
    DEPTH_TO_HOUR.findIndex(([upTo]) => minutes <= upTo),
  );
  const [m0, r0] = DEPTH_TO_HOUR[i - 1]!;
  const [m1, r1] = DEPTH_TO_HOUR[i]!;
  const ratio = r0 + ((r1 - r0) * Math.log(minutes / m0)) / Math.log(m1 / m0);
  return minutes / 60 / ratio;
}

/** Volumes below this are lost in the noise of the coefficients. Judgement. */
const LEAST_FT3 = 20;
const FT3_PER_YD3 = 27;

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
  const yards = (ft3: number) => measure(ft3 / FT3_PER_YD3, "yd³", 1);
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
