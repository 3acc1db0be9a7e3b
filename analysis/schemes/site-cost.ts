/** Likely money for the ground work of a trial: the figure a search makes small. */
import type { StudyRequest } from "../request/request.js";
import { SQUARE_FEET_PER_ACRE, toYd3 } from "../units.js";
import type { Moved } from "./moved.js";
import { LOADED_WALL_FACTOR, WALL_CLASSES_FT, WALL_CODES, wallClass } from "./wall-rule.js";

export type Prices = Readonly<Record<string, number>>;

/** A key at the toe of fill on steeper ground, and benches beneath it. Judgement, common practice. */
export const KEY_WIDTH_FT = 10;
export const KEY_DEPTH_FT = 3;
export const BENCH_DEPTH_FT = 2;
/** Loading and hauling is priced for a round trip up to this; each further half hour adds this share. From memory, order of magnitude. */
const HAUL_PRICED_MIN = 60;
const HAUL_SHARE_PER_HALF_HOUR = 0.35;

/** Unit prices, soil and haul made ready for one lot. */
export interface SitePrices {
  readonly cutYd3: number;
  readonly digYd3: number;
  readonly fillYd3: number;
  readonly importYd3: number;
  readonly backfillYd3: number;
  readonly exportLooseYd3: number;
  readonly keyYd3: number;
  readonly disturbedFt2: number;
  readonly wallFaceFt2: Float64Array;
  readonly shoreFt2: number;
  readonly basementWallFt2: number;
  readonly wallDrainFt: number;
  readonly tightlineFt: number;
  readonly driveFt2: number;
  readonly trenchFt: number;
  readonly pierFt: number;
  /** Compacted yd³ that one bank yd³ makes, and loose yd³ it fills in a truck. */
  readonly compactedPerBank: number;
  readonly loosePerBank: number;
}

/** @throws RangeError when the cost book lacks a code the schemes are priced with. */
export function sitePrices(prices: Prices, { soil, haul, rules }: StudyRequest): SitePrices {
  const price = (code: string): number => {
    const value = prices[code];
    if (!(value !== undefined && value >= 0)) throw new RangeError(`the cost book has no price for ${code}`);
    return value;
  };
  const longer = Math.max(0, (haul.roundTripMin - HAUL_PRICED_MIN) / 30) * HAUL_SHARE_PER_HALF_HOUR;
  return {
    cutYd3: price("EXCAV"),
    digYd3: price("EXCAV-BSMT"),
    fillYd3: price("FILL"),
    importYd3: price("IMPORT"),
    backfillYd3: price("BACKFILL"),
    exportLooseYd3: price("HAUL") * (1 + longer) + price("DUMP"),
    keyYd3: price("KEYBENCH"),
    disturbedFt2: (price("TOPSOIL") * rules.topsoilFt) / 27 + price("CLEAR") / SQUARE_FEET_PER_ACRE,
    wallFaceFt2: Float64Array.from(WALL_CODES, price),
    shoreFt2: price("SHORE"),
    basementWallFt2: price("BSMTWALL") + price("WPROOF"),
    wallDrainFt: price("DRAIN-WALL"),
    tightlineFt: price("TIGHTLINE"),
    driveFt2: price("DRIVE"),
    trenchFt: price("UTIL"),
    pierFt: price("PIER"),
    compactedPerBank: 1 - soil.shrinkPct / 100,
    loosePerBank: 1 + soil.swellPct / 100,
  };
}

export interface Balance {
  /** Compacted yd³ of fill made of soil from the site. */
  readonly ownFillYd3: number;
  readonly importYd3: number;
  readonly exportLooseYd3: number;
}

/** Site soil fills first; what is left leaves in trucks, what lacks comes in. Bank and compacted yd³ in. */
export function balance(bankCutYd3: number, compactedFillYd3: number, p: SitePrices): Balance {
  const ownFillYd3 = Math.min(compactedFillYd3, bankCutYd3 * p.compactedPerBank);
  return {
    ownFillYd3,
    importYd3: compactedFillYd3 - ownFillYd3,
    exportLooseYd3: (bankCutYd3 - ownFillYd3 / p.compactedPerBank) * p.loosePerBank,
  };
}

/** Cut, fill, import, haul, key and benches, clearing and topsoil. */
export function earthUsd(
  m: Pick<Moved, "cutFt3" | "fillFt3" | "keyFt" | "benchedFt2" | "disturbedFt2">,
  p: SitePrices,
): number {
  const cutYd3 = toYd3(m.cutFt3);
  const { ownFillYd3, importYd3, exportLooseYd3 } = balance(cutYd3, toYd3(m.fillFt3), p);
  return (
    cutYd3 * p.cutYd3 +
    ownFillYd3 * p.fillYd3 +
    importYd3 * p.importYd3 +
    exportLooseYd3 * p.exportLooseYd3 +
    toYd3(keyFt3(m)) * p.keyYd3 +
    m.disturbedFt2 * p.disturbedFt2
  );
}

/** Bank volume dug for the key and the benches under fill, ft³. */
export function keyFt3({ keyFt, benchedFt2 }: Pick<Moved, "keyFt" | "benchedFt2">): number {
  return keyFt * KEY_WIDTH_FT * KEY_DEPTH_FT + benchedFt2 * BENCH_DEPTH_FT;
}

/** Walls outside the house, by height class. */
export function siteWallUsd({ wallFaceFt2, loadedWallFaceFt2 }: Moved, p: SitePrices): number {
  let usd = 0;
  for (let i = 0; i <= WALL_CLASSES_FT.length; i++)
    usd += (wallFaceFt2[i]! + LOADED_WALL_FACTOR * loadedWallFaceFt2[i]!) * p.wallFaceFt2[i]!;
  return usd;
}

/** One wall of even height. */
export function siteWallFaceUsd(heightFt: number, lengthFt: number, p: SitePrices): number {
  return heightFt * lengthFt * p.wallFaceFt2[wallClass(heightFt)]!;
}
