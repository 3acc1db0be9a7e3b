/** What a place promises by the relief under it alone: said of tens of thousands of places, to tell which deserve a look. Never shown. */
import type { Rules } from "../request/request.js";
import { toYd3 } from "../units.js";
import { type Rect, rectArea } from "./footprints.js";
import { STEEP_SLOPE } from "./ground-reading.js";
import { pierBrinkFt } from "./piers.js";
import { balance, type SitePrices } from "./site-cost.js";
import type { Relief } from "./turned-ground.js";
import { CATCH_TO_EDGE, wallClass } from "./wall-rule.js";

/** A limit that seems broken by a foot weighs this much: enough to look elsewhere first, not so much as to look nowhere near. Judgement. */
const SEEMS_BROKEN_USD_PER_FT = 10_000;

/**
 * Money to level a rectangle whose ground falls as `relief` says, in `decks` levels of equal depth down v whose mean lies
 * `overFt` below that of the ground: cut and fill of evenly spread heights, and sides that are sloped where the ground
 * lets a slope end, walled where not.
 */
export function levellingUsd(
  { spreadFt, riseU, riseV }: Relief,
  rect: Rect,
  decks: number,
  batter: number,
  p: SitePrices,
  overFt = 0,
): number {
  const widthFt = rect.u1 - rect.u0;
  const depthFt = rect.v1 - rect.v0;
  const overU = (riseU * widthFt) ** 2 / 12;
  const overV = (riseV * depthFt) ** 2 / 12;
  const leftOfV = overV / (decks * decks);
  const half = Math.sqrt(3 * Math.max(0, spreadFt * spreadFt - overV + leftOfV));
  const cutFt = Math.abs(overFt) < half ? (overFt + half) ** 2 / (4 * half) : Math.max(0, overFt);
  const { ownFillYd3, importYd3, exportLooseYd3 } = balance(
    toYd3(cutFt * rectArea(rect)),
    toYd3((cutFt - overFt) * rectArea(rect)),
    p,
  );
  return (
    toYd3(cutFt * rectArea(rect)) * p.cutYd3 +
    ownFillYd3 * p.fillYd3 +
    importYd3 * p.importYd3 +
    exportLooseYd3 * p.exportLooseYd3 +
    sidesUsd(Math.sqrt(3 * overU + leftOfV), overFt, Math.abs(riseU), depthFt, batter, p) +
    sidesUsd(Math.sqrt(3 * leftOfV + overU), overFt, Math.abs(riseV), widthFt, batter, p)
  );
}

/** The side above the level and the one below it. */
function sidesUsd(
  heightFt: number,
  overFt: number,
  slope: number,
  lengthFt: number,
  batter: number,
  p: SitePrices,
): number {
  return (
    sideUsd(Math.abs(heightFt + overFt), slope, lengthFt, batter, p) +
    sideUsd(Math.abs(heightFt - overFt), slope, lengthFt, batter, p)
  );
}

/** Sides of one height on ground that rises away from them as steeply. */
function sideUsd(heightFt: number, slope: number, lengthFt: number, batter: number, p: SitePrices): number {
  const closing = 1 - batter * slope;
  if (closing * CATCH_TO_EDGE > 1)
    return toYd3((lengthFt * batter * heightFt * heightFt) / (2 * closing)) * p.cutYd3;
  return lengthFt * heightFt * p.wallFaceFt2[wallClass(heightFt)]!;
}

/**
 * The same at the level that costs least of two: balanced, standing on piers where the fill asks for them, or low enough
 * to do without. `house.fallFt` is the fall of the ground under one level of the house, `house.overFt` how far its ground
 * lies on the mean above that of the whole.
 */
export function levelledHouseUsd(
  relief: Relief,
  rect: Rect,
  decks: number,
  batter: number,
  p: SitePrices,
  house: { readonly fallFt: number; readonly overFt: number; readonly piersUsd: number },
): number {
  const lowOverFt = house.fallFt / 2 - house.overFt - pierBrinkFt(0);
  const balancedUsd = levellingUsd(relief, rect, decks, batter, p);
  if (Math.hypot(relief.riseU, relief.riseV) > STEEP_SLOPE) return balancedUsd + house.piersUsd;
  if (lowOverFt <= 0) return balancedUsd;
  return Math.min(balancedUsd + house.piersUsd, levellingUsd(relief, rect, decks, batter, p, lowOverFt));
}

/** Money to level a rectangle at a given level: its ground lies on the mean `overFt` above it, below it where negative. */
export function liftedUsd(
  relief: Relief,
  overFt: number,
  rect: Rect,
  { cutBatter, maxSiteWallFt }: Pick<Rules, "cutBatter" | "maxSiteWallFt">,
  p: SitePrices,
): number {
  return (
    levellingUsd(relief, rect, 1, cutBatter, p, overFt) +
    seemsBrokenUsd(Math.abs(overFt) + relief.spreadFt - maxSiteWallFt)
  );
}

/** Weight of a limit that seems passed by so much; nothing for one that seems kept. */
export function seemsBrokenUsd(byFt: number): number {
  return Math.max(0, byFt) * SEEMS_BROKEN_USD_PER_FT;
}
