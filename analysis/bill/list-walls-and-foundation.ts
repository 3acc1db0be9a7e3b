/** What holds the hill back and the house up. */

import { perimeterFt, signedAreaFt2 } from "../geometry/plane.js";
import { measure } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { QuantityLine } from "./bill.js";
import type { SchemeParts } from "./scheme-parts.js";

/** A slope or a drive above a wall loads it. From memory, order of magnitude. */
const SURCHARGED = 1.25;
/** A basement wall that holds more than TALL_BASEMENT_FT is thicker. From memory. */
const TALL_BASEMENT_FT = 10;
const TALL_BASEMENT = 1.3;
/** Price of a pier of this diameter over one of 18 in. From memory, order of magnitude. */
const PIER_BY_DIAMETER = [
  { upToIn: 18, times: 1 },
  { upToIn: 24, times: 1.5 },
  { upToIn: Number.POSITIVE_INFINITY, times: 2.3 },
] as const;
/** Steeper ungraded ground than this an ordinary drill rig does not stand on. Judgement, from memory. */
const LIMITED_RIG_SLOPE_PCT = 15;
/** A rig on its truck climbs no steeper track. Common practice, no source. */
const STEEPEST_TRACK_PCT = 20;
const LIMITED_RIG = 1.4;
const SHALLOW_WELL_FT = 4;
const HILLSIDE_SLAB_SLOPE_PCT = 10;

const WALL_CLASSES = [
  { upToFt: 4, code: "WALL-4" },
  { upToFt: 6, code: "WALL-6" },
  { upToFt: 8, code: "WALL-8" },
  { upToFt: 10, code: "WALL-10" },
  { upToFt: 12, code: "WALL-12" },
] as const;

function wallCode(heightFt: number | null): string {
  return WALL_CLASSES.find((c) => heightFt !== null && heightFt <= c.upToFt)?.code ?? "WALL-12";
}

/** Site walls by the height they hold, whatever their place; walls of the drive are loaded by it. */
export function wallLines({ design, access }: SchemeParts): QuantityLine[] {
  const lines: QuantityLine[] = [];
  for (const wall of design.walls)
    if (wall.kind === "site")
      for (const { upToFt, lengthFt, faceFt2 } of wall.classes)
        lines.push({
          code: wallCode(upToFt),
          quantity: faceFt2,
          unit: "face ft2",
          cause: "walls",
          factor: wall.surcharge ? SURCHARGED : 1,
          trace: `${wall.where} wall, ${measure(lengthFt, "ft", 1)} of it ${upToFt === null ? `over ${measure(12, "ft")}: an engineer first, counted at the ${measure(12, "ft")} price` : `up to ${measure(upToFt, "ft")}`}${wall.surcharge ? `; slope or drive above: × ${SURCHARGED}` : ""}`,
        });
  const drive = access.reachable ? access.driveway : null;
  if (drive)
    lines.push({
      code: wallCode(drive.wallMaxFt),
      quantity: drive.wallFaceFt2,
      unit: "face ft2",
      cause: "walls",
      factor: SURCHARGED,
      trace: `walls along the driveway, up to ${measure(drive.wallMaxFt, "ft", 1)}; loaded by it: × ${SURCHARGED}`,
    });
  return lines;
}

/** True where piers stand on ground left as it is, too steep for an ordinary rig, or where its truck does not get up. */
export function needsLimitedRig({ design, access }: Pick<SchemeParts, "design" | "access">): boolean {
  const ungraded = design.kind === "pier-raised" && design.slopeUnderHousePct.mean > LIMITED_RIG_SLOPE_PCT;
  return ungraded || !access.reachable || access.driveway.maxGradePct > STEEPEST_TRACK_PCT;
}

function footingFt({ levels }: SchemeDesign): number {
  return levels
    .filter((level) => level.role === "house")
    .reduce((sum, { ring }) => sum + perimeterFt(ring) + Math.sqrt(Math.abs(signedAreaFt2(ring))), 0);
}

/** Walls between the levels of a stepped house: part of the house, and waterproofed. */
function innerWallLines({ walls }: SchemeDesign): QuantityLine[] {
  const faceFt2 = walls.filter((w) => w.kind === "basement").reduce((sum, w) => sum + w.faceFt2, 0);
  const trace = "walls between the levels of the house";
  return [
    { code: "BSMTWALL", quantity: faceFt2, unit: "face ft2", cause: "walls", trace },
    { code: "WPROOF", quantity: faceFt2, unit: "face ft2", cause: "walls", trace },
  ];
}

