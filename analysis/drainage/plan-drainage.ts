/** What one way to build asks of the water: catch what comes from above, lead off what falls on it. */

import type { Access } from "../access/access.js";
import { distanceToRingFt, type Point, type Ring } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure, published } from "../measure.js";
import { roofedFt2 } from "../schemes/roofs.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { catchmentOf } from "./catchments.js";
import { crossingsOf } from "./crossings.js";
import { detain } from "./detention.js";
import type { Drainage, DrainTier, LotWater } from "./drainage.js";
import { concentrationMin, DRIVE_C, groundC, ROOF_C, rationalPeakCfs } from "./hydrology.js";
import { outletFor, WaysOut } from "./outlets.js";
import { overflowFrom } from "./overflow.js";
import { pipeForFlowIn } from "./pipes.js";
import { swaleAbove } from "./swale.js";

/** Inverts below the floor of a basement, and of the roof pipe below the pad. Common practice, no source. */
export const INVERT_BELOW_FT = { "under-slab": 1.3, wall: 1.5, "roof-and-surface": 1 } as const;
/** A swale on the surface begins where the ground has fallen 6 in away from the house (IRC R401.3). */
const SURFACE_BELOW_FT = 0.5;
/** A gutter lies this far below the lot line. Common practice: a 6 in curb. */
const CURB_FT = 0.5;
const BESIDE_STREET_FT = 6;
/** Least fall of a swale: Snohomish County Code 30.63B.140. */
const SURFACE_SLOPE = 0.005;
/** Drains under a slab and at the foot of a wall are seldom smaller. Common practice, no source. */
const SUBDRAIN_IN = 4;
/** Ground that drains towards a pad over more than this asks for an interceptor (grading codes of the IBC Appendix J lineage). */
const INTERCEPT_PATH_FT = 40;
/** IRC R401.3: 6 in of fall within 10 ft. */
const FALL_WITHIN_FT = 10;

export function planDrainage(site: Site, water: LotWater, design: SchemeDesign, access: Access): Drainage {
  const { rules, soil } = site.request;
  const { inPerHr10yr, inPerHr100yr } = rules.rainfall;
  const above = catchmentOf(water.flow, [[design.outline]]);
  const c = groundC(soil.kind, site.terrain.summary.meanSlopePct);
  const roofFt2 = roofedFt2(design);
  const pavedFt2 = access.reachable ? access.driveway.pavedFt2 : 0;
  const lotFt2 = site.lot.summary.areaFt2;
  const hardFt2 = Math.min(lotFt2, roofFt2 + pavedFt2);
  const hard = (inPerHr: number) =>
    rationalPeakCfs(ROOF_C, inPerHr, roofFt2) + rationalPeakCfs(DRIVE_C, inPerHr, pavedFt2);
  const peak100Cfs = rationalPeakCfs(c, inPerHr100yr, above.aboveFt2);
  const slope = rules.drainage.minPipeSlopePct / 100;
  const roofPipeIn = pipeForFlowIn(hard(inPerHr100yr), slope);
  const lotBeforeCfs = rationalPeakCfs(c, inPerHr10yr, lotFt2);
  const lotAfterCfs = rationalPeakCfs(c, inPerHr10yr, lotFt2 - hardFt2) + hard(inPerHr10yr);
  const minutes = concentrationMin(above.longestFt, above.fallFt);
  return {
    catchmentFt2: above.aboveFt2,
    catchment: above.polygons,
    lowerBound: above.lowerBound,
    concentrationMin: minutes,
    peakCfs: rationalPeakCfs(c, inPerHr10yr, above.aboveFt2),
    peak100Cfs,
    lotBeforeCfs,
    lotAfterCfs,
    // the lot answers about as soon as the ground above its pad
    detention: detain(lotAfterCfs, lotBeforeCfs, rules.rainfall.durationMin, minutes),
    crossings: crossingsOf(site, water, access, c),
    overflow: overflowFrom(site, water, design),
    imperviousFt2: hardFt2,
    swale:
      above.longestFt > INTERCEPT_PATH_FT || above.lowerBound ? swaleAbove(site, design, peak100Cfs) : null,
    roofPipeIn,
    tiers: tiersOf(site, design, slope, roofPipeIn),
    fallAwayFromHouse: fallAway(site, design),
  };
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
  const ways = new WaysOut(site, design.footprint);
  const tier = (
    name: DrainTier["tier"],
    invertFt: number,
    pipeIn: number,
    { fall = slope, only = ANYWHERE } = {},
  ): DrainTier => {
    const outlet = outletFor(site, ways, {
      only,
      invertFt,
      slope: fall,
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
  const piped = tier("roof-and-surface", surfaceFt - INVERT_BELOW_FT["roof-and-surface"], roofPipeIn);
  const overGround = (belowFt: number, only = ANYWHERE) =>
    tier("roof-and-surface", surfaceFt - belowFt, roofPipeIn, { fall: SURFACE_SLOPE, only });
  const swale = piped.gravity ? piped : overGround(SURFACE_BELOW_FT);
  const toGutter = swale.gravity ? swale : overGround(SURFACE_BELOW_FT - CURB_FT, besideStreet(site));
  const roof = piped.gravity ? piped : onTheSurface(swale, toGutter, piped);
  if (basement.length === 0) return [roof];
  return [
    tier("under-slab", lowestFt - INVERT_BELOW_FT["under-slab"], SUBDRAIN_IN),
    tier("wall", lowestFt - INVERT_BELOW_FT.wall, SUBDRAIN_IN),
    roof,
  ];
}

/** Roof and surface water may run off over the ground where no pipe comes out. */
function onTheSurface(swale: DrainTier, toGutter: DrainTier, piped: DrainTier): DrainTier {
  const found = swale.gravity ? swale : toGutter;
  if (!found.gravity) return piped;
  const where = swale.gravity ? "" : " to the gutter of the street";
  return {
    ...found,
    // a street is where such water belongs
    outletToLineFt: swale.gravity ? found.outletToLineFt : null,
    words: `No pipe for roof and surface water comes out on this lot; a shallow swale over the ground can lead it${where || " off"}, about ${measure(found.runFt, "ft", 5)} long. Gutters must empty onto the ground, and where the water then goes is for the civil engineer.`,
  };
}

const ANYWHERE: (at: Point) => boolean = () => true;

function besideStreet({ survey: { boundary }, lot }: Site): (at: Point) => boolean {
  const street = boundary.flatMap((a, i): Ring[] =>
    lot.edges[i]!.frontage ? [[a, boundary[(i + 1) % boundary.length]!]] : [],
  );
  return (at) => street.some((edge) => distanceToRingFt(edge, at) < BESIDE_STREET_FT);
}

const TIER_NAMES: Record<DrainTier["tier"], string> = {
  "under-slab": "The drain under the basement floor",
  wall: "The drain at the foot of the basement walls",
  "roof-and-surface": "The pipe for roof and surface water",
};

const AT_THE_HOUSE_FT = 7.5;

function wordsFor(
  name: DrainTier["tier"],
  outlet: { runFt: number; toLineFt: number } | null,
  fromLineFt: number,
): string {
  if (!outlet)
    return `${TIER_NAMES[name]} finds no lower ground on this lot: two pumps with an alarm and backup power, or a right to drain across a neighbor. Pumps fail in storms, when they are needed.`;
  const run =
    outlet.runFt < AT_THE_HOUSE_FT
      ? `${TIER_NAMES[name]} comes out by itself right below the house.`
      : `${TIER_NAMES[name]} can run out by itself after about ${measure(outlet.runFt, "ft", 5)}.`;
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
