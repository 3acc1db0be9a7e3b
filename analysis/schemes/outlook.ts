/** What a place promises by the relief under it alone: said of tens of thousands of places, to tell which deserve a look. Never shown. */
import type { Rules } from "../request/request.js";
import { toYd3 } from "../units.js";
import { type Rect, rectArea } from "./footprints.js";
import type { SitePrices } from "./site-cost.js";
import type { Relief } from "./turned-ground.js";
import { CATCH_TO_EDGE, wallClass } from "./wall-rule.js";

/** Mean depth of cut and of fill at the level that balances them, per foot of spread: 0.43 on an inclined plane, 0.40 on random ground. */
const DEPTH_PER_SPREAD = 0.43;
/** A limit that seems broken by a foot weighs this much: enough to look elsewhere first, not so much as to look nowhere near. Judgement. */
const SEEMS_BROKEN_USD_PER_FT = 10_000;

/**
 * Money to level a rectangle whose ground falls as `relief` says, in `decks` levels of equal depth down v: cut and fill
 * that balance, and sides that are sloped where the ground lets a slope end, walled where not.
 */
export function levellingUsd(
  { spreadFt, riseU, riseV }: Relief,
  rect: Rect,
  decks: number,
  batter: number,
  p: SitePrices,
): number {
  const widthFt = rect.u1 - rect.u0;
  const depthFt = rect.v1 - rect.v0;
  const overU = (riseU * widthFt) ** 2 / 12;
  const overV = (riseV * depthFt) ** 2 / 12;
  const leftOfV = overV / (decks * decks);
  const left = Math.sqrt(Math.max(0, spreadFt * spreadFt - overV + leftOfV));
  const cutYd3 = toYd3(DEPTH_PER_SPREAD * left * rectArea(rect));
  const shortYd3 = cutYd3 * (1 - p.compactedPerBank);
  return (
    cutYd3 * (p.cutYd3 + p.compactedPerBank * p.fillYd3) +
    shortYd3 * p.importYd3 +
    sideUsd(Math.sqrt(3 * overU + leftOfV), Math.abs(riseU), 2 * depthFt, batter, p) +
    sideUsd(Math.sqrt(3 * leftOfV + overU), Math.abs(riseV), 2 * widthFt, batter, p)
  );
}

/** Sides of one height on ground that rises away from them as steeply. */
function sideUsd(heightFt: number, slope: number, lengthFt: number, batter: number, p: SitePrices): number {
  const closing = 1 - batter * slope;
  if (closing * CATCH_TO_EDGE > 1)
    return toYd3((lengthFt * batter * heightFt * heightFt) / (2 * closing)) * p.cutYd3;
  return lengthFt * heightFt * p.wallFaceFt2[wallClass(heightFt)]!;
}

/** Money to level a rectangle at a given level: its ground lies on the mean `overFt` above it, below it where negative. */
export function liftedUsd(
  relief: Relief,
  overFt: number,
  rect: Rect,
  { cutBatter, maxSiteWallFt }: Pick<Rules, "cutBatter" | "maxSiteWallFt">,
  p: SitePrices,
): number {
  const yd3 = toYd3(Math.abs(overFt) * rectArea(rect));
  const earthUsd = yd3 * (overFt > 0 ? p.cutYd3 + p.loosePerBank * p.exportLooseYd3 : p.importYd3);
  const edgeFt = 2 * (rect.u1 - rect.u0 + rect.v1 - rect.v0);
  const heightFt = Math.abs(overFt) + relief.spreadFt;
  return (
    levellingUsd(relief, rect, 1, cutBatter, p) +
    earthUsd +
    (edgeFt / 2) * Math.abs(overFt) * p.wallFaceFt2[wallClass(heightFt)]! +
    seemsBrokenUsd(heightFt - maxSiteWallFt)
  );
}

/** Weight of a limit that seems passed by so much; nothing for one that seems kept. */
export function seemsBrokenUsd(byFt: number): number {
  return Math.max(0, byFt) * SEEMS_BROKEN_USD_PER_FT;
}