export function foundationLines({ design, access, structure }: SchemeParts): QuantityLine[] {
  const { foundation, basement } = structure;
  const [lowFt, likelyFt, highFt] = foundation.pierDepthFt;
  const limited = needsLimitedRig({ design, access });
  const rig = limited ? LIMITED_RIG : 1;
  const thick = PIER_BY_DIAMETER.find((d) => foundation.pierDiameterIn <= d.upToIn)!.times;
  const slabCode =
    foundation.kind === "slab" && design.slopeUnderHousePct.mean <= HILLSIDE_SLAB_SLOPE_PCT
      ? "SLAB"
      : "SLAB-STRUCT";
  const lines: QuantityLine[] = [
    {
      code: "RIG",
      quantity: foundation.piers > 0 ? 1 : 0,
      unit: "each",
      cause: "none",
      trace: "once, where piers are drilled",
    },
    {
      code: "PIER",
      quantity: foundation.piers * likelyFt,
      unit: "ft",
      cause: "pier-depth",
      spread: likelyFt > 0 ? [lowFt / likelyFt, highFt / likelyFt] : [1, 1],
      factor: rig * thick,
      trace: `${foundation.piers} piers of ${measure(foundation.pierDiameterIn, "in")}, ${measure([lowFt, likelyFt, highFt], "ft", 1, "/")} deep${limited ? `; limited-access rig: × ${LIMITED_RIG}` : ""}${thick > 1 ? `; diameter: × ${thick}` : ""}`,
    },
    {
      code: "GRADEBM",
      quantity: foundation.gradeBeamFt,
      unit: "ft",
      cause: "none",
      trace: "foundation.gradeBeamFt",
    },
    {
      code: slabCode,
      quantity: foundation.slabFt2,
      unit: "ft2",
      cause: "none",
      trace: `foundation.slabFt2${slabCode === "SLAB-STRUCT" ? ", hillside or basement slab" : ""}`,
    },
    {
      code: "FOOTING",
      quantity: foundation.kind === "raised" && !basement ? footingFt(design) : 0,
      unit: "ft",
      cause: "none",
      trace: "around the house levels and one line through the middle of each",
    },
    {
      code: "RAISED",
      quantity: foundation.raisedFloorFt2,
      unit: "ft2",
      cause: "none",
      trace: "foundation.raisedFloorFt2",
    },
  ];
  if (!basement) return [...lines, ...innerWallLines(design)];
  const tall = basement.maxRetainedFt > TALL_BASEMENT_FT;
  const deepWells = basement.wells.filter((w) => w.depthFt > SHALLOW_WELL_FT).length;
  lines.push(
    {
      code: "BSMTWALL",
      quantity: basement.wallFaceFt2,
      unit: "face ft2",
      cause: "walls",
      factor: tall ? TALL_BASEMENT : 1,
      trace: `basement.wallFaceFt2, holding up to ${measure(basement.maxRetainedFt, "ft", 1)}${tall ? `: × ${TALL_BASEMENT}` : ""}`,
    },
    {
      code: "WPROOF",
      quantity: basement.waterproofFt2,
      unit: "face ft2",
      cause: "walls",
      trace: "basement.waterproofFt2",
    },
    {
      code: "SHORE",
      quantity: basement.shoringFt2,
      unit: "face ft2",
      cause: "walls",
      trace: "basement.shoringFt2: the open cut does not fit on the lot",
    },
    {
      code: "DRAIN-SLAB",
      quantity: basement.underSlabFt2,
      unit: "ft2",
      cause: "none",
      trace: "basement.underSlabFt2",
    },
    {
      code: "DRAIN-WALL",
      quantity: basement.buriedWallFt,
      unit: "ft",
      cause: "drains",
      trace: "basement.buriedWallFt: at the foot of the buried walls",
    },
    {
      code: "WELL-S",
      quantity: basement.wells.length - deepWells,
      unit: "each",
      cause: "none",
      trace: `light wells up to ${measure(SHALLOW_WELL_FT, "ft")} deep`,
    },
    {
      code: "WELL-D",
      quantity: deepWells,
      unit: "each",
      cause: "none",
      trace: `light wells over ${measure(SHALLOW_WELL_FT, "ft")} deep`,
    },
  );
  return lines;
}
