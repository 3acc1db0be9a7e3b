/**
 * Earth in its three states and the trucks that carry it. Bank: as it lies. Loose: in the truck. Compacted: rolled.
 * loose = bank × (1 + swell), compacted = bank × (1 − shrink). Method: docs/methods/earthwork.md
 */
import type { Haul, Soil } from "../request/request.js";
import { CUBIC_FEET_PER_CUBIC_YARD, POUNDS_PER_TON } from "../units.js";
import type { Earthwork } from "./earthwork.js";

/** Empty weight of the truck whose payload the request names, and of the small truck a weak street asks for: from memory, order of magnitude. */
const TARE_TONS = 11.5;
const SMALL_TRUCK = { tareTons: 5, payloadTons: 6, looseYd3: 5 } as const;
/** Height a stockpile may stand on a hillside: common practice, no source. */
export const STOCKPILE_HEIGHT_FT = 5;

type Factors = Pick<Soil, "swellPct" | "shrinkPct">;

export function looseFromBank(bank: number, { swellPct }: Factors): number {
  return bank * (1 + swellPct / 100);
}

export function compactedFromBank(bank: number, { shrinkPct }: Factors): number {
  return bank * (1 - shrinkPct / 100);
}

export function bankFromCompacted(compacted: number, { shrinkPct }: Factors): number {
  return compacted / (1 - shrinkPct / 100);
}

export interface EarthParts {
  /** Between ground and design surface. */
  readonly bankCutFt3: number;
  readonly compactedFillFt3: number;
}

/**
 * What leaves and what must be brought: export = (cut − fill ÷ (1 − shrink)) × (1 + swell), and the other way round
 * import, as loose volume. Topsoil changes neither: it is stripped, heaped and spread again on the finished ground,
 * so that as much subsoil is dug (or less filled) under it as was stripped.
 */
export function balanceEarth(
  { bankCutFt3, compactedFillFt3 }: EarthParts,
  soil: Factors,
  haul: Haul,
): Pick<Earthwork, "bankCutYd3" | "compactedFillYd3" | "looseExportYd3" | "looseImportYd3" | "truckloads"> {
  const needed = bankFromCompacted(compactedFillFt3, soil);
  const used = Math.min(needed, bankCutFt3);
  const looseExportYd3 = looseFromBank(bankCutFt3 - used, soil) / CUBIC_FEET_PER_CUBIC_YARD;
  const looseImportYd3 = looseFromBank(needed - used, soil) / CUBIC_FEET_PER_CUBIC_YARD;
  return {
    bankCutYd3: bankCutFt3 / CUBIC_FEET_PER_CUBIC_YARD,
    compactedFillYd3: compactedFillFt3 / CUBIC_FEET_PER_CUBIC_YARD,
    looseExportYd3,
    looseImportYd3,
    truckloads: truckloads(looseExportYd3, haul) + truckloads(looseImportYd3, haul),
  };
}

/** What one truck takes: the smaller of its bed and of what its payload weighs; a posted street weight cuts the payload. */
export function truckload(haul: Haul): {
  readonly looseYd3: number;
  readonly governs: "bed" | "weight" | "posted weight";
} {
  const { truckLooseYd3, truckPayloadTons, looseDensityLbPerYd3, postedWeightTons } = haul;
  const byWeight = (tons: number) => (tons * POUNDS_PER_TON) / looseDensityLbPerYd3;
  const free = byWeight(truckPayloadTons);
  const plain = Math.min(truckLooseYd3, free);
  if (postedWeightTons !== null) {
    const large = Math.min(plain, byWeight(Math.max(0, postedWeightTons - TARE_TONS)));
    const smallTons = Math.min(SMALL_TRUCK.payloadTons, Math.max(0, postedWeightTons - SMALL_TRUCK.tareTons));
    const posted = Math.max(large, Math.min(plain, SMALL_TRUCK.looseYd3, byWeight(smallTons)));
    // a street posted below any truck's own weight: a tonne a trip still tells the reader what that means
    if (posted < plain) return { looseYd3: Math.max(posted, byWeight(1)), governs: "posted weight" };
  }
  return { looseYd3: plain, governs: free < truckLooseYd3 ? "weight" : "bed" };
}

/** Loads for a loose volume, the last one counted whole. */
export function truckloads(looseYd3: number, haul: Haul): number {
  if (!(looseYd3 > 0)) return 0;
  return Math.ceil(looseYd3 / truckload(haul).looseYd3 - 1e-9);
}

/** Ground a heap takes that will be filled back: bank for the space, loose in the heap, at the height a heap may stand. */
export function stockpileFt2(compactedFt3: number, soil: Factors): number {
  return looseFromBank(bankFromCompacted(compactedFt3, soil), soil) / STOCKPILE_HEIGHT_FT;
}
