/** What one way to build asks of the water: catch what comes from above, lead off what falls on it. */

import type { Access } from "../access/access.js";
import { areaFt2, type Point } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure, published } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { catchmentOf } from "./catchments.js";
import type { Drainage, DrainTier, LotWater } from "./drainage.js";
import { concentrationMin, DRIVE_C, groundC, ROOF_C, rationalPeakCfs } from "./hydrology.js";
import { outletFor, waysOut } from "./outlets.js";
import { pipeForFlowIn, swaleForFlow } from "./pipes.js";

/** Inverts below the floor of a basement, and of the roof pipe below the pad. Common practice, no source. */
export const INVERT_BELOW_FT = { "under-slab": 1.3, wall: 1.5, "roof-and-surface": 1 } as const;
/** Drains under a slab and at the foot of a wall are seldom smaller. Common practice, no source. */
const SUBDRAIN_IN = 4;
/** The bench uphill of a house falls at least this much along its length. Common practice, no source. */
export const SWALE_SLOPE = 0.02;
/** Ground that drains towards a pad over more than this asks for an interceptor (grading codes of the IBC Appendix J lineage). */
const INTERCEPT_PATH_FT = 40;
/** IRC R401.3: 6 in of fall within 10 ft. */
const FALL_WITHIN_FT = 10;

export function planDrainage(site: Site, water: LotWater, design: SchemeDesign, access: Access): Drainage {
  const { rules, soil } = site.request;
  const { inPerHr10yr, inPerHr100yr } = rules.rainfall;
  const above = catchmentOf(water.flow, [[design.outline]]);
  const c = groundC(soil.kind, site.terrain.summary.meanSlopePct);
  const roofFt2 = areaFt2([[design.footprint]]);
  const pavedFt2 = access.reachable ? access.driveway.pavedFt2 : 0;
  const lotFt2 = site.lot.summary.areaFt2;
  const hardFt2 = Math.min(lotFt2, roofFt2 + pavedFt2);
  const hard = (inPerHr: number) =>
    rationalPeakCfs(ROOF_C, inPerHr, roofFt2) + rationalPeakCfs(DRIVE_C, inPerHr, pavedFt2);
  const peak100Cfs = rationalPeakCfs(c, inPerHr100yr, above.aboveFt2);
  const slope = rules.drainage.minPipeSlopePct / 100;
  const roofPipeIn = pipeForFlowIn(hard(inPerHr100yr), slope);
  return {
    catchmentFt2: above.aboveFt2,
    catchment: above.polygons,
    lowerBound: above.lowerBound,
    concentrationMin: concentrationMin(above.longestFt, above.fallFt),
    peakCfs: rationalPeakCfs(c, inPerHr10yr, above.aboveFt2),
    peak100Cfs,
    lotBeforeCfs: rationalPeakCfs(c, inPerHr10yr, lotFt2),
    lotAfterCfs: rationalPeakCfs(c, inPerHr10yr, lotFt2 - hardFt2) + hard(inPerHr10yr),
    imperviousFt2: hardFt2,
    swale: above.longestFt > INTERCEPT_PATH_FT || above.lowerBound ? swaleAbove(design, peak100Cfs) : null,
    roofPipeIn,
    tiers: tiersOf(site, design, slope, roofPipeIn),
    fallAwayFromHouse: fallAway(site, design),
  };
}

/** Along the uphill edge of the graded outline and down its sides, to where the ground falls away. */
function swaleAbove({ outline, downhill }: SchemeDesign, peakCfs: number): Drainage["swale"] {
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
  return { lengthFt, slopePct: SWALE_SLOPE * 100, line, ...swaleForFlow(peakCfs, SWALE_SLOPE) };
}

