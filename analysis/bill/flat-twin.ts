/** The same house on flat ground, billed by the same book. Method: docs/methods/cost.md */

import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import { CUBIC_FEET_PER_CUBIC_YARD, SQUARE_FEET_PER_ACRE } from "../units.js";
import type { QuantityLine } from "./bill.js";
import { detentionLine, SHORT_SERVICE_FT } from "./list-access-and-water.js";
import { houseSizes, livingLines, SHARE_LINES } from "./list-house.js";
import { FLAT_SHARE } from "./list-paperwork.js";

/** Judgements about an ordinary flat lot; common practice, no source. */
export const FLAT_LOT = {
  /** Street to garage and street to meters. */
  driveFt: 40,
  serviceFt: SHORT_SERVICE_FT,
  /** Soil taken off under the slab. */
  strippedFt: 1,
  clearedBeyondFt: 10,
  leastClearedAcres: 0.25,
  topsoilBeyondFt: 5,
  drainFt: 60,
  basementWallFt: 9,
  basementDigFt: 9,
  workingSpaceFt: 3,
} as const;

/**
 * Quantities of the twin: same floor area, garage, drive width, sewer or septic, permits; slab, no walls.
 * With a basement: the scheme's basement area as a full one, pumped, with a light well for each bedroom in it.
 */
export function flatTwinQuantities(
  { request }: Site,
  design: SchemeDesign,
  withBasement: boolean,
): readonly QuantityLine[] {
  const { aboveFt2, basementFt2, garageFt2, floorAreaFt2, roofFt2 } = houseSizes(
    design,
    request.brief.garageCars,
  );
  const belowFt2 = withBasement ? basementFt2 : 0;
  const livingAboveFt2 = withBasement ? aboveFt2 : floorAreaFt2;
  const slabFt2 = roofFt2;
  const driveFt2 = FLAT_LOT.driveFt * request.rules.driveway.widthFt;
  const around = (beyondFt: number) => (Math.sqrt(slabFt2) + 2 * beyondFt) ** 2;
  const strippedYd3 = (slabFt2 * FLAT_LOT.strippedFt) / CUBIC_FEET_PER_CUBIC_YARD;
  const swell = 1 + request.soil.swellPct / 100;
  const line = (code: string, quantity: number, unit: string, trace: string, factor = 1): QuantityLine => ({
    code,
    quantity,
    unit,
    cause: "none",
    factor,
    trace: `flat lot: ${trace}`,
  });
  const septic = request.utilities.septic || request.brief.septic || request.utilities.sewer === "no";
  return [
    line("MOBIL", 1, "ls", "once"),
    line(
      "CLEAR",
      Math.max(FLAT_LOT.leastClearedAcres, around(FLAT_LOT.clearedBeyondFt) / SQUARE_FEET_PER_ACRE),
      "acre",
      `house and ${measure(10, "ft")} around`,
    ),
    line(
      "TOPSOIL",
      (around(FLAT_LOT.topsoilBeyondFt) * request.rules.topsoilFt) / CUBIC_FEET_PER_CUBIC_YARD,
      "bank yd3",
      `house and ${measure(5, "ft")} around`,
    ),
    line("EXCAV", strippedYd3, "bank yd3", `${measure(1, "ft")} under the slab`),
    line("HAUL", strippedYd3 * swell, "loose yd3", "what is dug under the slab"),
    line("DUMP", strippedYd3 * swell, "loose yd3", "what is dug under the slab"),
    line("EROSION", 1, "season", "plain", FLAT_SHARE.EROSION),
    line("SLAB", slabFt2 - belowFt2, "ft2", "under the house and garage"),
    line("TIGHTLINE", FLAT_LOT.drainFt, "ft", "roof water to the street"),
    line("BASIN", 2, "each", "at the house"),
    line("OUTLET", 1, "each", "at the street"),
    detentionLine(roofFt2, slabFt2 + driveFt2),
    line("DRIVE", driveFt2, "ft2", `${measure(FLAT_LOT.driveFt, "ft")} of driveway`),
    line("UTIL", FLAT_LOT.serviceFt, "ft", "street to house"),
    line("SEPTIC", septic ? 1 : 0, "each", "no sewer here either"),
    ...(withBasement ? basementLines(belowFt2, request.brief.basementBedrooms, swell, line) : []),
    ...livingLines(livingAboveFt2, belowFt2, garageFt2),
    line("STAKE", 1, "ls", "plain", FLAT_SHARE.STAKE),
    line("SOILRPT", 1, "ls", "mild", FLAT_SHARE.SOILRPT),
    line("CIVIL", 1, "ls", "plain", FLAT_SHARE.CIVIL),
    line("STRUCT", 1, "ls", "plain", FLAT_SHARE.STRUCT),
    line("OBSERVE", 1, "ls", "plain", FLAT_SHARE.OBSERVE),
    line("PERMIT", 1, "ls", "the same"),
    ...SHARE_LINES,
  ].filter((l) => l.quantity > 0);
}

function basementLines(
  areaFt2: number,
  bedrooms: number,
  swell: number,
  line: (code: string, quantity: number, unit: string, trace: string) => QuantityLine,
): QuantityLine[] {
  const { basementWallFt, basementDigFt, workingSpaceFt } = FLAT_LOT;
  const sideFt = Math.sqrt(areaFt2);
  const wallFt2 = 4 * sideFt * basementWallFt;
  // the hole with vertical sides at the working space; the sides' slope is left out on flat ground
  const digYd3 = ((sideFt + 2 * workingSpaceFt) ** 2 * basementDigFt) / CUBIC_FEET_PER_CUBIC_YARD;
  const buildingYd3 = (areaFt2 * basementDigFt) / CUBIC_FEET_PER_CUBIC_YARD;
  return [
    line("EXCAV-BSMT", digYd3, "bank yd3", "full basement with working space"),
    line("HAUL", buildingYd3 * swell, "loose yd3", "room of the basement"),
    line("DUMP", buildingYd3 * swell, "loose yd3", "room of the basement"),
    line("BACKFILL", digYd3 - buildingYd3, "compacted yd3", "working space around the basement"),
    line("BSMTWALL", wallFt2, "face ft2", "full basement taken as a square"),
    line("WPROOF", wallFt2, "face ft2", "full basement"),
    line("DRAIN-WALL", 4 * sideFt, "ft", "around the basement"),
    line("DRAIN-SLAB", areaFt2, "ft2", "under the basement"),
    line("SLAB", areaFt2, "ft2", "basement floor"),
    line("RAISED", areaFt2, "ft2", "floor over the basement"),
    line("SUMP", 1, "each", "no way out by gravity on flat ground"),
    line("WELL-D", bedrooms, "each", "one for each bedroom in the basement"),
  ];
}
