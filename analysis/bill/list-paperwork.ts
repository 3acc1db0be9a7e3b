/** Engineers, staking and permits: all of a hillside's on steep ground, those of a flat lot on level ground. Method: docs/methods/cost.md */
import type { Site } from "../lot/site.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { QuantityLine } from "./bill.js";
import { SHARE_LINES } from "./list-house.js";
import type { SchemeParts } from "./scheme-parts.js";

/** What a flat lot asks: a mild soils report, plain engineering, few inspections, as a share of the hillside ones. Common practice, no source. */
export const FLAT_SHARE = {
  STAKE: 0.6,
  SOILRPT: 0.5,
  CIVIL: 0.4,
  STRUCT: 0.5,
  OBSERVE: 0.4,
  EROSION: 0.4,
} as const;
/** Slope from which the book's hillside price is due in full: that of the pad whose paperwork it remembers. From memory. */
export const FULL_HILLSIDE_PCT = 25;
/** From the bottom of its footing, a wall taller than this is designed and inspected on any ground (IBC 105.2, IRC R105.2). */
const DESIGNED_WALL_FT = 4;
const STABILITY_SLOPE_PCT = 25;

/**
 * Share of the hillside price due on this ground: flat + (1 − flat) × slope ÷ 25 %, at most 1. The slope is the steeper of
 * lot and house: rules go by the lot, engineers by the ground under the house.
 */
export function hillsideShare(code: keyof typeof FLAT_SHARE, site: Site, design: SchemeDesign): number {
  const flat = FLAT_SHARE[code];
  return flat + (1 - flat) * Math.min(1, hillSlopePct(site, design) / FULL_HILLSIDE_PCT);
}

function hillSlopePct({ terrain }: Site, { slopeUnderHousePct }: SchemeDesign): number {
  return Math.max(terrain.summary.meanSlopePct, slopeUnderHousePct.mean);
}

/** Behind a trace: how much of the hillside price is due, where not all of it. */
export function shareWords(share: number, site: Site, design: SchemeDesign): string {
  const pct = Math.round(100 * share);
  return pct < 100
    ? `; ${pct} % of a hillside's, on ground of ${Math.round(hillSlopePct(site, design))} %`
    : "";
}

export function paperworkLines(site: Site, { design, access, structure }: SchemeParts): QuantityLine[] {
  const line = (code: string, factor: number, trace: string): QuantityLine => ({
    code,
    quantity: 1,
    unit: "ls",
    cause: "none",
    factor,
    trace,
  });
  const bySlope = (code: keyof typeof FLAT_SHARE, trace: string) => {
    const share = hillsideShare(code, site, design);
    return line(code, share, `${trace}${shareWords(share, site, design)}`);
  };
  const tallWall =
    design.walls.some((w) => w.kind === "site" && w.totalFt > DESIGNED_WALL_FT) ||
    (access.reachable && access.driveway.wallMaxFt > DESIGNED_WALL_FT);
  const why = structure.foundation.piers > 0 ? "piers" : tallWall ? "walls" : null;
  const byWorks = (code: "STRUCT" | "OBSERVE", trace: string) =>
    why ? line(code, 1, `${trace}; in full for the ${why}`) : bySlope(code, trace);
  return [
    bySlope("STAKE", "corners, pads, piers, forms"),
    bySlope("SOILRPT", "soils and geology"),
    ...(design.slopeUnderHousePct.p90 > STABILITY_SLOPE_PCT
      ? [line("SLOPESTAB", 1, `ground under the house over ${STABILITY_SLOPE_PCT} %`)]
      : []),
    bySlope("CIVIL", "grading and drainage"),
    byWorks("STRUCT", "walls and foundation"),
    byWorks("OBSERVE", "fill, piers, steel"),
    line("PERMIT", 1, "the same on flat land"),
    ...SHARE_LINES,
  ];
}