function tiersOf(site: Site, design: SchemeDesign, slope: number, roofPipeIn: number): DrainTier[] {
  const basement = design.levels.filter((level) => level.role === "basement");
  const lowestFt = Math.min(...basement.map((level) => level.floorElevationFt));
  const padFt = Math.min(
    ...design.levels.filter((level) => level.role !== "garage").map((level) => level.elevationFt),
  );
  const surfaceFt =
    basement.length > 0
      ? Math.max(padFt, ...design.levels.filter((l) => l.role === "house").map((l) => l.elevationFt))
      : padFt;
  const ways = waysOut(site, design.footprint);
  const tier = (name: DrainTier["tier"], invertFt: number, pipeIn: number): DrainTier => {
    const outlet = outletFor(site, ways, {
      invertFt,
      slope,
      fromLineFt: site.request.rules.drainage.outletFromLineFt,
      graded: design.graded,
      footprint: design.footprint,
    });
    return {
      tier: name,
      invertFt,
      outletFt: outlet?.groundFt ?? null,
      runFt: outlet?.runFt ?? 0,
      gravity: outlet !== null,
      route: outlet?.route ?? [],
      outletToLineFt: outlet?.toLineFt ?? null,
      pipeIn,
      words: wordsFor(name, outlet, site.request.rules.drainage.outletFromLineFt),
    };
  };
  const roof = tier("roof-and-surface", surfaceFt - INVERT_BELOW_FT["roof-and-surface"], roofPipeIn);
  if (basement.length === 0) return [roof];
  return [
    tier("under-slab", lowestFt - INVERT_BELOW_FT["under-slab"], SUBDRAIN_IN),
    tier("wall", lowestFt - INVERT_BELOW_FT.wall, SUBDRAIN_IN),
    roof,
  ];
}

const TIER_NAMES: Record<DrainTier["tier"], string> = {
  "under-slab": "The drain under the basement floor",
  wall: "The drain at the foot of the basement walls",
  "roof-and-surface": "The pipe for roof and surface water",
};

function wordsFor(
  name: DrainTier["tier"],
  outlet: { runFt: number; toLineFt: number } | null,
  fromLineFt: number,
): string {
  if (!outlet)
    return `${TIER_NAMES[name]} finds no lower ground on this lot: two pumps with an alarm and backup power, or a right to drain across a neighbour. Pumps fail in storms, when they are needed.`;
  const run = `${TIER_NAMES[name]} can run out by itself after about ${measure(outlet.runFt, "ft", 5)}.`;
  return outlet.toLineFt < fromLineFt
    ? `${run} Its end lies only about ${measure(outlet.toLineFt, "ft", 1)} from the lot line: ask the civil engineer and the city before sending gathered water there.`
    : run;
}

/** IRC R401.3 asks 6 in of fall in the first 10 ft; where strips are narrower, a swale or drain stands instead. */
function fallAway(site: Site, design: SchemeDesign): Drainage["fallAwayFromHouse"] {
  const { uphill, side, downhill } = site.request.rules.apronFt;
  if (design.kind === "fixed-pad")
    return {
      ok: false,
      because: "The pad was taken as given; nothing is known of the strip around the house.",
    };
  if (design.kind === "pier-raised")
    return {
      ok: false,
      because:
        "The ground under a raised house keeps its own fall; the uphill side needs a swale or drain (IRC R401.3 exception).",
    };
  const narrow = [
    uphill < FALL_WITHIN_FT ? `uphill ${measure(uphill, "ft")}` : "",
    side < FALL_WITHIN_FT ? `sides ${measure(side, "ft")}` : "",
    downhill < FALL_WITHIN_FT && design.walls.some((w) => w.where === "downhill")
      ? `downhill ${measure(downhill, "ft")}`
      : "",
  ].filter(Boolean);
  return narrow.length === 0
    ? {
        ok: true,
        because: `The graded strip is wide enough for ${published(6, "in")} of fall in ${published(10, "ft")} (IRC R401.3).`,
      }
    : {
        ok: false,
        because: `The graded strip is narrower than ${published(10, "ft")} (${narrow.join(", ")}): swales or drains there instead of ${published(6, "in")} of fall in it (IRC R401.3 exception).`,
      };
}
