/** Height, floor area, coverage, railings: what the rules of the place say about the house itself. */
import type { Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { ROOF_RISE_FT } from "../schemes/model.js";
import { roofedFt2 } from "../schemes/roofs.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { groundAt, levelsOf, storeysAbove } from "./house-facts.js";

/** A drop that asks for a guard: IRC R312, 30 in. */
const GUARD_FROM_FT = 2.5;

/** Top of the roof over the lowest natural ground at the corners of each deck; the tallest governs. NaN corners are left out. */
export function heightAboveGroundFt(site: Site, design: SchemeDesign): number {
  const { brief, rules } = site.request;
  const storeys = storeysAbove(design, brief.storeys);
  const heights = levelsOf(design, "house").map((level) => {
    const topFt = level.floorElevationFt + storeys * rules.floorToFloorFt + ROOF_RISE_FT;
    const grounds = level.ring.map((corner) => groundAt(site, corner)).filter((z) => !Number.isNaN(z));
    return grounds.length ? topFt - Math.min(...grounds) : 0;
  });
  return Math.max(0, ...heights);
}

/** Ratio × lot area × the factor of the steepest row the average slope reaches; null without a rule. */
export function allowedFloorAreaFt2({ request, lot, terrain }: Site): number | null {
  const rule = request.rules.floorArea;
  if (!rule) return null;
  const slopePct = terrain.summary.averageSlope.pct;
  const row = [...rule.reductionBySlope]
    .sort((a, b) => b.fromPct - a.fromPct)
    .find((r) => slopePct >= r.fromPct);
  return rule.ratio * lot.summary.areaFt2 * (row?.factor ?? 1);
}

/** Share of the lot under roofs, percent. */
export function coveragePct({ lot }: Site, design: SchemeDesign): number {
  return (100 * roofedFt2(design)) / lot.summary.areaFt2;
}

/** Length of wall tops people could fall more than 30 in from, heights taken as straight between those given. */
export function railingFt(design: SchemeDesign): number {
  let length = 0;
  for (const { kind, line, heightsFt } of design.walls) {
    if (kind !== "site" || heightsFt.length < 2) continue;
    const stepFt = lineFt(line) / (heightsFt.length - 1);
    for (let i = 1; i < heightsFt.length; i++)
      length += stepFt * shareAbove(heightsFt[i - 1]!, heightsFt[i]!, GUARD_FROM_FT);
  }
  return length;
}

function lineFt(line: readonly Point[]): number {
  return line.slice(1).reduce((sum, [x, y], i) => sum + Math.hypot(x - line[i]![0], y - line[i]![1]), 0);
}

/** Share of a straight run between two heights that lies above a limit. */
function shareAbove(a: number, b: number, limit: number): number {
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  if (low > limit) return 1;
  return high > limit ? (high - limit) / (high - low) : 0;
}
