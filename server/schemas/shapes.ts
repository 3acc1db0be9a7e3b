/** The small shapes of a study's schema. */
import { z } from "zod";

export const n = z.number();
export const s = z.string();
export const b = z.boolean();
export const percentiles = z.object({ p10: n, p50: n, p90: n });
export const point = z.tuple([n, n]).describe("[easting, northing] in the survey's frame");
export const point3 = z.tuple([n, n, n]).describe("[easting, northing, elevation ft]");
export const ring = z.array(point);
export const unit = z.enum(["us-ft", "ft", "m"]);
export const months = z.tuple([n, n, n]).describe("P10, P50, P90");
export const lowLikelyHigh = z.tuple([n, n, n]).describe("Low, likely, high");
export const yesNoUnknown = z.enum(["yes", "no", "unknown"]);
