/** Judgements of intake that a reader of the report should see. */
import type { Assumption } from "../assumptions.js";

/** Keep-out radius round a trunk, ft per inch of trunk diameter. */
export const TREE_RADIUS_FT_PER_IN = 1;
/** Trunk taken for a tree whose description gives none, inches. */
export const TRUNK_WHEN_UNKNOWN_IN = 12;
/** One sigma of a ground shot on open ground, ft. */
export const SHOT_SIGMA_FT = 0.3;
/** One sigma under canopy, or of points cut out of lidar, ft. */
export const CANOPY_SIGMA_FT = 0.5;
/** Contours are held right when nine of ten heights are within half an interval; 1.645 sigma hold nine of ten (National Map Accuracy Standards 1947). */
export const HALF_INTERVAL_PER_SIGMA = 1.645;

export const assumptions: readonly Assumption[] = [
  {
    name: "Keep-out circle round a tree, radius per inch of trunk",
    value: TREE_RADIUS_FT_PER_IN,
    unit: "ft per in",
    origin: "common practice, no source",
  },
  {
    name: "Trunk of a tree whose size is not written",
    value: TRUNK_WHEN_UNKNOWN_IN,
    unit: "in",
    origin: "common practice, no source",
  },
];
