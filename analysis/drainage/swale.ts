/** The ditch that catches what runs down onto a pad. */
import type { Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { elevationAt } from "../terrain/index.js";
import type { Drainage } from "./drainage.js";
import { swaleForFlow } from "./pipes.js";

/** The bench uphill of a house falls at least this much along its length. Common practice, no source. */
export const SWALE_SLOPE = 0.02;
/** Grass washes out above this; rock or a lining stands it. Common practice: 5 to 6 ft/s. */
export const GRASS_HOLDS_FT_PER_S = 5;
/** Stretch over which the fall of a side is taken. */
const LEG_FT = 10;

/** Along the uphill edge of the graded outline and down its sides, to where the ground falls away. */
export function swaleAbove(
  { terrain }: Site,
  { outline, downhill }: SchemeDesign,
  peakCfs: number,
): Drainage["swale"] {
  const n = outline.length;
  const out = (i: number): Point => {
    const [a, b] = [outline[i]!, outline[(i + 1) % n]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
    return [(b[1] - a[1]) / length, (a[0] - b[0]) / length];
  };
  const faces = outline.map((_, i) => out(i)[0] * downhill[0] + out(i)[1] * downhill[1]);
  const open = faces.map((f) => f < Math.SQRT1_2);
  // begin after the downhill face, so that the line runs unbroken around the hill side
  const start = open.findIndex((o, i) => o && !open[(i + n - 1) % n]);
  if (start < 0) return null;
  const line: Point[] = [outline[start]!];
  for (let k = 0; k < n && open[(start + k) % n]; k++) line.push(outline[(start + k + 1) % n]!);
  const lengthFt = line
    .slice(1)
    .reduce((sum, p, i) => sum + Math.hypot(p[0] - line[i]![0], p[1] - line[i]![1]), 0);
  const steepest = Math.max(
    SWALE_SLOPE,
    steepestLeg(line, (at) => elevationAt(terrain.tin, at[0], at[1])),
  );
  // each end carries half of what comes
  const fastestFtPerS = swaleForFlow(peakCfs / 2, steepest).velocityFtPerS;
  const lined = fastestFtPerS > GRASS_HOLDS_FT_PER_S;
  return {
    lengthFt,
    slopePct: SWALE_SLOPE * 100,
    line,
    ...swaleForFlow(peakCfs, SWALE_SLOPE),
    steepestPct: 100 * steepest,
    fastestFtPerS,
    lined,
    words: lined
      ? `Down the sides of the pad the ditch falls up to ${Math.round(100 * steepest)} %: there the 100-year water runs at about ${measure(fastestFtPerS, "ft", 0.1)} a second, more than grass holds (about ${measure(GRASS_HOLDS_FT_PER_S, "ft")} a second). Rock, a lining or a pipe on those stretches, and something at its end to break the flow.`
      : `Grass is likely to hold the water of the ditch, at most about ${measure(fastestFtPerS, "ft", 0.5)} a second.`,
  };
}

/** Steepest fall of the ground along a line, taken over stretches. */
function steepestLeg(line: readonly Point[], heightAt: (at: Point) => number): number {
  let steepest = 0;
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const legs = Math.max(1, Math.round(length / LEG_FT));
    const at = (k: number): Point => [a[0] + (k / legs) * (b[0] - a[0]), a[1] + (k / legs) * (b[1] - a[1])];
    for (let k = 0; k < legs; k++) {
      const fall = Math.abs(heightAt(at(k)) - heightAt(at(k + 1))) / (length / legs);
      if (length / legs >= LEG_FT / 2 && fall > steepest) steepest = fall;
    }
  }
  return steepest;
}
