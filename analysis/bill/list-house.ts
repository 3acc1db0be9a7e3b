/** The house itself, and what goes with the whole of the works. */

import { signedAreaFt2 } from "../geometry/plane.js";
import type { Site } from "../lot/site.js";
import { measure } from "../measure.js";
import { GARAGE_DEPTH_FT, garageWidthFt, MORE_GARAGE_SHARE } from "../schemes/index.js";
import type { SchemeDesign } from "../schemes/scheme.js";
import type { QuantityLine } from "./bill.js";
import type { SchemeParts } from "./scheme-parts.js";

/** The size of house the book's rate is for. */
const REFERENCE_HOUSE_FT2 = 3200;
/** Kitchen, baths and services cost the same in a smaller house: 160,000 of 1,056,000 USD at good finish. From memory. */
const FIXED_SHARE = 160_000 / 1_056_000;
const PLAIN_FRAMING_SLOPE_PCT = 10;

/** House above the foundation, as ft² at the rate of the reference house. */
function houseRateFt2(aboveFt2: number): number {
  return FIXED_SHARE * REFERENCE_HOUSE_FT2 + (1 - FIXED_SHARE) * aboveFt2;
}

export interface HouseSizes {
  readonly floorAreaFt2: number;
  readonly basementFt2: number;
  readonly aboveFt2: number;
  readonly garageFt2: number;
  /** Ground that house and garage cover. */
  readonly roofFt2: number;
}

/** Floor area is the whole of the living floor, a basement level and what lies behind the cars of a deep bay included; the garage is beside it. */
export function houseSizes(design: SchemeDesign, garageCars: number): HouseSizes {
  const areaOf = (role: string) =>
    design.levels.filter((l) => l.role === role).reduce((sum, l) => sum + Math.abs(signedAreaFt2(l.ring)), 0);
  const basementFt2 = Math.min(areaOf("basement"), design.floorAreaFt2);
  const garageFt2 = design.garage === "none" ? 0 : GARAGE_DEPTH_FT * garageWidthFt(garageCars);
  const coveredFt2 = Math.abs(signedAreaFt2(design.footprint));
  return {
    floorAreaFt2: design.floorAreaFt2,
    basementFt2,
    aboveFt2: design.floorAreaFt2 - basementFt2,
    garageFt2,
    roofFt2: design.garage === "detached" ? coveredFt2 + garageFt2 : Math.max(coveredFt2, garageFt2),
  };
}

export function houseLines({ request }: Site, { design }: SchemeParts): QuantityLine[] {
  const { aboveFt2, basementFt2, garageFt2 } = houseSizes(design, request.brief.garageCars);
  return [
    ...livingLines(aboveFt2, basementFt2, garageFt2),
    {
      code: "GARAGE",
      quantity: design.garage === "detached" ? MORE_GARAGE_SHARE * garageFt2 : 0,
      unit: "ft2",
      cause: "none",
      trace: `a garage of its own: ${Math.round(100 * MORE_GARAGE_SHARE)} % more for the wall the house does not share`,
    },
    {
      code: "HILLFRAME",
      quantity: design.slopeUnderHousePct.mean > PLAIN_FRAMING_SLOPE_PCT ? 1 : 0,
      unit: "share of HOUSE",
      cause: "none",
      trace: `${Math.round(design.slopeUnderHousePct.mean)} % slope under the house`,
    },
  ];
}

export function livingLines(aboveFt2: number, basementFt2: number, garageFt2: number): QuantityLine[] {
  return [
    {
      code: "HOUSE",
      quantity: houseRateFt2(aboveFt2),
      unit: "ft2",
      cause: "none",
      trace: `${measure(aboveFt2, "ft²", 1)} above the foundation; ${Math.round(100 * FIXED_SHARE)} % of a ${measure(REFERENCE_HOUSE_FT2, "ft²")} house (kitchen, baths, services) stays whatever the size`,
    },
    {
      code: "GARAGE",
      quantity: garageFt2,
      unit: "ft2",
      cause: "none",
      trace: "room for the cars asked for, common practice",
    },
    {
      code: "BSMTFIN",
      quantity: basementFt2,
      unit: "ft2",
      cause: "none",
      trace: "area of the basement level; its walls, slab and the floor above it are lines of their own",
    },
  ];
}

/** Shares ("share of …") are worked out in every draw from what they are a share of. */
export const SHARE_LINES: readonly QuantityLine[] = [
  {
    code: "GENCOND",
    quantity: 1,
    unit: "share of works",
    cause: "none",
    trace: "site staff, hire, insurance",
  },
  {
    code: "FEE",
    quantity: 1,
    unit: "share of works",
    cause: "none",
    trace: "on works and general conditions",
  },
  { code: "ARCH", quantity: 1, unit: "share of works", cause: "none", trace: "on the works" },
];
