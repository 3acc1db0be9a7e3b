/** Where a drive crosses water that gathers: a pipe under it. */
import type { Access } from "../access/access.js";
import type { Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { Drainage, LotWater } from "./drainage.js";
import { rationalPeakCfs } from "./hydrology.js";
import { culvertForFlowIn } from "./pipes.js";

/** Slopes a pipe under a drive is laid at. Common practice, no source. */
const LEAST_SLOPE = 0.01;
const MOST_SLOPE = 0.1;
/** Crossings nearer to one another share a pipe. Judgement. */
const APART_FT = 20;
/** Past each edge of the pavement. Common practice, no source. */
const PAST_EDGE_FT = 3;

/** Each line of gathered water the drive crosses, from the street up. */
export function crossingsOf(
  { request, terrain }: Site,
  { flow, streams }: LotWater,
  access: Access,
  c: number,
): Drainage["crossings"] {
  if (!access.reachable) return [];
  const { line, profile, widthFt } = access.driveway;
  const found: Drainage["crossings"][number][] = [];
  for (let i = 1; i < line.length; i++)
    for (const stream of streams)
      for (let k = 1; k < stream.line.length; k++) {
        const share = crossing(line[i - 1]!, line[i]!, stream.line[k - 1]!, stream.line[k]!);
        if (share === null) continue;
        const at: Point = [
          line[i - 1]![0] + share * (line[i]![0] - line[i - 1]![0]),
          line[i - 1]![1] + share * (line[i]![1] - line[i - 1]![1]),
        ];
        if (found.some((one) => Math.hypot(one.at[0] - at[0], one.at[1] - at[1]) < APART_FT)) continue;
        const { grid } = flow;
        const cell =
          Math.floor((at[1] - grid.originNorthFt) / grid.cellFt) * grid.cols +
          Math.floor((at[0] - grid.originEastFt) / grid.cellFt);
        const catchmentFt2 = Math.max(flow.dInfinityFt2[cell] ?? 0, flow.upslopeFt2[cell] ?? 0);
        const peak100Cfs = rationalPeakCfs(c, request.rules.rainfall.inPerHr100yr, catchmentFt2);
        const fall = terrain.summary.meanSlopePct / 100;
        const slope = Math.max(LEAST_SLOPE, Math.min(MOST_SLOPE, fall));
        const pipeIn = culvertForFlowIn(peak100Cfs, slope);
        const stationFt = profile[i - 1]!.stationFt;
        const fillFt = Math.max(0, profile[i - 1]!.gradeFt - profile[i - 1]!.groundFt);
        const lengthFt = widthFt + 2 * (PAST_EDGE_FT + fillFt * request.rules.fillBatter);
        const size =
          pipeIn === null
            ? "more than a single pipe carries: a bridge or several pipes"
            : `a pipe of about ${measure(pipeIn, "in")}, ${measure(lengthFt, "ft", 1)} long`;
        found.push({
          at,
          stationFt,
          catchmentFt2,
          peak100Cfs,
          slopePct: 100 * slope,
          pipeIn,
          lengthFt,
          words: `About ${measure(stationFt, "ft", 5)} from the street the drive crosses ground where water gathers from at least ${measure(catchmentFt2, "ft²", 500)}: ${size}, running full in the 100-year rain. How high the water stands before it and where it goes when the pipe is blocked is for the civil engineer.`,
        });
      }
  return found;
}

/** Share of the first stretch at which it crosses the second; null where it does not. */
function crossing(a: ArrayLike<number>, b: ArrayLike<number>, p: Point, q: Point): number | null {
  const [dx, dy] = [b[0]! - a[0]!, b[1]! - a[1]!];
  const [ex, ey] = [q[0] - p[0], q[1] - p[1]];
  const cross = dx * ey - dy * ex;
  if (cross === 0) return null;
  const t = ((p[0] - a[0]!) * ey - (p[1] - a[1]!) * ex) / cross;
  const u = ((p[0] - a[0]!) * dy - (p[1] - a[1]!) * dx) / cross;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? t : null;
}
